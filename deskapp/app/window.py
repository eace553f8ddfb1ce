"""Opens the window: first its frame, then everything that takes longer to load."""

from __future__ import annotations

import sys
from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QLocale, QObject, QSettings, QThreadPool, QTimer
from PySide6.QtWidgets import QApplication

from deskapp.i18n import ENGLISH, N_, _, language, use_language
from deskapp.session.first_look import first_look, language_wanted
from deskapp.ui.main_window import MainWindow, system_language
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from pathlib import Path

    from PySide6.QtCore import QTranslator
    from PySide6.QtGui import QIcon

    from deskapp.ui.crash import Rescue
    from deskapp.ui.desk import Desk


def run_window(file: Path | None = None) -> int:
    """Open the window, with the job in `file` if one is named; return the exit code."""
    app = QApplication.instance()
    if not isinstance(app, QApplication):
        app = QApplication(sys.argv[:1])
    opening = Opening(app)
    if file is not None:
        opening.window.open_file(file)
    opening.window.show()
    code = app.exec()
    # What the end of the program takes apart must not be in use by another thread any more.
    QThreadPool.globalInstance().waitForDone()
    return code


def data_folder() -> Path:
    """Return the folder for the program's own data, such as recovery copies."""
    from platformdirs import user_data_path

    return user_data_path("Ductfolio", appauthor=False)


class Opening(QObject):
    """Builds the frame; loads the rest in another thread after the first paint.

    Only what the first paint needs is imported before it.
    """

    def __init__(self, app: QApplication, folder: Path | None = None) -> None:
        """Open the frame; `folder` keeps preferences, by default the usual one."""
        super().__init__(app)
        self._folder = folder
        app.setApplicationName("Ductfolio")
        app.setApplicationDisplayName("Ductfolio")
        app.setDesktopFileName("ductfolio")
        use_language(language_wanted(self._place(), system_language()))
        _see_to_a_font()
        memory = _memory(folder)
        self.theme = Theme(app, _appearance(memory))
        self.window = MainWindow(self.theme, memory)
        self.window.painted.connect(self._load_soon)

    def _place(self) -> Path:
        from deskapp.app.cli_start import settings_folder

        return self._folder or settings_folder()

    def _load_soon(self) -> None:
        QTimer.singleShot(0, self, self._load)

    def _load(self) -> None:
        from deskapp.app.immortal import keep_alive
        from deskapp.app.whole_errors import keep_errors_whole
        from deskapp.ui.crash import CrashGuard
        from deskapp.ui.log_book import LogBook
        from deskapp.ui.quiet_style import QuietStyle
        from deskapp.ui.sweeper import Sweeper
        from deskapp.ui.tasks import Dispatcher

        keep_alive()
        keep_errors_whole()
        self._sweeper = Sweeper(self)
        self._log = LogBook()
        self._log.install()
        CrashGuard(self.window, self._rescue, self._report_on).install()
        self.theme.refine(QuietStyle())
        self.window.start.add_pictures()
        self.window.commands.allow_job(False)
        folder = self._place()
        self._words_of_qt: QTranslator | None = None
        self._add_words_of_qt()
        self.window.language_changed.connect(self._add_words_of_qt)
        self.window.start.show_recent(first_look(folder).recent)
        self.window.setWindowIcon(_icon())
        self._dispatcher = Dispatcher(N_("Getting the program ready"), self)
        self._dispatcher.done.connect(self._furnish)
        self._dispatcher.broken.connect(self._tell)
        data = self._folder or data_folder()
        self._dispatcher.start(lambda: load_desk(folder, data))

    def _add_words_of_qt(self) -> None:
        """Let the dialogs that Qt draws itself speak our language, where Qt comes with it."""
        from PySide6.QtCore import QCoreApplication, QLibraryInfo, QTranslator

        if self._words_of_qt is not None:
            QCoreApplication.removeTranslator(self._words_of_qt)
            self._words_of_qt = None
        words = QTranslator(self)
        folder = QLibraryInfo.path(QLibraryInfo.LibraryPath.TranslationsPath)
        if language() != ENGLISH and words.load(f"qtbase_{language()}", folder):
            QCoreApplication.installTranslator(words)
            self._words_of_qt = words

    def _furnish(self, desk: Desk) -> None:
        from deskapp.ui.furnish import Furniture
        from deskapp.ui.tasks import run_beside

        self._sweeper.keep_loaded()
        self.window.get_ready(Furniture(self.window, desk))
        run_beside(partial(load_rest, desk), self, _over)

    def _rescue(self) -> Rescue:
        from deskapp.ui.crash import Rescue

        furniture = self.window.furniture
        if furniture is None:
            return Rescue.NOT_NEEDED
        try:
            furniture.settle()
        finally:  # what is being typed may be what went wrong
            kept = furniture.keep_copy()
        if not furniture.has_unsaved:
            return Rescue.NOT_NEEDED
        return Rescue.COPIED if kept else Rescue.NOT_COPIED

    def _report_on(self, trace: str) -> str:
        from deskapp.session.problem_report import problem_report

        furniture = self.window.furniture
        if furniture is None:
            return problem_report(trace, self._log.lines, None)
        return furniture.report_on(trace, self._log.lines)

    def _tell(self, error: Exception) -> None:
        from deskapp.ui.dialogs.boxes import tell

        tell(self.window, _("The program could not be loaded"), str(error))


