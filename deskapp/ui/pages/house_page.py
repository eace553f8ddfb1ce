"""The page of house and systems, with the limits the job is judged by between the two."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.form import RowGroup
from deskapp.ui.limit_card import LimitCard
from deskapp.ui.limits.area_card import AreaCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


class HousePage(FormPage):
    """The form, with more between and below.

    The limits stand below the house, as they are known before the systems are; the areas beside
    each other below the systems.
    """

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen) -> None:
        super().__init__(page, bridge, chosen)
        self.limits = LimitCard(bridge)
        below_house = self.column.indexOf(self.groups[0]) + 1
        self.column.insertWidget(below_house, self.limits)
        self.setTabOrder(self.groups[0], self.limits)
        self._parts.append(self.limits)
        self.areas = AreaCard(bridge)
        systems = next(group for group in self.groups if isinstance(group, RowGroup))
        self.column.insertWidget(self.column.indexOf(systems) + 1, self.areas)
        self._parts.append(self.areas)
