"""What is different between two states of a job, field by field, in the words of the form."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar, cast

from deskapp.domain.base import Frozen
from deskapp.domain.fields import field_at, is_field, label_of
from deskapp.i18n import _
from deskapp.session.differences import Absent, JobDifference, differences_between
from deskapp.session.typed import text_to_show
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.session.settings import Preferences

Record = TypeVar("Record", bound=Frozen)

_LONGEST = 60
_UNTOLD = frozenset({"issued", "key"})


def changes_between(before: Job, after: Job, preferences: Preferences) -> tuple[str, ...]:
    """Return a few words for each field, row and picture that is different, in the order of a job.

    Rows that were removed come last; a row nothing is entered in counts as not there. Values are
    shown in the preferred units.
    """
    found = [
        change
        for change in differences_between(before, after, _is_row)
        if _UNTOLD.isdisjoint(change.path.split("."))
    ]
    found.sort(key=lambda change: change.other is Absent.ROW)
    return tuple(dict.fromkeys(_words(change, preferences) for change in found))


def _is_row(row: object) -> bool:
    return not (isinstance(row, Frozen) and is_blank(row))


def without_blank_rows(record: Record) -> Record:
    """Return `record` without rows nothing is entered in, however deep they stand."""
    changed: dict[str, object] = {}
    for name in type(record).model_fields:
        value: object = getattr(record, name)
        if isinstance(value, Frozen):
            kept: object = without_blank_rows(value)
        elif isinstance(value, tuple):
            rows = cast("tuple[object, ...]", value)
            inner = (without_blank_rows(r) if isinstance(r, Frozen) else r for r in rows)
            kept = tuple(row for row in inner if _is_row(row))
        else:
            continue
        if kept != value:
            changed[name] = kept
    return record.model_copy(update=changed) if changed else record


def is_blank(row: Frozen) -> bool:
    """Say whether nothing is entered in a row: all but its key is as in a new record."""
    return all(
        getattr(row, name) == field.get_default(call_default_factory=True)
        for name, field in type(row).model_fields.items()
        if name != "key"
    )


def _words(change: JobDifference, preferences: Preferences) -> str:
    path, before, after = change
    label = label_of(path)
    if before is Absent.ROW:
        return _("{row}: added").format(row=label)
    if after is Absent.ROW:
        return _("{row}: removed").format(row=label)
    if not is_field(path):
        return _("{what}: changed").format(what=_place(path))
    return _("{field}: {before}, now {after}").format(
        field=label,
        before=_shown(path, before, preferences),
        after=_shown(path, after, preferences),
    )


def _place(path: str) -> str:
    """Return words for something beside the field table: the row or record it belongs to."""
    parts = path.split(".")
    for length in range(len(parts), 0, -1):
        start = ".".join(parts[:length])
        label = label_of(start)
        if label != start:
            return label
    return parts[0]


def _shown(path: str, value: object, preferences: Preferences) -> str:
    short = " ".join(text_to_show(field_at(path), value, preferences).split())
    if not short:
        return NO_VALUE
    return short if len(short) <= _LONGEST else f"{short[: _LONGEST - 1]}…"
