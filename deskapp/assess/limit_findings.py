"""The messages about the chosen limits: none chosen, none that decides, a row against the facts."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.result import LimitOutcome, SystemResult, Verdict
from deskapp.i18n import _


def limit_findings(
    job: Job, systems: tuple[SystemResult, ...], held: frozenset[str] = frozenset()
) -> Iterator[Finding]:
    """Yield what is to be said about the limits the job is judged by, each at its field.

    Nothing is said of the tests `held` by a value that cannot be used: the stop of that value
    says it.
    """
    if any(test.was_read for test in job.tests) and not job.compliance.limits:
        yield Finding(
            level=Level.CHECK,
            code="limit_missing",
            path="compliance.limits",
            what=_("No limit is chosen, so there is no verdict."),
            mend=_("Choose the code or program the job is judged by."),
        )
    for position, system in enumerate(systems):
        yield from _sides_only(job, system)
        for outcome in system.outcomes:
            if outcome.test in held and not outcome.is_waived:
                continue
            path = _path(job, position, outcome)
            level = Level.CHECK if _was_read(job, outcome) else Level.NOTE
            yield from _about(path, f"systems.{position}.name", system.name, outcome, level)


def _sides_only(job: Job, system: SystemResult) -> Iterator[Finding]:
    """Yield the remark on a system that a limit cannot judge, since its sides alone were read."""
    tests = job.tests_of(system.system)
    read = [test for test in tests if test.was_read]
    if not job.compliance.limits or not read or any(test.setup.is_whole for test in tests):
        return
    yield Finding(
        level=Level.CHECK,
        code="one_side_only",
        path=f"tests.{job.tests.index(read[-1])}.setup.part",
        what=_("{system}: no verdict. {reason}").format(system=system.name, reason=system.reason),
        mend=_("Test the whole system, or correct what was tested."),
    )


def _path(job: Job, position: int, outcome: LimitOutcome) -> str:
    """Return where a reason can be mended: the field it names, of this system or this test."""
    tests = [test.key for test in job.tests]
    if outcome.field.startswith("tests.*.") and outcome.test in tests:
        return outcome.field.replace("tests.*.", f"tests.{tests.index(outcome.test)}.", 1)
    path = outcome.field.replace("systems.*.", f"systems.{position}.", 1)
    return f"systems.{position}.name" if "*" in path or not path else path


def _was_read(job: Job, outcome: LimitOutcome) -> bool:
    """Say whether a verdict is due: the test was read, or a test that is asked for is missing.

    Until then an answer that is missing is no more than that, and only noted.
    """
    test = job.test(outcome.test)
    return test is None or test.was_read


def _about(
    path: str, system_path: str, name: str, outcome: LimitOutcome, level: Level
) -> Iterator[Finding]:
    """Yield what there is to say about one outcome; `level` is that of a missing verdict."""
    names = {"system": name, "edition": outcome.edition}
    if outcome.waiver:
        yield Finding(
            level=Level.NOTE,
            code="waived",
            path=system_path,
            what=_("{system}, {edition}: the test is not asked for. {waiver}").format(
                **names, waiver=outcome.waiver
            ),
        )
    if outcome.verdict is Verdict.NONE and outcome.reason and not outcome.is_waived:
        yield Finding(
            level=level,
            code="not_decided" if outcome.test else "test_missing",
            path=path,
            what=_("{system}, {edition}: no verdict. {reason}").format(
                **names, reason=outcome.reason
            ),
        )
    elif outcome.against:
        yield Finding(
            level=Level.CHECK,
            code="row_against_facts",
            path=path,
            what=_("{system}, {edition}: {against}").format(**names, against=outcome.against),
            allowed=_("The verdict is drawn by that row all the same."),
            mend=_("Correct the answer, or choose the row that fits."),
        )
