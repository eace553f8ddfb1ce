"""The window: painted with its start page at once, furnished when everything is loaded."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QLocale, QSize, Signal
from PySide6.QtWidgets import QMainWindow, QMenu, QStackedWidget, QVBoxLayout, QWidget

from deskapp.i18n import N_, _
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.start_page import StartPage
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence
    from pathlib import Path

    from PySide6.QtCore import QSettings
    from PySide6.QtGui import QAction, QCloseEvent, QDragEnterEvent, QDropEvent, QPaintEvent

    from deskapp.session.first_look import RecentFile
    from deskapp.ui.actions import Actions
    from deskapp.ui.furnishing import Furnishing
    from deskapp.ui.workbench import Workbench

MENU_TITLES = (
    N_("&File"),
    N_("&Edit"),
    N_("&Limits"),
    N_("&Report"),
    N_("&View"),
    N_("&Company"),
    N_("&Help"),
)


class MainWindow(QMainWindow):
    """The frame: menus, and either the start page or the open job.

    Signals: `painted` once, after the first paint; `language_changed` before everything is shown in
    another language.
    """

    painted = Signal()
    language_changed = Signal()

    def __init__(self, theme: Theme, memory: QSettings) -> None:
        super().__init__()
        self._theme = theme
        self._memory = memory
        self._was_painted = False
        self._may_close = False
        self._waiting: list[Callable[[], None]] = []
        self.furniture: Furnishing | None = None
        self.setWindowTitle("Ductfolio")
        self.setMinimumSize(QSize(640, 440))
        give_room(self, 1280, 800)
        self.setAcceptDrops(True)
        self.stack = QStackedWidget()
        self.start = StartPage()
        self.stack.addWidget(self.start)
        inside = QWidget()
        self._bars: list[QWidget] = []
        self._inside = QVBoxLayout(inside)
        self._inside.setContentsMargins(0, 0, 0, 0)
        self._inside.setSpacing(0)
        self._inside.addWidget(self.stack, 1)
        self.setCentralWidget(inside)
        self._menus = self._new_menus()
        self._actions: Actions | None = None
        self._connect_start()
        geometry = memory.value("geometry")
        if geometry is not None:
            self.restoreGeometry(geometry)

    @property
    def theme(self) -> Theme:
        """The colors in use."""
        return self._theme

    @property
    def memory(self) -> QSettings:
        """What remembers how the window was left."""
        return self._memory

    @property
    def commands(self) -> Actions:
        """The commands of the menus, which are filled when first asked for."""
        if self._actions is None:
            from deskapp.ui.actions import Actions

            self._actions = Actions(self, self._menus)
            self._connect(self._actions)
        return self._actions

    def _new_menus(self) -> list[QMenu]:
        return [self.menuBar().addMenu(_(title)) for title in MENU_TITLES]

    def retell(self, recent: Sequence[RecentFile], remark: str) -> None:
        """Make menus and start page anew, in the language in use now; bars on top go."""
        self.language_changed.emit()
        if self._actions is not None:
            self._actions.drop()
            self._actions = None
        self.menuBar().clear()
        for menu in self._menus:
            menu.deleteLater()
        self._menus = self._new_menus()
        while self._bars:
            bar = self._bars.pop()
            self._inside.removeWidget(bar)
            bar.hide()
            bar.deleteLater()
        before, self.start = self.start, StartPage()
        self.start.add_pictures()
        self.start.show_recent(recent)
        self.start.remark(remark)
        self._connect_start()
        self.stack.insertWidget(0, self.start)
        if self.stack.currentWidget() is before:
            self.stack.setCurrentWidget(self.start)
        self.stack.removeWidget(before)
        before.hide()
        before.deleteLater()
        self.commands.allow_job(False)

    # Before and after loading

    def when_ready(self, then: Callable[[Furnishing], None]) -> None:
        """Do something as soon as everything is loaded."""
        if self.furniture is not None:
            then(self.furniture)
            return
        self.start.remark(_("Getting ready…"))

        def later() -> None:
            if self.furniture is not None:
                then(self.furniture)

        self._waiting.append(later)

    def get_ready(self, furniture: Furnishing) -> None:
        """Take over what was loaded, and do what was asked for meanwhile."""
        self.furniture = furniture
        self.start.remark(furniture.opening_words)
        waiting, self._waiting = self._waiting, []
        for action in waiting:
            action()
        furniture.offer_recovery()

    def put_on_top(self, bar: QWidget) -> None:
        """Put something across the window, above start page and job."""
        self._inside.insertWidget(self._inside.count() - 1, bar)
        self._bars.append(bar)

    def open_file(self, path: Path) -> None:
        """Open a job file."""
        self.when_ready(lambda furniture: furniture.open(path))
        if self.furniture is None:
            self.start.remark(_("Opening {file}…").format(file=path.name))

    # Events of the window

    def paintEvent(self, event: QPaintEvent) -> None:
        """Paint; say so the first time."""
        super().paintEvent(event)
        if not self._was_painted:
            self._was_painted = True
            self.painted.emit()

    def closeEvent(self, event: QCloseEvent) -> None:
        """Ask once about unsaved changes; then go."""
        event.ignore()  # an error on the way must not close the window
        if self.furniture is not None:
            self.furniture.settle()
        if self._may_close or self.furniture is None or not self.furniture.has_unsaved:
            event.accept()
            self._memory.setValue("geometry", self.saveGeometry())
            if self.furniture is not None:
                self.furniture.close_down()
            return
        self.furniture.leave(self._close_for_good)

    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        """Welcome a job file."""
        if _job_file_in(event) is not None:
            event.acceptProposedAction()

    def dropEvent(self, event: QDropEvent) -> None:
        """Open the job file dropped."""
        path = _job_file_in(event)
        if path is not None:
            self.open_file(path)

    def event(self, event: QEvent) -> bool:
        """Tell no widget that a dialog came up or went.

        Qt tells all of them, one by one, also on pages out of sight: thousands, of which none acts
        upon it, since Qt itself keeps keys and clicks away from a window behind a dialog.
        """
        if event.type() in (QEvent.Type.WindowBlocked, QEvent.Type.WindowUnblocked):
            return True
        return super().event(event)

    def changeEvent(self, event: QEvent) -> None:
        """Take typed text over when the window is left, so that nothing waits unsaved."""
        super().changeEvent(event)
        if self.furniture is not None and event.type() == QEvent.Type.ActivationChange:
            self.furniture.settle()

    # Commands

    def _connect_start(self) -> None:
        self.start.new_wanted.connect(lambda: self.when_ready(lambda f: f.new()))
        self.start.open_wanted.connect(lambda: self.when_ready(lambda f: f.ask_what_to_open()))
        self.start.sample_wanted.connect(lambda: self.when_ready(lambda f: f.open_sample()))
        self.start.jobs_wanted.connect(lambda: self.when_ready(lambda f: f.show_jobs()))
        self.start.file_wanted.connect(self._open_recent)

    def _connect(self, actions: Actions) -> None:
        self._when(actions.new, lambda f: f.new())
        self._when(actions.open, lambda f: f.ask_what_to_open())
        self._when(actions.jobs, lambda f: f.show_jobs())
        self._when(actions.save, lambda f: f.save())
        self._when(actions.save_as, lambda f: f.save_as())
        self._in_job(actions.undo, lambda bench: bench.undo())
        self._in_job(actions.redo, lambda bench: bench.redo())
        self._when(actions.preferences, lambda f: f.show_preferences())
        self._in_job(actions.choose_limit, lambda bench: bench.choose_limit())
        self._when(actions.own_limits, lambda f: f.edit_limits())
        self._when(actions.sampling, lambda f: f.sample_units())
        for kind, action in actions.reports.items():
            self._in_job(action, lambda bench, kind=kind: bench.save_report(kind.value))
        for kind, action in actions.issues.items():
            self._in_job(action, lambda bench, kind=kind: bench.issue_report(kind.value))
        self._in_job(actions.save_all, lambda bench: bench.save_all_reports())
        self._in_job(actions.print, lambda bench: bench.print_report())
        self._in_job(actions.mail, lambda bench: bench.mail_reports())
        actions.preview.setChecked(self._memory.value("preview") in (True, "true"))
        actions.preview.toggled.connect(self._show_preview)
        self._in_job(actions.next_part, lambda bench: bench.go_to_part(1))
        self._in_job(actions.part_before, lambda bench: bench.go_to_part(-1))
        self._in_job(actions.find_in_preview, lambda bench: bench.find_in_preview())
        self._when(actions.check_report, lambda f: f.check_report())
        self._when(actions.instruments, lambda f: f.show_instruments())
        self._when(actions.branding, lambda f: f.edit_branding())
        self._when(actions.signing_key, lambda f: f.edit_signing_key())
        self._when(actions.usual, lambda f: f.edit_usual())
        self._when(actions.keep_usual, lambda f: f.keep_as_usual())
        self._when(actions.help, lambda f: f.help())
        self._when(actions.topics, lambda f: f.list_topics())
        self._when(actions.tour, lambda f: f.show_around())
        self._when(actions.about, lambda f: f.about())
        actions.quit.triggered.connect(self.close)
        for value, action in actions.units.items():
            self._when(action, lambda f, value=value: f.show_units(value))
        for value, action in actions.appearance.items():
            action.setChecked(value == self._theme.appearance)
            action.triggered.connect(partial(self.choose_appearance, Appearance(value)))

    def _when(self, action: QAction, then: Callable[[Furnishing], None]) -> None:
        """Do `then` on `action`, as soon as everything is loaded."""
        action.triggered.connect(lambda: self.when_ready(then))

    def _in_job(self, action: QAction, then: Callable[[Workbench], object]) -> None:
        """Do `then` on `action` with what shows the open job, if there is one."""

        def act(furniture: Furnishing) -> None:
            if furniture.bench is not None:
                then(furniture.bench)

        self._when(action, act)

    def choose_appearance(self, appearance: Appearance) -> None:
        """Use other colors from now on."""
        self._theme.choose(appearance)
        self.commands.appearance[appearance.value].setChecked(True)
        self._memory.setValue("appearance", appearance.value)

    def _show_preview(self, on: bool) -> None:
        self._memory.setValue("preview", on)
        self.when_ready(lambda furniture: furniture.show_preview(on))

    def _open_recent(self, name: str) -> None:
        from pathlib import Path

        self.open_file(Path(name))

    def forget_changes(self) -> None:
        """Close without another question from now on."""
        self._may_close = True

    def _close_for_good(self) -> None:
        self.forget_changes()
        self.close()


def system_language() -> str:
    """Return the language of the system, such as ``es-MX``."""
    return "".join(QLocale.system().uiLanguages()[:1])


def _job_file_in(event: QDropEvent) -> Path | None:
    from pathlib import Path

    from deskapp.session.opening import EXTENSION

    for url in event.mimeData().urls():
        path = Path(url.toLocalFile())
        if url.isLocalFile() and path.suffix.lower() == EXTENSION:
            return path
    return None
