"""What is different between two states of a job, field by field, in the words of the form."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeVar, cast

from deskapp.domain.base import Frozen
from deskapp.domain.fields import field_at, is_field, label_of
from deskapp.i18n import _
from deskapp.session.typed import text_to_show
from deskapp.units.display import NO_VALUE

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from deskapp.domain.job import Job
    from deskapp.session.settings import Preferences

Record = TypeVar("Record", bound=Frozen)

_LONGEST = 60
_UNTOLD = frozenset({"issued", "key"})


def changes_between(before: Job, after: Job, preferences: Preferences) -> tuple[str, ...]:
    """Return a few words for each field, row and picture that is different, in the order of a job.

    Rows are compared by their place in the list; a row nothing is entered in counts as not there.
    Values are shown in the preferred units.
    """
    old, new = dict(_entries(before)), dict(_entries(after))
    told: list[str] = []
    for path in [*new, *(path for path in old if path not in new)]:
        if old.get(path) != new.get(path) and not _row_tells(path, old, new):
            told.append(_words(path, old, new, preferences))
    return tuple(dict.fromkeys(told))


def _row_tells(path: str, old: Mapping[str, object], new: Mapping[str, object]) -> bool:
    """Say whether the path lies in a row that was added or removed as a whole."""
    parts = path.split(".")
    rows = (".".join(parts[: at + 1]) for at, part in enumerate(parts[:-1]) if part.isdigit())
    return any((row in old) != (row in new) for row in rows)


def _entries(record: Frozen, prefix: str = "") -> Iterator[tuple[str, object]]:
    """Yield path and value of every field below `record`; a row of a list is there in itself."""
    for name in type(record).model_fields:
        if name in _UNTOLD:
            continue
        value: object = getattr(record, name)
        path = f"{prefix}{name}"
        if is_field(path) or not isinstance(value, Frozen | tuple):
            yield path, value
        elif isinstance(value, Frozen):
            yield from _entries(value, f"{path}.")
        else:
            yield from _rows(cast("tuple[object, ...]", value), path)


def _rows(rows: tuple[object, ...], path: str) -> Iterator[tuple[str, object]]:
    for position, row in enumerate(rows):
        place = f"{path}.{position}"
        if isinstance(row, Frozen) and is_blank(row):
            continue
        yield place, True
        if isinstance(row, Frozen):
            yield from _entries(row, f"{place}.")
        else:
            yield place, row


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
            kept = tuple(row for row in inner if not (isinstance(row, Frozen) and is_blank(row)))
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


def _words(
    path: str, old: Mapping[str, object], new: Mapping[str, object], preferences: Preferences
) -> str:
    label = label_of(path)
    if not is_field(path):
        if path.rpartition(".")[2].isdigit():
            words = _("{row}: added") if path in new else _("{row}: removed")
            if (path in old) != (path in new):
                return words.format(row=label)
        return _("{what}: changed").format(what=_place(path))
    return _("{field}: {before}, now {after}").format(
        field=label,
        before=_shown(path, old.get(path), preferences),
        after=_shown(path, new.get(path), preferences),
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
