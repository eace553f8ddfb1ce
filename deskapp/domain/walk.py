"""Visit every field of a job."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from typing import cast, get_args

from deskapp.domain.base import Frozen
from deskapp.domain.measured import Day, Measured


def entries(record: Frozen, prefix: str = "") -> Iterator[tuple[str, Measured | Day]]:
    """Yield path and value of every quantity and day below `record`, in field order."""
    for path, value in held(record, prefix):
        if isinstance(value, Measured | Day):
            yield path, value
        elif isinstance(value, tuple):
            for position, row in enumerate(value):
                yield from entries(row, f"{path}.{position}.")
        else:
            yield from entries(value, f"{path}.")


Held = Measured | Day | Frozen | tuple[Frozen, ...]


def held(record: Frozen, prefix: str = "") -> Iterator[tuple[str, Held]]:
    """Yield path and value of every quantity and day of `record`.

    What holds more of them is left closed: records in fields of their own, and lists of records.
    """
    for name in _telling(type(record)):
        value: object = getattr(record, name)
        if isinstance(value, Frozen):
            yield f"{prefix}{name}", value
        elif isinstance(value, tuple) and value:
            yield f"{prefix}{name}", cast("tuple[Frozen, ...]", value)


@cache
def _telling(kind: type[Frozen]) -> tuple[str, ...]:
    """Return the fields of a record that can hold quantities or days, themselves or further in."""
    return tuple(
        name for name, field in kind.model_fields.items() if _can_hold(field.annotation, (kind,))
    )


def _can_hold(annotation: object, inside: tuple[type[Frozen], ...]) -> bool:
    if isinstance(annotation, type) and issubclass(annotation, Frozen):
        if annotation in (Measured, Day):
            return True
        if annotation in inside:
            return False
        fields = annotation.model_fields.values()
        return any(_can_hold(field.annotation, (*inside, annotation)) for field in fields)
    return any(_can_hold(part, inside) for part in get_args(annotation))
