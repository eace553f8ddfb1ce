"""The menus of files: jobs used last, and samples; filled when they open."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QAction

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from PySide6.QtWidgets import QMenu

    from deskapp.ui.actions import Actions
    from deskapp.ui.desk import Desk


class FileMenus:
    """Fills both menus, and opens what is picked in them."""

    def __init__(
        self,
        actions: Actions,
        desk: Desk,
        open_file: Callable[[Path], None],
        open_sample: Callable[[str], None],
    ) -> None:
        self._actions = actions
        self._desk = desk
        self._open = open_file
        self._open_sample = open_sample
        actions.recent_menu.aboutToShow.connect(self._list_recent)
        actions.sample_menu.aboutToShow.connect(self._list_samples)

    def _list_recent(self) -> None:
        menu = self._actions.recent_menu
        menu.clear()
        recent = self._desk.recent()
        for one in recent:
            text = one.path.name
            if one.is_missing:
                text = _("{file} (no longer there)").format(file=text)
            action = self._listed(menu, text, one.path)
            action.setEnabled(not one.is_missing)
        if not recent:
            menu.addAction(_("None yet")).setEnabled(False)
            return
        menu.addSeparator()
        menu.addAction(_("Clear this list")).triggered.connect(self._forget_recent)

    def _listed(self, menu: QMenu, text: str, path: Path) -> QAction:
        action = menu.addAction(text.replace("&", "&&"))
        action.setToolTip(str(path))

        def open_it() -> None:
            self._open(path)

        action.triggered.connect(open_it)
        return action

    def _forget_recent(self) -> None:
        self._desk.prefer(self._desk.preferences.without_recent())

    def _list_samples(self) -> None:
        menu = self._actions.sample_menu
        menu.clear()
        for sample in self._desk.samples():
            action = menu.addAction(sample.title.replace("&", "&&"))

            def open_it(_on: bool = False, sample_id: str = sample.id) -> None:
                self._open_sample(sample_id)

            action.triggered.connect(open_it)
        if menu.isEmpty():
            menu.addAction(_("None found")).setEnabled(False)
