"""The page of readings, with the ways in for live readings and files above the form."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.ui.advice_cards import TryCard
from deskapp.ui.form import RowGroup
from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.pages.readings_page import flow_at_target_text
from deskapp.ui.safety.stops_card import StopsCard

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class GaugeReadingsPage(FormPage):
    """The form, with a gauge beside it, and stops above it that keep both back."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen, folder: Path) -> None:
        held = _("Readings wait until each stop is acknowledged. It is printed with name and time.")
        self._make_stops = partial(StopsCard, bridge, held, only_open=True)
        self._make_gauge = partial(GaugeCard, bridge, chosen, folder)
        self._make_advice = partial(TryCard, bridge)
        super().__init__(
            page, bridge, chosen, remark=lambda path: flow_at_target_text(bridge, path)
        )

    def round_off(self) -> None:
        """Let nothing be entered while a stop is open."""
        if not self.is_whole:
            return
        is_held = self.stops.is_open
        self.gauge.setEnabled(not is_held)
        for group in self.groups:
            if isinstance(group, RowGroup):
                group.hold(is_held)

    def before(self) -> Iterator[None]:
        """Put the ways in before the first section."""
        self.stops = self._make_stops()
        self.add(self.stops, to_refresh=self.stops)
        yield
        self.gauge = self._make_gauge()
        self.add(self.gauge, to_refresh=self.gauge)
        yield

    def below(self) -> Iterator[None]:
        """Put what to try short of the target below the form."""
        self.advice = self._make_advice()
        self.add(self.advice, to_refresh=self.advice)
        yield
