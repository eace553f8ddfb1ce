"""The page of house and systems, with the limits the job is judged by between the two."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.form import RowGroup
from deskapp.ui.limit_card import LimitCard
from deskapp.ui.limits.area_card import AreaCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from collections.abc import Iterator

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
        self._has_areas = False

    def after(self, title: str) -> Iterator[None]:
        """Put the limits below the house, and the areas below the systems."""
        del title
        if len(self.groups) == 1:
            self.limits = LimitCard(self._bridge)
            self.add(self.limits, to_refresh=self.limits)
            yield
        if isinstance(self.groups[-1], RowGroup) and not self._has_areas:
            self._has_areas = True
            self.areas = AreaCard(self._bridge)
            self.add(self.areas, to_refresh=self.areas)
            yield
