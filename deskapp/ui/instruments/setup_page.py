"""The page of instruments and set-up, with the way to the company's instruments above the form."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from deskapp.session.pages import FANS
from deskapp.ui.instruments.earlier_card import EarlierCard
from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen
    from deskapp.ui.pages.page import Part


class SetupPage(FormPage):
    """The form, with copies from the company's instruments at its head."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen, desk: Desk) -> None:
        self._make_own = partial(OwnCard, bridge, desk.cabinet, self.refresh)
        self._make_earlier = partial(EarlierCard, bridge, chosen, desk)
        super().__init__(page, bridge, chosen)

    def after(self, title: str) -> None:
        """Put the way to earlier set-ups between the instruments and the tests."""
        if title == FANS:
            self.earlier = self._make_earlier()
            self.add(self.earlier, to_refresh=self.earlier)

    def add(self, part: QWidget, *, to_refresh: Part | None = None) -> None:
        """Put the way to the company's instruments before the first piece, also for the Tab key."""
        if not self._parts:
            self.own = self._make_own()
            super().add(self.own, to_refresh=self.own)
        super().add(part, to_refresh=to_refresh)