def _over(_outcome: object, _problem: object) -> None:
    """Let what was loaded ahead stand; a problem shows where it is needed."""


def load_rest(desk: Desk) -> None:
    """Load what no page needs: what makes the reports, and all that can be opened."""
    from deskapp.session.warming import load_reports
    from deskapp.ui.load_ahead import load_ahead

    load_reports(desk.shelf, desk.preferences)
    load_ahead()


def load_desk(folder: Path, data: Path) -> Desk:
    """Load preferences and everything the program brings along, and get the arithmetic ready.

    What was not saved when the program last ended is looked for below `data`.
    """
    from deskapp.domain.data_files import resources_folder, templates_folder
    from deskapp.session import habits, settings
    from deskapp.session.recovery import find_offers
    from deskapp.session.resources import load_shelf
    from deskapp.session.warming import warm_up
    from deskapp.ui import page_maker
    from deskapp.ui.desk import Desk

    place = habits.system_locale_name() or QLocale.system().name()
    preferences, remarks = settings.load(folder, habits.guess(place))
    shelf = load_shelf(resources_folder(), templates_folder(), folder / "limits")
    page_maker.load()
    warm_up()
    desk = Desk(shelf, preferences, folder, (*remarks, *shelf.problems), data)
    desk.offers, not_offered = find_offers(desk.recovery_folder)
    desk.remarks += not_offered
    return desk


def _memory(folder: Path | None) -> QSettings:
    """Return what remembers the place of the window and its appearance."""
    if folder is not None:
        return QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    return QSettings(QSettings.Format.IniFormat, QSettings.Scope.UserScope, "Ductfolio", "window")


def _appearance(memory: QSettings) -> Appearance:
    try:
        return Appearance(str(memory.value("appearance", Appearance.SYSTEM.value)))
    except ValueError:
        return Appearance.SYSTEM


def _see_to_a_font() -> None:
    """Load the program's own font where the system has none at all."""
    from PySide6.QtGui import QFontDatabase

    if QFontDatabase.families():
        return
    from deskapp.domain.data_files import resources_folder

    for path in sorted((resources_folder() / "fonts").glob("*.ttf")):
        QFontDatabase.addApplicationFont(str(path))


def _icon() -> QIcon:
    from PySide6.QtGui import QIcon

    from deskapp.domain.data_files import resources_folder

    return QIcon(str(resources_folder() / "icons" / "ductfolio.svg"))
