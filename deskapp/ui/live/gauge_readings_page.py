"""The page of readings, with the ways in for live readings and files above the form."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.pages.readings_page import flow_at_target

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class GaugeReadingsPage(FormPage):
    """The form, with a gauge beside it."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen, folder: Path) -> None:
        super().__init__(page, bridge, chosen, remark=lambda path: flow_at_target(bridge, path))
        self.gauge = GaugeCard(bridge, chosen, folder)
        self.column.insertWidget(self.column.indexOf(self.groups[0]), self.gauge)
        self.setTabOrder(self.gauge, self.groups[0])
        self._parts.append(self.gauge)
