"""The page of the safety walk, and the page on which a house is left as it was found."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.session.pages import ARRIVAL, PUT_BACK, SAFETY_NOTES
from deskapp.ui.form import GridGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.safety.arrival_cards import ArrivalBar, CloseCard
from deskapp.ui.safety.care_cards import CareCard
from deskapp.ui.safety.put_back_grid import PutBackGrid
from deskapp.ui.safety.stops_card import StopsCard

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class SafetyPage(FormPage):
    """The questions, with stops above them and what the answers call for below."""

    def before(self) -> Iterator[None]:
        """Put the stops before the first section."""
        intro = _(
            "Readings and the compliance report wait until each stop is acknowledged. "
            "It is printed with name, reason and time."
        )
        self.stops = StopsCard(self._bridge, intro)
        self.add(self.stops, to_refresh=self.stops)
        yield

    def after(self, title: str) -> Iterator[None]:
        """Put words of care and the commands of the list where they belong."""
        if title == SAFETY_NOTES:
            self.care = CareCard(self._bridge)
            self.add(self.care, to_refresh=self.care)
            yield
        elif title == ARRIVAL:
            self.arrival = ArrivalBar(self._bridge)
            group = self.groups[-1]
            assert isinstance(group, GridGroup)
            group.put_above(self.arrival)
            yield


class LeavePage(FormPage):
    """What was measured after the work, and the list of what was changed, to be closed."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen) -> None:
        super().__init__(page, bridge, chosen, grid_kind=PutBackGrid)

    def after(self, title: str) -> Iterator[None]:
        """Put the closing below the list."""
        if title == PUT_BACK:
            self.closing = CloseCard(self._bridge)
            self.add(self.closing, to_refresh=self.closing)
            yield
