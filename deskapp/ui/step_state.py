"""How far each step of the job is: what wants attention first, then how much is filled in."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.checks_safety import asked_before_a_test
from deskapp.domain.fields import field_at
from deskapp.domain.finding import Nature
from deskapp.domain.paths import expand, get
from deskapp.domain.stops import ACKNOWLEDGED_STOP, SAFETY_STOP
from deskapp.i18n import N_
from deskapp.session.pages import page_of
from deskapp.session.rows import comes_by_itself
from deskapp.ui.glyphs import Glyph
from deskapp.ui.places import home_of

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.job import Job
    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge

PICTURES = ("photos", "sketch")


class StepState(NamedTuple):
    """How far a step is: its mark and the word for it."""

    glyph: Glyph
    word: str


_BLANK = StepState(Glyph.BLANK, N_("empty"))
_PART = StepState(Glyph.PART, N_("begun"))
_DONE = StepState(Glyph.DONE, N_("filled in"))
_STOP = StepState(Glyph.STOP, N_("must be mended"))
_SAFETY = StepState(Glyph.STOP, N_("safety first"))
_GONE_PAST = StepState(Glyph.CHECK, N_("safety first"))
_CHECK = StepState(Glyph.CHECK, N_("to be checked"))
_VERDICTS = {
    "pass": StepState(Glyph.PASS, N_("pass")),
    "fail": StepState(Glyph.FAIL, N_("fail")),
    "none": StepState(Glyph.BLANK, N_("no verdict yet")),
}


def state_of(page: Page, bridge: Bridge, full: Callable[[Page], StepState]) -> StepState:
    """Return how far a page is: what wants attention first, then how much is filled in.

    `full` tells how much of a page is filled in.
    """
    here = [f for f in bridge.findings if f.path and home_of(f.path) == page.id]
    if any(finding.nature is Nature.DANGER for finding in here):
        return _SAFETY
    levels = {str(finding.level) for finding in here}
    if "stop" in levels:
        return _STOP
    if "check" in levels:
        return _CHECK
    if page.id == "result":
        # No verdict speaks of safety, so none stands alone beside a stop, open or gone past.
        codes = {finding.code for finding in bridge.findings}
        if SAFETY_STOP in codes:
            return _SAFETY
        if ACKNOWLEDGED_STOP in codes:
            return _GONE_PAST
        return _VERDICTS[str(bridge.assessment.verdict)]
    return full(page)


def how_full(page: Page, job: Job) -> StepState:
    """Return how much of a page is filled in; photos and a sketch are something, too."""
    filled, needed = _filled_in(page, job)
    if not any(filled):
        return _PART if has_pictures(page, job) else _BLANK
    is_read = page.id != "readings" or all(test.readings for test in job.tests)
    if page.id == "safety":
        # What hurts people is asked one by one, so that one answer does not stand for the rest.
        needed.extend(get(job, path) is not None for path in asked_before_a_test(job))
    return _DONE if is_read and all(needed) else _PART


def has_pictures(page: Page, job: Job) -> bool:
    """Say whether photos or a sketch stand on a page; those of the whole job stand on one."""
    if not any(page_of(name) == page.id for name in PICTURES):
        return False
    of_leaks = any(leak.photos for leak in job.leaks)
    return bool(job.photos) or of_leaks or not job.sketch.is_blank


def _filled_in(page: Page, job: Job) -> tuple[list[bool], list[bool]]:
    """Return for each field of the page, and for each needed one, whether it is filled in.

    What a new row comes with is nothing a person entered.
    """
    filled: list[bool] = []
    needed: list[bool] = []
    for section in page.sections:
        for pattern in section.fields:
            values = [value for _path, value in expand(job, pattern)]
            answers = [value not in (None, "") for value in values]
            filled.extend(
                is_there and not comes_by_itself(pattern, value)
                for is_there, value in zip(answers, values, strict=True)
            )
            if field_at(pattern).needed:
                needed.extend(answers or [False])
    return filled, needed
