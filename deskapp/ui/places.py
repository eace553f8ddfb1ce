"""Which page a field is edited on."""

from __future__ import annotations

from deskapp.session.pages import page_of


def home_of(path: str) -> str:
    """Return the id of the page to go to for `path`; empty if there is none.

    Limits are shown on the page of results and chosen on the page of the house.
    """
    return "house" if path.startswith("compliance.limits") else page_of(path)
