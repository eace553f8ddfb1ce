"""Turns the program to another language while it runs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, QTimer, Signal

from deskapp.i18n import language, use_language
from deskapp.session.first_look import language_for
from deskapp.ui.main_window import system_language
from deskapp.ui.progress import Working

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.ui.desk import Desk


class LanguageSwitch(QObject):
    """Speaks the language that is preferred, as soon as no work on a page is under way.

    Widgets are not told to change their words: whoever has some makes them anew around the same
    open job, so that nothing can be forgotten.

    Signals: `turned` when everything is to be made anew.
    """

    turned = Signal()

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self._pages: QObject | None = None

    def turn(self, pages: QObject | None) -> None:
        """Speak the language that is preferred; work on `pages` is waited for."""
        self._pages = pages
        self._turn()

    def _turn(self) -> None:
        wanted = language_for(self._desk.preferences.language, system_language())
        if wanted == language():
            return
        busy = next(self._busy(), None)
        if busy is not None:
            busy.busy_changed.connect(self._turn_soon, Qt.ConnectionType.SingleShotConnection)
            return
        use_language(wanted)
        self._desk.tell_anew()
        self.turned.emit()

    def _turn_soon(self) -> None:
        QTimer.singleShot(0, self, self._turn)

    def _busy(self) -> Iterator[Working]:
        pages = self._pages
        working = [] if pages is None else pages.findChildren(Working)
        return (one for one in working if one.is_busy)
