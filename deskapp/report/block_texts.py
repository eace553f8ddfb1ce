"""All texts that stand in blocks, in their order."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from typing import TYPE_CHECKING, cast

if TYPE_CHECKING:
    from collections.abc import Iterator


def texts_in(part: object) -> Iterator[str]:
    """Yield each text in a record, however deep."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for each in cast("tuple[object, ...]", part):
            yield from texts_in(each)
    elif is_dataclass(part):
        for one in fields(part):
            yield from texts_in(getattr(part, one.name))
