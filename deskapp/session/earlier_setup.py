"""Copying the set-up of an earlier test: instruments, ring, target and direction.

Readings, baselines, air and results are never copied: they belong to the test they were taken in.
Within one job the whole set-up comes along, as it does with a new test; out of another job nothing
that is true of that house and day alone, such as stage, places, and what was sealed or open.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.fields import field_at, label_of
from deskapp.domain.measured import day_of
from deskapp.i18n import _, labeled
from deskapp.session.carry import JOB_TO_JOB, SET_UP, carried
from deskapp.session.instruments.copies import with_instrument
from deskapp.session.instruments.ring_pairs import matched_rings

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from deskapp.domain.instrument import Fan
    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor
    from deskapp.session.settings import Preferences

_INSTRUMENTS = ("gauge", "fan", "ring")


@dataclass(frozen=True, slots=True)
class EarlierSetUp:
    """A test whose set-up may be copied: its job and place there, and what it is called."""

    job: Job
    position: int
    title: str
    detail: str


def setups_in(job: Job, name: str, preferences: Preferences) -> tuple[EarlierSetUp, ...]:
    """Return the set-ups of the tests of `job`, which goes by `name`; empty ones are left out."""
    found: list[EarlierSetUp] = []
    formatter = preferences.formatter
    for position, test in enumerate(job.tests):
        if test.setup == type(test.setup)():
            continue
        words = test.label or label_of(f"tests.{position}")
        day = day_of(test.tested_on)
        system = job.system(test.system)
        about = (
            "" if system is None else system.name,
            "" if day is None else formatter.day(day),
            test.setup.fan_attachment,
            test.setup.tap_location,
        )
        detail = ", ".join(part for part in about if part)
        found.append(EarlierSetUp(job, position, labeled(name, words), detail))
    return tuple(found)


def setups_of_files(
    files: Iterable[Path], preferences: Preferences
) -> tuple[tuple[EarlierSetUp, ...], str]:
    """Return the set-ups in job files, and why the last file that could not be read was not."""
    from deskapp.archive import job_file
    from deskapp.archive.problems import JobFileProblem

    found: list[EarlierSetUp] = []
    why = ""
    for path in files:
        try:
            job = job_file.read(path).job
        except JobFileProblem as problem:
            why = problem.text
            continue
        name = " ".join(part for part in (job.number, job.title) if part.strip()) or path.stem
        found.extend(setups_in(job, name, preferences))
    return tuple(found), why


def copy_setup(editor: Editor, position: int, earlier: EarlierSetUp) -> tuple[str, ...]:
    """Copy an earlier set-up into the test at `position`, as one step to undo.

    Out of another job only what carries over from house to house is taken (`JOB_TO_JOB`).
    Instruments the job does not have yet are copied into it. What the earlier test left empty
    stays as it is. Returns a line for each field that was copied.
    Raises KeyError if the job has no such test.
    """
    job, source = editor.job, earlier.job
    start = f"tests.{position}.setup"
    paths.get(job, start)
    here = source is job
    patterns = SET_UP if here else JOB_TO_JOB
    job, filled = carried(source, job, patterns, source_row=earlier.position, target_row=position)
    test = source.tests[earlier.position]
    if here:
        keys = {name: getattr(test.setup, name) for name in _INSTRUMENTS}
    else:
        job, keys = _with_instruments(source, test.key, job)
    for name, key in keys.items():
        if key:
            job = paths.put(job, f"{start}.{name}", key)
            filled = (*filled, f"{start}.{name}")
    editor.take(job, lambda: _("set-up of {test}").format(test=earlier.title))
    return tuple(
        f"{_(field_at(path).label)}: {editor.shown_text(path)}"
        for path in sorted(filled, key=_place)
    )


def _place(path: str) -> int:
    """Return what puts fields in the order of the table."""
    from deskapp.domain.fields import FIELDS, pattern_of

    return [spec.path for spec in FIELDS].index(pattern_of(path))


def _with_instruments(source: Job, test_key: str, job: Job) -> tuple[Job, dict[str, str]]:
    """Return `job` with the gauge and fan of a test of `source`, and the keys they have there."""
    test = next(test for test in source.tests if test.key == test_key)
    keys: dict[str, str] = dict.fromkeys(_INSTRUMENTS, "")
    gauge, fan = source.gauge(test.setup.gauge), source.fan(test.setup.fan)
    if gauge is not None and gauge != type(gauge)(key=gauge.key):
        job, row = with_instrument(job, gauge)
        keys["gauge"] = str(paths.get(job, f"{row}.key"))
    if fan is not None and (fan.description or fan.serial or test.setup.ring):
        job, row = with_instrument(job, fan)
        there: Fan = paths.get(job, row)
        keys["fan"] = there.key
        keys["ring"] = next(
            (
                theirs.key
                for theirs, ours in matched_rings(there.rings, fan.rings)
                if theirs is not None and ours is not None and ours.key == test.setup.ring
            ),
            "",
        )
    return job, keys
