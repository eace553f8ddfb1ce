"""Builds pages between the turns of the event loop: the one on screen, then those to come."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer

from deskapp.ui.slices import Turns

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

    from deskapp.ui.pages.page import PageView

QUIET = 400
"""How long nothing must have been done before pages are built ahead [ms]."""


class PageBuilder(QObject):
    """Makes one piece of a page in each turn.

    The page on screen is built at once. The others follow in quiet moments, so that they are there
    when they are turned to; that waits as soon as somebody goes on typing.
    """

    def __init__(
        self,
        parent: QObject,
        on_screen: Callable[[], PageView],
        to_come: Callable[[], Iterable[PageView]],
    ) -> None:
        super().__init__(parent)
        self._on_screen = on_screen
        self._to_come = to_come
        self._is_quiet = False
        self._turn = Turns(self)
        self._turn.due.connect(self.do_one)
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(QUIET)
        self._pause.timeout.connect(self.build_ahead)

    def go_on(self) -> None:
        """Build the page on screen from the next turn on."""
        if not self._on_screen().is_whole:
            self._turn.start()

    def wait(self) -> None:
        """Do nothing while somebody is at work, and build ahead when it is quiet again."""
        self._is_quiet = False
        self._turn.stop()
        self._pause.start()

    def build_ahead(self) -> None:
        """Build the other pages from the next turn on."""
        self._is_quiet = True
        self._turn.start()

    def do_one(self) -> None:
        """Make one piece."""
        view = self._on_screen()
        if not view.is_whole:
            view.build_on(on_screen=True)
            if view.is_whole:
                view.round_off()
                self.wait()
            return
        next_one = self._next() if self._is_quiet else None
        if next_one is None:
            self._turn.stop()
        else:
            next_one.build_on(on_screen=False)

    def _next(self) -> PageView | None:
        return next((view for view in self._to_come() if not view.is_made), None)
