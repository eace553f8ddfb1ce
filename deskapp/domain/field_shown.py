"""Which fields a job calls for: some matter only once another field holds a certain answer."""

from __future__ import annotations

from itertools import takewhile
from typing import TYPE_CHECKING

from deskapp.domain import paths

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.job import Job


def is_called_for(job: Job, spec: FieldSpec, path: str) -> bool:
    """Say whether the job calls for the field at `path`.

    A condition in the same row of the same list is looked up in that row, any other in all rows.

    Args:
        job: the job.
        spec: the field.
        path: where it stands, with its position among the rows.
    """
    when = spec.shown_when
    if when is None:
        return True
    pattern = _in_same_row(when.path, spec.path, path)
    held = (value for _place, value in paths.expand(job, pattern))
    if when.values:
        return any(str(value) in when.values for value in held if value is not None)
    return any(bool(value) for value in held)


def _in_same_row(wanted: str, pattern: str, path: str) -> str:
    """Return `wanted` with the positions of `path` for the rows it shares with `pattern`."""
    parts = wanted.split(".")
    trio = zip(parts, pattern.split("."), path.split("."), strict=False)
    shared = [at for _want, _have, at in takewhile(lambda t: t[0] == t[1], trio)]
    return ".".join((*shared, *parts[len(shared) :]))
