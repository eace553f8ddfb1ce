"""Reading and changing one place deep inside frozen records.

A path such as ``systems.0.area_served`` names attributes of records and positions in tuples, from
the outside in. A change returns a new record that shares everything it did not touch with the old
one, so keeping many versions is cheap.
"""

from __future__ import annotations

from functools import cache, lru_cache
from typing import TYPE_CHECKING, Any, TypeVar, cast

from pydantic import BaseModel

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

Record = TypeVar("Record", bound=BaseModel)


def get(record: BaseModel, path: str) -> Any:
    """Return what stands at `path`. Raises KeyError, naming the path, if there is no such place."""
    here: object = record
    for part in _parts(path):
        # The most usual place; a page asks for hundreds of them for each change of a job.
        if type(here) is not tuple and part in _names(type(here)):
            here = getattr(here, part)
        else:
            here = _inside(cast("object", here), part, path)
    return here


def rows_at(record: BaseModel, list_path: str) -> tuple[Any, ...]:
    """Return the rows of a list. Raises KeyError if `list_path` names no list."""
    rows = get(record, list_path)
    if not isinstance(rows, tuple):
        raise KeyError(f"{list_path} is not a list")
    return cast("tuple[Any, ...]", rows)


def put(record: Record, path: str, value: object) -> Record:
    """Return `record` with `value` at `path`. Raises KeyError for a place that does not exist."""
    return change(record, path, lambda _old: value)


def insert(record: Record, list_path: str, position: int, row: object) -> Record:
    """Return `record` with `row` put in before `position` of the list at `list_path`."""
    rows = rows_at(record, list_path)
    return put(record, list_path, (*rows[:position], row, *rows[position:]))


def remove(record: Record, row_path: str) -> Record:
    """Return `record` without the row at `row_path` (such as ``systems.1``)."""
    list_path, position = split_row(row_path)
    get(record, row_path)
    rows = rows_at(record, list_path)
    return put(record, list_path, (*rows[:position], *rows[position + 1 :]))


def change(record: Record, path: str, how: Callable[[Any], object]) -> Record:
    """Return `record` with `how` of the old value at `path`."""
    return cast("Record", _changed(record, path.split("."), how, path))


def split_row(row_path: str) -> tuple[str, int]:
    """Part ``tests.0.readings.2`` into its list and position. Raises KeyError for another path."""
    list_path, _dot, last = row_path.rpartition(".")
    if not list_path or not last.isdecimal():
        raise KeyError(f"{row_path} is not a row")
    return list_path, int(last)


def expand(record: BaseModel, pattern: str) -> Iterator[tuple[str, Any]]:
    """Yield each place that `pattern` fits, with its value; ``*`` stands for every row.

    Asked hundreds of times for each change of a job, so it goes from level to level in a loop.
    """
    found: list[tuple[str, object]] = [("", record)]
    for part in _parts(pattern):
        if part == "*":
            found = [
                (f"{path}{position}.", row)
                for path, rows in found
                for position, row in enumerate(cast("tuple[object, ...]", rows))
            ]
        else:
            found = [(f"{path}{part}.", _inside(here, part, path + part)) for path, here in found]
    for path, value in found:
        yield path[:-1], value


@lru_cache(maxsize=4096)
def _parts(pattern: str) -> tuple[str, ...]:
    return tuple(pattern.split("."))


@cache
def _names(kind: type[object]) -> frozenset[str]:
    return frozenset(kind.model_fields if issubclass(kind, BaseModel) else ())


def _inside(here: object, part: str, path: str) -> object:
    if isinstance(here, tuple):
        rows = cast("tuple[object, ...]", here)
        if part.isdecimal() and int(part) < len(rows):
            return rows[int(part)]
    elif isinstance(here, BaseModel) and part in _names(type(here)):
        return cast("object", getattr(here, part))
    raise KeyError(f"there is nothing at {part} in {path}")


def _changed(here: object, parts: list[str], how: Callable[[Any], object], path: str) -> object:
    if not parts:
        return how(here)
    first = parts[0]
    inner = _changed(_inside(here, first, path), parts[1:], how, path)
    if isinstance(here, tuple):
        position = int(first)
        rows = cast("tuple[object, ...]", here)
        return (*rows[:position], inner, *rows[position + 1 :])
    return cast("BaseModel", here).model_copy(update={first: inner})
