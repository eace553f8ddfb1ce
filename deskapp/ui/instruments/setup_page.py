"""The page of instruments and set-up, with the way to the company's instruments above the form."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.cabinet import Cabinet
    from deskapp.ui.form import Chosen


class SetupPage(FormPage):
    """The form, with copies from the company's instruments at its head."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen, cabinet: Cabinet) -> None:
        super().__init__(page, bridge, chosen)
        self.own = OwnCard(bridge, cabinet, self.refresh)
        self.column.insertWidget(self.column.indexOf(self.groups[0]), self.own)
        self.setTabOrder(self.own, self.groups[0])
        self._parts.append(self.own)
        self.own.refresh()
