"""Where two versions of a job differ, and in how many entries, in words."""

from __future__ import annotations

from enum import Enum
from typing import TYPE_CHECKING, NamedTuple, cast

from deskapp.domain.base import Frozen
from deskapp.domain.fields import is_field, label_of
from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.domain.job import Job

    Rows = tuple[object, ...]

_MOST_NAMED = 4


class Absent(Enum):
    """What stands for a row that one of two jobs does not have."""

    ROW = "row"


class JobDifference(NamedTuple):
    """An entry that differs, or a row only one job has: its path, and what stands in each."""

    path: str
    one: object
    other: object


def differences_between(
    one: Job, other: Job, counts: Callable[[object], bool] = lambda _row: True
) -> Iterator[JobDifference]:
    """Yield each difference in the order of a job, rows compared by their place in the list.

    A row that does not count is as one that is absent.
    """
    return _between(one, other, "", counts)


def difference_words(one: Job, other: Job) -> str:
    """Say in how many entries two versions differ, and name the first of them."""
    found = tuple(dict.fromkeys(label_of(at.path) for at in differences_between(one, other)))
    if not found:
        return _("Nothing differs.")
    named = "; ".join(found[:_MOST_NAMED])
    more = len(found) - _MOST_NAMED
    if more > 0:
        return _("{n} entries differ: {named}; and {more} more.").format(
            n=len(found), named=named, more=more
        )
    return _("Entries that differ: {named}.").format(named=named)


def _between(
    one: object, other: object, path: str, counts: Callable[[object], bool]
) -> Iterator[JobDifference]:
    if one == other:
        return
    if isinstance(one, Frozen) and type(one) is type(other) and not is_field(path):
        prefix = f"{path}." if path else ""
        for name in type(one).model_fields:
            yield from _between(getattr(one, name), getattr(other, name), prefix + name, counts)
    elif isinstance(one, tuple) and isinstance(other, tuple) and not is_field(path):
        yield from _between_rows(cast("Rows", one), cast("Rows", other), path, counts)
    else:
        yield JobDifference(path, one, other)


def _between_rows(
    rows: Rows, others: Rows, path: str, counts: Callable[[object], bool]
) -> Iterator[JobDifference]:
    for position in range(max(len(rows), len(others))):
        row, other = (
            all_rows[position]
            if position < len(all_rows) and counts(all_rows[position])
            else Absent.ROW
            for all_rows in (rows, others)
        )
        yield from _between(row, other, f"{path}.{position}", counts)
