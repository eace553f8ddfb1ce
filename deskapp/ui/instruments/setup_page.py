"""The page of instruments and set-up, with the way to the company's instruments above the form."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from deskapp.session.pages import FANS
from deskapp.ui.instruments.earlier_card import EarlierCard
from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.pages.form_page import FormPage

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen


class SetupPage(FormPage):
    """The form, with copies from the company's instruments at its head."""

    def __init__(self, page: Page, bridge: Bridge, chosen: Chosen, desk: Desk) -> None:
        self._make_own = partial(OwnCard, bridge, desk.cabinet, self.refresh)
        self._make_earlier = partial(EarlierCard, bridge, chosen, desk)
        super().__init__(page, bridge, chosen)

    def before(self) -> Iterator[None]:
        """Put the way to the company's instruments before the first section."""
        self.own = self._make_own()
        self.add(self.own, to_refresh=self.own)
        yield

    def after(self, title: str) -> Iterator[None]:
        """Put the way to earlier set-ups between the instruments and the tests."""
        if title == FANS:
            self.earlier = self._make_earlier()
            self.add(self.earlier, to_refresh=self.earlier)
            yield
