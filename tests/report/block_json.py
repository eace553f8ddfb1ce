"""Blocks as plain data for golden files."""

from __future__ import annotations

import hashlib
from dataclasses import fields, is_dataclass
from datetime import date
from enum import StrEnum


def as_data(value: object) -> object:
    """Records become tables with their type; strong text is written between stars."""
    if is_dataclass(value) and not isinstance(value, type):
        if type(value).__name__ == "Span":
            return f"**{value.text}**" if value.strong else value.text
        kept = {f.name: as_data(getattr(value, f.name)) for f in fields(value)}
        kept.pop("digest", None)  # made by the picture library, whose versions differ
        if type(value).__name__ in ("Fact", "Table"):
            kept.pop("path")  # prints nothing
        return {"block": type(value).__name__, **kept}
    if isinstance(value, tuple):
        return [as_data(part) for part in value]
    if isinstance(value, bytes):
        return "sha256 " + hashlib.sha256(value).hexdigest()
    if isinstance(value, StrEnum):
        return value.value
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float):
        return float(f"{value:.9g}")
    return value
