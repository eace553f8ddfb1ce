"""The page of leaks and safety: each leak has its pictures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.photo_strip import PhotoStrip

if TYPE_CHECKING:
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.form import Chosen


def leaks_page(page: Page, bridge: Bridge, chosen: Chosen) -> FormPage:
    """Return the page."""
    return FormPage(page, bridge, chosen, extra=lambda: PhotoStrip(bridge))
