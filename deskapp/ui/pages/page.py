"""What every page of the workbench has: a head, a scrolling column, and a way to any field."""

from __future__ import annotations

from collections import deque
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING, Protocol, cast

from PySide6.QtCore import QCoreApplication, QEvent, QRect, Qt, QTimer
from PySide6.QtGui import QFocusEvent, QPalette
from PySide6.QtWidgets import QApplication, QFrame, QScrollArea, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.building import Building, come_up, laid_out_after
from deskapp.ui.panes import show_ring
from deskapp.ui.stops import is_entry, stops_in
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Iterator

    from deskapp.session.pages import Page

_WIDEST = 1180
_MARGIN = 60
"""Room kept above and below what has the cursor."""


class PagePart(Protocol):
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
        self._parts: list[PagePart] = []
        self._unplaced: deque[tuple[QWidget | None, PagePart | None]] = deque()
        self._building = Building(self.build())
        self._is_fresh = False
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAsNeeded)
        # Its room is kept, so that a page that grows longer does not become narrower.
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOn)
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
        self.column.addStretch(1)  # keeps what is there at the top while more is being placed
        self.setWidget(inside)
        self._aside = QWidget(self)
        self._aside.hide()
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._keep_in_sight)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show that the keys scroll the page now."""
        super().focusInEvent(event)
        show_ring(self)

    # Building

    def build(self) -> Iterator[None]:
        """Make the parts of the page, each step in a moment; none here."""
        yield from ()

    def hold(self, part: QWidget) -> None:
        """Let what is being built belong to the page, out of sight, and go when the page goes."""
        part.setParent(self._aside)

    def add(self, part: QWidget, *, to_refresh: PagePart | None = None) -> None:
        """Put a part below the others, as soon as the page is on screen."""
        if part.parent() is not self._aside:
            self.hold(part)
        if to_refresh is not None:
            # What a part makes only now stands here for the Tab key, not behind later parts.
            to_refresh.refresh()
        self._is_fresh = not self._unplaced
        self._unplaced.append((part, to_refresh))

    def end(self) -> None:
        """Say that no part comes after those added."""
        self._unplaced.append((None, None))

    def is_placed(self, part: QWidget) -> bool:
        """Say whether a part stands on the page, no longer aside."""
        return not self._aside.isAncestorOf(part)

    @property
    def is_made(self) -> bool:
        """Whether all parts are made, placed or not."""
        return self._building.is_over

    @property
    def is_whole(self) -> bool:
        """Whether all parts are made and stand on the page."""
        return self._building.is_over and not self._unplaced

    def build_on(self, *, on_screen: bool) -> None:
        """Make one more piece; on screen, place first what is made."""
        if not on_screen:
            self._building.go_on()
            self._is_fresh = False
        elif not self._unplaced:
            self._building.go_on()
        elif self._is_fresh:
            self._place(*self._unplaced.popleft())
        else:
            self._freshen()

    def complete(self) -> None:
        """Make and place all that is left: somebody waits for the whole page."""
        while not self.is_whole and not self._building.is_at_work:
            self.build_on(on_screen=True)

    def _freshen(self) -> None:
        """Let the part to be placed next show the job as it stands: it may be made long ago."""
        to_refresh = self._unplaced[0][1]
        if to_refresh is not None:
            to_refresh.refresh()
        self._is_fresh = True

    def _place(self, part: QWidget | None, to_refresh: PagePart | None) -> None:
        self._is_fresh = False
        if part is None:
            return
        self.column.insertWidget(self.column.count() - 1, part)
        if to_refresh is not None:
            self._parts.append(to_refresh)
        come_up(part)

    # Showing

    def refresh(self) -> None:
        """Show what the job holds."""
        self._is_fresh = False
        with self._staying(), laid_out_after(self.column):
            for part in self._parts:
                part.refresh()
        self.round_off()

    def pieces(self) -> Iterator[Callable[[], None]]:
        """Give what `refresh` does in pieces, to be done one by one."""
        self._is_fresh = False
        for part in self._parts:
            yield partial(self._refresh_part, part)
        yield self.round_off

    is_rebuilt = False
    """Whether a change of the job may give the page more to build."""

    def expect(self) -> None:
        """Take note that the page is about to be shown; it may have more to build now."""

    def round_off(self) -> None:
        """Do what depends on all parts of the page once they are refreshed."""

    def _refresh_part(self, part: PagePart) -> None:
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
            QTimer.singleShot(0, self, self.show_focus)
        return is_here

    def take_focus(self) -> None:
        """Put the cursor into the first entry of the page, and begin at the top.

        That is the first one in sight there; without one it is the first button, or else the page
        itself, which scrolls by its keys. A page that was scrolled stays where it is, with the
        cursor in something that is in sight, unless the cursor is on it already: then it is its
        beginning that is asked for.
        """
        is_here = self._inside.isAncestorOf(self.window().focusWidget() or self)
        is_scrolled = self.verticalScrollBar().value() > 0
        seen = self._in_sight() if is_scrolled and not is_here else None
        if seen is not None:
            seen.setFocus(Qt.FocusReason.OtherFocusReason)
            return
        first = self._first_at_top()
        if first is None and not self.verticalScrollBar().maximum():
            return
        QTimer.singleShot(0, self, self.to_top)
        (first or self).setFocus(Qt.FocusReason.OtherFocusReason)

    def _first_at_top(self) -> QWidget | None:
        """Return the first entry that is in sight with the head of the page, else a button."""
        QCoreApplication.sendPostedEvents(None, QEvent.Type.LayoutRequest.value)
        return self._first_in(QRect(0, 0, self._inside.width(), self._height_seen()))

    def _in_sight(self) -> QWidget | None:
        """Return what takes the cursor where the page is scrolled to; what had it last first."""
        held = cast("QWidget | None", self._inside.focusWidget())
        top = self.verticalScrollBar().value() + _MARGIN
        room = QRect(0, top, self._inside.width(), self._height_seen() - _MARGIN)
        if held is not None and held in stops_in(self._inside, room):
            return held
        return self._first_in(room)

    def _height_seen(self) -> int:
        return self.viewport().height() - _MARGIN

    def _first_in(self, room: QRect) -> QWidget | None:
        seen = stops_in(self._inside, room)
        return next((one for one in seen if is_entry(one)), next(iter(seen), None))

    def show_focus(self) -> None:
        """Scroll to what has the focus, also in a window that is not in front."""
        self._keep_in_sight(None, self.window().focusWidget())

    def to_top(self) -> None:
        """Scroll to the beginning."""
        self.verticalScrollBar().setValue(0)

    def _head(self, *, legend: bool) -> QVBoxLayout:
        head = QVBoxLayout()
        head.setSpacing(2)
        head.addWidget(Words(_(self.page.title), Size.TITLE))
        purpose = _(self.page.purpose)
        if legend:
            legend_words = _("* goes into the compliance report.")
            purpose += " " + legend_words.replace("* ", "*\N{NO-BREAK SPACE}", 1)
        head.addWidget(Words(purpose, muted=True))
        return head

    def _keep_in_sight(self, _old: QWidget | None, now: QWidget | None) -> None:
        if now is None or not self._inside.isAncestorOf(now):
            return

        def scroll() -> None:
            if now is self.window().focusWidget():
                self.ensureWidgetVisible(now, 20, _MARGIN)

        QTimer.singleShot(0, now, scroll)
