"""Carrying fields from one job into another, by the field table: never readings or results."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.field_spec import Form
from deskapp.domain.fields_trial import TESTS

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.job import Job

SET_UP = tuple(
    spec.path
    for spec in TESTS
    if spec.path.startswith("tests.*.setup.") and spec.form is not Form.REFERENCE
)
"""How a test was arranged, without the instruments, which are rows of the job themselves."""

JOB_TO_JOB = tuple(
    f"tests.*.setup.{name}"
    for name in (
        "metric",
        "method",
        "direction",
        "reference",
        "target_pressure",
        "averaging_time",
        "flow_basis",
    )
)
"""What of it may hold in another house: how the tester works, never what was found or done there.

A list of what comes along, so that a new field stays behind until somebody thinks about it.
"""


def carried(
    source: Job,
    target: Job,
    patterns: Iterable[str],
    *,
    source_row: int = 0,
    target_row: int = 0,
) -> tuple[Job, tuple[str, ...]]:
    """Return `target` with what `source` holds under `patterns`, and the paths that were filled.

    Args:
        source: where the values come from; what is empty there is left as it is.
        target: where they go.
        patterns: fields, each in at most one list (``tests.*.setup.direction``).
        source_row: the row of the list to take from.
        target_row: the row of the list to fill; nothing happens where there is none.
    """
    filled: list[str] = []
    for pattern in patterns:
        path = pattern.replace("*", str(target_row))
        try:
            value = paths.get(source, pattern.replace("*", str(source_row)))
            paths.get(target, path)
        except KeyError:
            continue
        if value is not None and value != "":
            target = paths.put(target, path, value)
            filled.append(path)
    return target, tuple(filled)
