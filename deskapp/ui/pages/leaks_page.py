"""The page of leaks, with pictures of leaks and of the job, and what pans tell."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.session.pages import LEAKS, PRESSURE_PAN, REREADINGS, TRACER
from deskapp.ui.advice_cards import PanCard
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.photos.cards import JobPhotosCard, SketchCard
from deskapp.ui.photos.strip import PhotoStrip
from deskapp.ui.repairs.leak_list import LeakListCard
from deskapp.ui.repairs.ledger_card import LedgerCard, RetestCard
from deskapp.ui.repairs.register_walk import RegisterWalkCard
from deskapp.ui.safety.care_cards import TracerCard

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class LeaksPage(FormPage):
    """The form, with sketch and pictures below the leaks, and words below the pan readings."""

    def __init__(
        self, page: Page, bridge: Bridge, chosen: Chosen, go_to: Callable[[str], None]
    ) -> None:
        """Show `page`; `go_to` turns to a field anywhere, such as that of a new retest."""
        self._go_to = go_to
        super().__init__(page, bridge, chosen, extra=lambda: PhotoStrip(bridge))

    def after(self, title: str) -> Iterator[None]:
        """Put the sketch, the pictures of the job and the words about pans where they belong."""
        if title == LEAKS:
            self.leak_list = LeakListCard(self._bridge)
            self.add(self.leak_list, to_refresh=self.leak_list)
            yield
            self.sketch = SketchCard(self._bridge)
            self.add(self.sketch, to_refresh=self.sketch)
            yield
            self.photos = JobPhotosCard(self._bridge)
            self.add(self.photos, to_refresh=self.photos)
            yield
        elif title == REREADINGS:
            self.ledger = LedgerCard(self._bridge)
            self.add(self.ledger, to_refresh=self.ledger)
            yield
            self.retests = RetestCard(self._bridge, self._go_to)
            self.add(self.retests, to_refresh=self.retests)
            yield
        elif title == PRESSURE_PAN:
            self.walk = RegisterWalkCard(self._bridge)
            self.add(self.walk, to_refresh=self.walk)
            yield
            self.pans = PanCard(self._bridge)
            self.add(self.pans, to_refresh=self.pans)
            yield
        elif title == TRACER:
            self.tracers = TracerCard(self._bridge)
            self.add(self.tracers, to_refresh=self.tracers)
            yield


def leaks_page(
    page: Page, bridge: Bridge, chosen: Chosen, go_to: Callable[[str], None]
) -> FormPage:
    """Return the page; `go_to` turns to a field anywhere."""
    return LeaksPage(page, bridge, chosen, go_to)
