"""What every page of the workbench has: a head, a scrolling column, and a way to any field."""

from __future__ import annotations

from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Protocol

from PySide6.QtCore import QCoreApplication, QEvent, Qt, QTimer
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator

    from deskapp.session.pages import Page

_WIDEST = 1180


class Part(Protocol):
    """A piece of a page."""

    def refresh(self) -> None:
        """Show what the job holds."""

    def reveal(self, path: str) -> bool:
        """Put the cursor to `path`; say whether it is here."""
        ...


class PageView(QScrollArea):
    """One page: title, purpose, and its parts below each other in one scrolling column."""

    def __init__(self, page: Page, *, legend: bool = False) -> None:
        super().__init__()
        self.page = page
        self._parts: list[Part] = []
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        self.setAccessibleName(_(page.title))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.viewport().setAutoFillBackground(False)
        self._inside = inside = QWidget()
        inside.setMaximumWidth(_WIDEST)
        inside.setBackgroundRole(QPalette.ColorRole.Window)
        self.column = QVBoxLayout(inside)
        self.column.setContentsMargins(3 * GRID, 2 * GRID, 12, 3 * GRID)
        self.column.setSpacing(2 * GRID)
        self.column.addLayout(self._head(legend=legend))
        self.setWidget(inside)
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._keep_in_sight)

    def add(self, part: QWidget, *, to_refresh: Part | None = None) -> None:
        """Put a piece below the others."""
        self.column.addWidget(part)
        if to_refresh is not None:
            self._parts.append(to_refresh)

    def end(self) -> None:
        """Keep the pieces together at the top."""
        self.column.addStretch(1)

    def refresh(self) -> None:
        """Show what the job holds."""
        with self._staying():
            for part in self._parts:
                part.refresh()
        self.round_off()

    def pieces(self) -> Iterator[Callable[[], None]]:
        """Give what `refresh` does in pieces, to be done one by one."""
        for part in self._parts:
            yield partial(self._refresh_part, part)
        yield self.round_off

    def round_off(self) -> None:
        """Do what depends on all parts of the page once they are refreshed."""

    def _refresh_part(self, part: Part) -> None:
        with self._staying():
            part.refresh()

    @contextmanager
    def _staying(self) -> Generator[None]:
        held = self.window().focusWidget() or self
        is_here = self._inside.isAncestorOf(held)
        before = held.mapTo(self._inside, held.rect().topLeft()).y() if is_here else 0
        yield
        if is_here:
            self._stay(held, before)

    def _stay(self, held: QWidget, before: int) -> None:
        """Keep what has the focus where it stands, whatever came or went above it."""
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest.value)
        moved = held.mapTo(self._inside, held.rect().topLeft()).y() - before
        if moved:
            self.verticalScrollBar().setValue(self.verticalScrollBar().value() + moved)

    def reveal(self, path: str) -> bool:
        """Put the cursor to `path` and scroll there; say whether it is on this page."""
        is_here = any(part.reveal(path) for part in self._parts)
        if is_here:
            QTimer.singleShot(0, self, self._show_focus)
        return is_here

    def take_focus(self) -> None:
        """Put the cursor into the first thing on the page that takes it, and begin at the top."""
        QTimer.singleShot(0, self, self.to_top)
        self._inside.setFocus(Qt.FocusReason.OtherFocusReason)
        self._inside.nextInFocusChain()
        self.focusNextChild()

    def to_top(self) -> None:
        """Scroll to the beginning."""
        self.verticalScrollBar().setValue(0)

    def _head(self, *, legend: bool) -> QVBoxLayout:
        head = QVBoxLayout()
        head.setSpacing(2)
        head.addWidget(Words(_(self.page.title), Size.TITLE))
        purpose = _(self.page.purpose)
        if legend:
            purpose += " " + _("* goes into the compliance report.")
        head.addWidget(Words(purpose, muted=True))
        return head

    def _show_focus(self) -> None:
        """Scroll to what has the focus, also in a window that is not in front."""
        self._keep_in_sight(None, self.window().focusWidget())

    def _keep_in_sight(self, _old: QWidget | None, now: QWidget | None) -> None:
        if now is None or not self._inside.isAncestorOf(now):
            return

        def scroll() -> None:
            if now is self.window().focusWidget():
                self.ensureWidgetVisible(now, 20, 60)

        QTimer.singleShot(0, now, scroll)
