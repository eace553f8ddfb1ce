"""Which page a field is edited on, and which field a widget belongs to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.session.pages import page_of

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget


def home_of(path: str) -> str:
    """Return the id of the page to go to for `path`; empty if there is none.

    Limits are shown on the page of results and chosen on the page of the house.
    """
    return "house" if path.startswith("compliance.limits") else page_of(path)


def list_of(path: str) -> str:
    """Return the path of the innermost list that a row, or something in a row, stands in."""
    row = path
    while row and not row.rpartition(".")[2].isdigit():
        row = row.rpartition(".")[0]
    return row.rpartition(".")[0]


def path_of(widget: QWidget | None) -> str:
    """Return the path of the field that a widget is, or stands in; empty if there is none."""
    while widget is not None:
        path: object = getattr(widget, "path", None)
        if isinstance(path, str) and path:
            return path
        widget = widget.parentWidget()
    return ""
