"""The result in full: verdicts, arithmetic, readings worked out, and the working."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.building import Building, come_up
from deskapp.ui.pages.page import PageView
from deskapp.ui.pages.result_sheets import ResultSheet, Sheets
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge


class ResultPage(PageView):
    """A sheet for the house, and one for each system.

    A sheet stays as long as nothing changes that it follows from; another one is made aside and
    put in its place.
    """

    is_rebuilt = True

    def __init__(self, page: Page, bridge: Bridge) -> None:
        super().__init__(page)
        self._bridge = bridge
        self._planned: list[ResultSheet] = []
        self._known: list[tuple[object, ...]] = []
        self._made_aside: list[Card] = []
        self._body = QWidget()
        self._sheets = QVBoxLayout(self._body)
        self._sheets.setContentsMargins(0, 0, 0, 0)
        self._sheets.setSpacing(2 * GRID)
        text = _("There is no duct system yet. Add one on the page House and systems.")
        self._none = Words(text, muted=True)
        self._none.hide()
        self._sheets.addWidget(self._none)

    @property
    def sheets(self) -> list[QWidget]:
        """The sheets shown, in order."""
        items = (self._sheets.itemAt(place) for place in range(len(self._known)))
        return [widget for item in items if item is not None and (widget := item.widget())]

    def build(self) -> Iterator[None]:
        """Put the sheets below each other."""
        self.add(self._body)
        self.end()
        yield
        self._planned = list(Sheets(self._bridge).plan())
        yield from self._renew()

    @property
    def is_whole(self) -> bool:
        """Whether all sheets are made and in sight."""
        return super().is_whole and not self._made_aside

    def build_on(self, *, on_screen: bool) -> None:
        """Make one more piece; sheets made aside come up one by one once the page is on screen."""
        if on_screen and self._made_aside and not self._unplaced:
            self._made_aside.pop(0).show()
        else:
            super().build_on(on_screen=on_screen)

    def pieces(self) -> Iterator[Callable[[], None]]:
        """Give the one piece that has the sheets made in turns of their own."""
        yield self.expect

    def expect(self) -> None:
        """Have the sheets made of which something has changed."""
        if not self._building.is_over and not self._planned:
            return
        planned = list(Sheets(self._bridge).plan())
        if [sheet.follows_from for sheet in planned] != [
            sheet.follows_from for sheet in self._planned
        ]:
            self._planned = planned
            self._building = Building(self._renew())

    def round_off(self) -> None:
        """Show the result of the job as it stands."""
        self.expect()
        self.complete()

    def reveal(self, path: str) -> bool:
        """Say whether `path` belongs here; limits do."""
        if path.startswith("compliance.limits"):
            self.to_top()
            return True
        return False

    def _renew(self) -> Iterator[None]:
        """Make what is planned and not there, and take away what is no longer."""
        planned = self._planned
        self._none.setVisible(not self._bridge.assessment.systems)
        for place, sheet in enumerate(planned):
            if place < len(self._known) and self._known[place] == sheet.follows_from:
                continue
            card = Card()
            self.hold(card)
            for _piece in sheet.fill(card):
                yield
                card.minimumSizeHint()  # measured as it grows, not all at once when it comes up
                yield
            card.heightForWidth(self._body.width())
            yield
            self._put(place, card, sheet)
            yield
        while len(self._known) > len(planned):
            self._take(len(self._known) - 1)

    def _put(self, place: int, card: Card, sheet: ResultSheet) -> None:
        if place < len(self._known):
            self._take(place)
        self._known.insert(place, sheet.follows_from)
        self._sheets.insertWidget(place, card)
        if self.is_placed(self._body):
            come_up(card)
        else:
            card.hide()
            self._made_aside.append(card)

    def _take(self, place: int) -> None:
        self._known.pop(place)
        item = self._sheets.takeAt(place)
        widget = item.widget() if item is not None else None
        if isinstance(widget, Card):
            if widget in self._made_aside:
                self._made_aside.remove(widget)
            widget.hide()
            # Not in the turn in which the page is laid out and painted without it.
            QTimer.singleShot(0, widget, widget.deleteLater)
