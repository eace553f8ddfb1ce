"""In which entries two versions of a job differ, in words."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from deskapp.domain.base import Frozen
from deskapp.domain.fields import is_field, label_of
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.job import Job

_MOST_NAMED = 4


def differing(one: Job, other: Job) -> tuple[str, ...]:
    """Return the words for each entry that differs, and for rows only one of the two has."""
    return tuple(dict.fromkeys(label_of(path) for path in places_between(one, other)))


def places_between(one: Job, other: Job) -> Iterator[str]:
    """Yield the path of each entry that differs, and of each row only one of the two has."""
    return _paths(one, other, "")


def difference_words(one: Job, other: Job) -> str:
    """Say in how many entries two versions differ, and name the first of them."""
    found = differing(one, other)
    if not found:
        return _("Nothing differs.")
    named = "; ".join(found[:_MOST_NAMED])
    more = len(found) - _MOST_NAMED
    if more > 0:
        return _("{n} entries differ: {named}; and {more} more.").format(
            n=len(found), named=named, more=more
        )
    return _("Entries that differ: {named}.").format(named=named)


def _paths(one: object, other: object, path: str) -> Iterator[str]:
    if one == other:
        return
    if path and is_field(path):
        yield path
    elif isinstance(one, Frozen) and type(one) is type(other):
        prefix = f"{path}." if path else ""
        for name in type(one).model_fields:
            yield from _paths(getattr(one, name), getattr(other, name), prefix + name)
    elif isinstance(one, tuple) and isinstance(other, tuple):
        yield from _row_paths(
            cast("tuple[object, ...]", one), cast("tuple[object, ...]", other), path
        )
    else:
        yield path


def _row_paths(rows: tuple[object, ...], others: tuple[object, ...], path: str) -> Iterator[str]:
    for position, (row, other) in enumerate(zip(rows, others, strict=False)):
        yield from _paths(row, other, f"{path}.{position}")
    both = min(len(rows), len(others))
    for position in range(both, max(len(rows), len(others))):
        yield f"{path}.{position}"
