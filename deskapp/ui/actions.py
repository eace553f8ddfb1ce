"""The menus and their keys."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction, QActionGroup, QKeySequence
from PySide6.QtWidgets import QMenu

from deskapp.i18n import _
from deskapp.session.report_kinds import ISSUE_WORDS, KIND_PURPOSES, SAVE_WORDS, ReportKind
from deskapp.ui.theme import Appearance

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QMainWindow

_Keys = QKeySequence.StandardKey
_REPORT_KEYS = {
    ReportKind.HOMEOWNER: "Ctrl+Shift+H",
    ReportKind.COMPLIANCE: "Ctrl+Shift+C",
    ReportKind.TECHNICAL: "Ctrl+Shift+T",
    ReportKind.RETEST: "Ctrl+Shift+R",
}


class Actions:
    """All commands of the window, in its menus; the window says what each one does."""

    def __init__(self, window: QMainWindow, menus: list[QMenu]) -> None:
        """Fill `menus`, one for each of the titles."""
        self._window = window
        self._all: list[QAction] = []
        self.menus = menus
        file_menu, edit_menu, limit_menu, report_menu, view_menu, company_menu, help_menu = menus
        self.new = self._add(file_menu, _("&New job"), _Keys.New)
        self.open = self._add(file_menu, _("&Open…"), _Keys.Open)
        self.jobs = self._add(file_menu, _("&Jobs…"), "Ctrl+J")
        self.recent_menu = file_menu.addMenu(_("Open &recent"))
        self.sample_menu = file_menu.addMenu(_("Open a sa&mple"))
        file_menu.addSeparator()
        self.save = self._add(file_menu, _("&Save"), _Keys.Save)
        self.save_as = self._add(file_menu, _("Save &as…"), "Ctrl+Shift+S")
        file_menu.addSeparator()
        self.quit = self._add(file_menu, _("&Quit"), "Ctrl+Q")
        self.quit.setMenuRole(QAction.MenuRole.QuitRole)
        self.undo = self._add(edit_menu, _("&Undo"), _Keys.Undo)
        self.redo = self._add(edit_menu, _("&Redo"), "Ctrl+Shift+Z")
        self.redo.setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        edit_menu.addSeparator()
        self.preferences = self._add(edit_menu, _("&Preferences…"), "Ctrl+,")
        self.preferences.setMenuRole(QAction.MenuRole.PreferencesRole)
        self.choose_limit = self._add(limit_menu, _("&Choose a limit…"), "Ctrl+L")
        self.own_limits = self._add(limit_menu, _("Limits of your &own…"), "")
        limit_menu.addSeparator()
        self.sampling = self._add(limit_menu, _("&Units to sample…"), "")
        self._add_reports(report_menu)
        self._add_views(view_menu)
        self.instruments = self._add(company_menu, _("Your &instruments…"), "")
        self.branding = self._add(company_menu, _("&Name, logo and color of the reports…"), "")
        self.signing_key = self._add(company_menu, _("Your si&gning key…"), "")
        self.usual = self._add(company_menu, _("What new jobs &start with…"), "")
        self.keep_usual = self._add(company_menu, _("Start new jobs like &this one"), "")
        self._add_help(help_menu)
        self.allow_job(False)

    def _add_help(self, help_menu: QMenu) -> None:
        self.help = self._add(help_menu, _("&Help on this"), _Keys.HelpContents)
        self.topics = self._add(help_menu, _("All &topics…"), "Shift+F1")
        self.tour = self._add(help_menu, _("&Show me around"), "")
        help_menu.addSeparator()
        help_menu.addAction(self.check_report)
        self.about = self._add(help_menu, _("&About Ductfolio"), "")
        self.about.setMenuRole(QAction.MenuRole.AboutRole)

    def _add_reports(self, report_menu: QMenu) -> None:
        self.reports = {
            kind: self._add(report_menu, _(SAVE_WORDS[kind]), _REPORT_KEYS[kind])
            for kind in ReportKind
        }
        self.issue_menu = report_menu.addMenu(_("&Issue"))
        self.issues = {
            kind: self._add(self.issue_menu, _(ISSUE_WORDS[kind]), "") for kind in ReportKind
        }
        self.save_all = self._add(report_menu, _("Save &all into a folder…"), "Ctrl+Shift+A")
        report_menu.addSeparator()
        self.print = self._add(report_menu, _("&Print…"), _Keys.Print)
        self.mail = self._add(report_menu, _("Papers by &mail…"), "")
        report_menu.addSeparator()
        self.check_report = self._add(report_menu, _("Chec&k a report…"), "")

    def _add_views(self, view_menu: QMenu) -> None:
        self.units, self._unit_group = self._choice(
            view_menu.addMenu(_("&Units")),
            {"ip": _("&Inch-pound (ft², cfm)"), "si": _("&Metric (m², L/s)")},
        )
        self.appearance, self._appearance_group = self._choice(
            view_menu.addMenu(_("&Appearance")),
            {
                Appearance.SYSTEM: _("Same as the &system"),
                Appearance.LIGHT: _("&Light"),
                Appearance.DARK: _("&Dark"),
            },
        )
        view_menu.addSeparator()
        self.preview = self._add(view_menu, _("&Preview beside the page"), "Ctrl+Shift+P")
        self.preview.setCheckable(True)
        self.find_in_preview = self._add(
            view_menu, _("&Find this field in the preview"), "Ctrl+Shift+F"
        )
        self.page_menu = view_menu.addMenu(_("&Go to"))
        self.next_part = self._add(view_menu, _("&Next part of the window"), "F6")
        self.part_before = self._add(view_menu, _("Part &before"), "Shift+F6")

    def drop(self) -> None:
        """Take all commands out of the window, as before they are made anew."""
        for action in self._all:
            action.setShortcuts([])
            action.deleteLater()
        for group in (self._unit_group, self._appearance_group):
            group.deleteLater()

    def allow_job(self, is_open: bool) -> None:
        """Enable what only makes sense with an open job."""
        ours = (self.save, self.save_as, self.choose_limit, self.keep_usual)
        papers = (self.save_all, self.print, self.mail, self.find_in_preview)
        ways = (self.next_part, self.part_before)
        usual = {action: _(KIND_PURPOSES[kind]) for kind, action in self.reports.items()}
        for action in (*ours, *ways, *papers, *self.reports.values(), *self.issues.values()):
            self._allow(action, is_open, _("Open a job first."), usual.get(action, ""))
        for menu in (self.page_menu, self.issue_menu):
            self._allow(menu.menuAction(), is_open, _("Open a job first."))
        if not is_open:
            self.show_history("", "")

    def show_history(self, undo_words: str, redo_words: str) -> None:
        """Say what undo and redo would do; empty words: nothing."""
        self.undo.setText(undo_words or _("&Undo"))
        self.redo.setText(redo_words or _("&Redo"))
        self._allow(self.undo, bool(undo_words), _("There is nothing to undo."))
        self._allow(self.redo, bool(redo_words), _("There is nothing to redo."))

    @staticmethod
    def _allow(action: QAction, on: bool, why: str, usual: str = "") -> None:
        """Let a command be given, or say in the tip and at the foot why it cannot be."""
        action.setEnabled(on)
        action.setToolTip(usual if on else why)
        action.setStatusTip(usual if on else why)

    def add_page(self, title: str, number: int, then: Callable[[], None]) -> None:
        """Add a page to the menu of pages."""
        action = self._add(self.page_menu, title, f"Ctrl+{number}")
        action.triggered.connect(then)

    def _add(self, menu: QMenu, text: str, keys: QKeySequence.StandardKey | str) -> QAction:
        action = QAction(text, self._window)
        if keys:
            action.setShortcut(QKeySequence(keys))
        menu.addAction(action)
        self._all.append(action)
        menu.setToolTipsVisible(True)
        return action

    def _choice(
        self, menu: QMenu, texts: dict[str, str]
    ) -> tuple[dict[str, QAction], QActionGroup]:
        group = QActionGroup(self._window)
        actions: dict[str, QAction] = {}
        for value, text in texts.items():
            action = QAction(text, self._window)
            action.setCheckable(True)
            action.setData(str(value))
            group.addAction(action)
            menu.addAction(action)
            actions[str(value)] = action
            self._all.append(action)
        return actions, group
