"""Versions of the job format, and the steps that lift an old job to the version read here.

A step is a pure function from the job as plain data in version n to the same job in version n + 1.
It lives in a module of its own (``to_2.py``, ``to_3.py``) and imports nothing of the program, so
that it never changes once released.

History of the format:
  1  first version
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

PlainJob = dict[str, Any]
Step = Callable[[PlainJob], PlainJob]

CURRENT_VERSION = 1

STEPS: Mapping[int, Step] = {}
"""The step that leads away from each version: ``STEPS[1]`` makes version 2 out of version 1."""


def bring_up_to_date(
    job: PlainJob,
    version: int,
    *,
    target: int = CURRENT_VERSION,
    steps: Mapping[int, Step] = STEPS,
) -> PlainJob:
    """Return `job`, saved in format `version`, in format `target`; the argument is not changed.

    Raises KeyError if a step is missing, which a test of this project rules out.
    """
    for number in range(version, target):
        job = steps[number](job)
    return job
