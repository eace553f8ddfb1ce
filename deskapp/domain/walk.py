"""Visit every field of a job."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from deskapp.domain.base import Frozen
from deskapp.domain.measured import Day, Measured


def entries(record: Frozen, prefix: str = "") -> Iterator[tuple[str, Measured | Day]]:
    """Yield path and value of every quantity and day below `record`, in field order."""
    for name in type(record).model_fields:
        value: object = getattr(record, name)
        path = f"{prefix}{name}"
        if isinstance(value, Measured | Day):
            yield path, value
        elif isinstance(value, Frozen):
            yield from entries(value, f"{path}.")
        elif isinstance(value, tuple):
            rows = cast("tuple[object, ...]", value)
            for position, row in enumerate(rows):
                if isinstance(row, Frozen):
                    yield from entries(row, f"{path}.{position}.")
