"""The page of house and systems, with the limits the job is judged by."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.limit_card import LimitCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class HousePage(FormPage):
    """The form, and the limits below the systems."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen) -> None:
        super().__init__(page, bridge, chosen)
        self.limits = LimitCard(bridge)
        self.column.insertWidget(self.column.count() - 1, self.limits)
        self._parts.append(self.limits)
