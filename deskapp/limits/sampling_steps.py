"""What comes next in a sampling plan: qualify, draw, check, correct, qualify again, or done.

Everything follows from the plan alone, so a plan read from a file goes on where it stopped.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from deskapp.domain.sampling import (
    OnePerSet,
    Purpose,
    SamplingPlan,
    ShareOfRest,
    UnitCheck,
)
from deskapp.i18n import _, ngettext
from deskapp.limits.sampling import share_size


class StepKind(StrEnum):
    """What is to be done next."""

    DRAW = "draw"
    CHECK = "check"
    CORRECT = "correct"
    DONE = "done"


@dataclass(frozen=True, slots=True)
class NextStep:
    """What is to be done next, in words and as data.

    `units` are the pool to draw from, or the units to check or correct. `count` is how many to
    draw. `must_have` are kinds that have to be among them.
    """

    kind: StepKind
    text: str
    units: tuple[str, ...] = ()
    count: int = 0
    purpose: Purpose | None = None
    set_number: int = 0
    must_have: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class PlanProgress:
    """How far a plan is: units in all, used to qualify, asked for after that, counted, open."""

    units: int
    qualified: int
    is_qualified: bool
    asked: int
    counted: int
    not_met: tuple[str, ...]
    must_requalify: bool = False


@dataclass
class _Tally:
    """The log read in order, once for each plan."""

    plan: SamplingPlan
    first: dict[str, bool] = field(default_factory=dict[str, bool])
    latest: dict[str, bool] = field(default_factory=dict[str, bool])
    qualifying: list[str] = field(default_factory=list[str])
    sampled: list[str] = field(default_factory=list[str])
    streak: int = 0
    is_qualified: bool = False
    must_requalify: bool = False

    @property
    def not_met(self) -> tuple[str, ...]:
        """Units whose last check did not meet the threshold, in the order of the list."""
        return tuple(key for key in _keys(self.plan) if self.latest.get(key) is False)

    def counts(self, key: str) -> bool:
        """Whether a unit was both drawn and checked."""
        return key in self.first and self.plan.draw_of(key) is not None

    @property
    def unchecked(self) -> tuple[str, ...]:
        return tuple(key for key in _keys(self.plan) if key not in self.first)

    def pending(self, *purposes: Purpose, set_number: int = 0) -> tuple[str, ...]:
        """Units drawn for one of `purposes` and not checked yet, in the order drawn."""
        return tuple(
            key
            for draw in self.plan.draws
            if draw.purpose in purposes and draw.set_number == set_number
            for key in draw.drawn
            if key not in self.first
        )

    @property
    def undrawn(self) -> tuple[str, ...]:
        """Units neither checked nor drawn, in the order of the list."""
        held = {key for draw in self.plan.draws for key in draw.drawn}
        return tuple(key for key in self.unchecked if key not in held)


def _keys(plan: SamplingPlan) -> tuple[str, ...]:
    return tuple(unit.key for unit in plan.unit_list.units)


def _tally(plan: SamplingPlan) -> _Tally:
    tally = _Tally(plan)
    scheme = plan.rule.scheme
    tally.is_qualified = scheme.qualify == 0
    for check in plan.checks:
        is_first = check.unit not in tally.first
        still_open = bool(tally.not_met)
        tally.first.setdefault(check.unit, check.met)
        tally.latest[check.unit] = check.met
        if is_first:
            _count(tally, check, still_open=still_open)
        elif tally.must_requalify and _requalify(scheme) == 0 and not tally.not_met:
            tally.must_requalify = False
    return tally


def _requalify(scheme: ShareOfRest | OnePerSet) -> int:
    return scheme.requalify if isinstance(scheme, ShareOfRest) else 0


def _count(tally: _Tally, check: UnitCheck, *, still_open: bool) -> None:
    """Count the first check of a unit by what it was drawn for; others count for nothing."""
    draw = tally.plan.draw_of(check.unit)
    purpose = draw.purpose if draw else None
    scheme = tally.plan.rule.scheme
    if not tally.is_qualified:
        tally.qualifying.append(check.unit)
        if purpose is Purpose.QUALIFY or not check.met:
            tally.streak = tally.streak + 1 if check.met else 0
        tally.is_qualified = tally.streak >= scheme.qualify
        if tally.is_qualified:
            tally.streak = 0
        return
    if isinstance(scheme, OnePerSet):
        return
    if tally.must_requalify:
        if purpose is Purpose.REQUALIFY and not still_open:
            tally.streak = tally.streak + 1 if check.met else 0
        elif not check.met:
            tally.streak = 0
        tally.must_requalify = tally.streak < scheme.requalify
        return
    if purpose is Purpose.SAMPLE:
        tally.sampled.append(check.unit)
    if not check.met:
        tally.must_requalify, tally.streak = True, 0


def progress(plan: SamplingPlan) -> PlanProgress:
    """Return how far a plan is."""
    tally = _tally(plan)
    units, scheme = len(_keys(plan)), plan.rule.scheme
    if isinstance(scheme, ShareOfRest):
        asked = share_size(scheme, units, len(tally.qualifying)) if tally.is_qualified else 0
        counted = len(tally.sampled)
    else:
        sets = _sets(plan, tally)
        asked = len(sets)
        counted = sum(1 for one in sets if any(tally.counts(key) for key in one))
    return PlanProgress(
        units=units,
        qualified=len(tally.qualifying),
        is_qualified=tally.is_qualified,
        asked=asked,
        counted=counted,
        not_met=tally.not_met,
        must_requalify=tally.must_requalify,
    )


def next_step(plan: SamplingPlan) -> NextStep:
    """Return what is to be done next by the plan's rule."""
    if not plan.unit_list.units:
        return NextStep(StepKind.DONE, _("The list has no units yet. Enter them first."))
    tally = _tally(plan)
    scheme = plan.rule.scheme
    if not tally.is_qualified:
        step = _qualify(tally, Purpose.QUALIFY, scheme.qualify)
    elif isinstance(scheme, ShareOfRest):
        step = _share(tally, scheme)
    else:
        step = _by_sets(tally, scheme)
    return step or _finish(tally)


def _qualify(tally: _Tally, purpose: Purpose, wanted: int) -> NextStep | None:
    if purpose is Purpose.REQUALIFY and tally.not_met:
        return _correct(tally.not_met)
    pending = tally.pending(purpose)
    if pending:
        text = _("Check these units; {count} in a row must meet the threshold.")
        return _check(pending, purpose, text.format(count=wanted))
    if not tally.undrawn:
        return None
    missing = wanted - tally.streak
    text = _(
        "Draw {missing} more: {wanted} units in a row must meet the threshold, {streak} do so far."
    )
    return _draw(
        tally.undrawn,
        missing,
        purpose,
        text.format(missing=missing, wanted=wanted, streak=tally.streak),
    )


def _share(tally: _Tally, scheme: ShareOfRest) -> NextStep | None:
    if tally.must_requalify:
        return _qualify(tally, Purpose.REQUALIFY, scheme.requalify)
    if tally.not_met:
        return _correct(tally.not_met)
    pending = tally.pending(Purpose.SAMPLE)
    if pending:
        return _check(pending, Purpose.SAMPLE, _("Check the units drawn."))
    plan = tally.plan
    asked = share_size(scheme, len(_keys(plan)), len(tally.qualifying))
    missing = asked - len(tally.sampled)
    must_have = _kinds_to_come(tally) if plan.rule.each_kind_once else ()
    if not tally.undrawn or (missing <= 0 and not must_have):
        return None
    count = max(missing, len(must_have))
    text = ngettext(
        "Draw {count} unit: {asked} are asked for, {counted} count so far.",
        "Draw {count} units: {asked} are asked for, {counted} count so far.",
        count,
    )
    return _draw(
        tally.undrawn,
        count,
        Purpose.SAMPLE,
        text.format(count=count, asked=asked, counted=len(tally.sampled)),
        must_have=must_have,
    )


def _kinds_to_come(tally: _Tally) -> tuple[str, ...]:
    """Kinds of unit not among those sampled that can still be drawn, in the order of the list."""
    kind_of = {unit.key: unit.kind for unit in tally.plan.unit_list.units}
    done = {kind_of[key] for key in tally.sampled}
    return tuple(dict.fromkeys(kind_of[key] for key in tally.undrawn if kind_of[key] not in done))


def _sets(plan: SamplingPlan, tally: _Tally) -> list[tuple[str, ...]]:
    """The rest of the units, in the order of the list, parted into sets."""
    scheme = plan.rule.scheme
    if not isinstance(scheme, OnePerSet) or not tally.is_qualified:
        return []
    rest = [key for key in _keys(plan) if key not in tally.qualifying]
    size = scheme.set_size
    return [tuple(rest[start : start + size]) for start in range(0, len(rest), size)]


def _by_sets(tally: _Tally, scheme: OnePerSet) -> NextStep | None:
    if tally.not_met:
        return _correct(tally.not_met)
    for number, keys in enumerate(_sets(tally.plan, tally), start=1):
        step = _one_set(tally, scheme, number, keys)
        if step is not None:
            return step
    return None


def _one_set(
    tally: _Tally, scheme: OnePerSet, number: int, keys: tuple[str, ...]
) -> NextStep | None:
    purposes = (Purpose.SAMPLE, Purpose.FURTHER, Purpose.WHOLE_SET)
    pending = tally.pending(*purposes, set_number=number)
    words = _("set {number} of {size} units").format(number=number, size=len(keys))
    if pending:
        text = _("Check the units drawn from {set}.").format(set=words)
        return _check(pending, Purpose.SAMPLE, text, number)
    checked = [key for key in keys if tally.counts(key)]
    missed = [key for key in keys if tally.first.get(key) is False]
    left = tuple(key for key in keys if key not in tally.first)
    if not left:
        return None
    if not checked:
        text = _("Draw one unit from {set}.").format(set=words)
        return _draw(left, 1, Purpose.SAMPLE, text, set_number=number)
    if not missed:
        return None
    if scheme.further == 0 or len(missed) > 1:
        text = _("Check all the rest of {set}: {missed} did not meet the threshold.")
        return _draw(
            left,
            len(left),
            Purpose.WHOLE_SET,
            text.format(set=words, missed=len(missed)),
            set_number=number,
        )
    wanted = scheme.further - (len(checked) - 1)
    if wanted <= 0:
        return None
    text = _("Draw {count} more from {set}: one did not meet the threshold.")
    return _draw(
        left,
        wanted,
        Purpose.FURTHER,
        text.format(count=wanted, set=words),
        set_number=number,
    )


def _finish(tally: _Tally) -> NextStep:
    if tally.not_met:
        return _correct(tally.not_met)
    if not tally.unchecked:
        return NextStep(StepKind.DONE, _("Done: every unit was checked."))
    return NextStep(StepKind.DONE, _("Done: all the checks the rule asks for were made."))


def _draw(
    pool: tuple[str, ...],
    count: int,
    purpose: Purpose,
    text: str,
    *,
    set_number: int = 0,
    must_have: tuple[str, ...] = (),
) -> NextStep:
    count = min(count, len(pool))
    return NextStep(StepKind.DRAW, text, pool, count, purpose, set_number, must_have)


def _check(units: tuple[str, ...], purpose: Purpose, text: str, set_number: int = 0) -> NextStep:
    return NextStep(StepKind.CHECK, text, units, 0, purpose, set_number)


def _correct(units: tuple[str, ...]) -> NextStep:
    text = _("Correct these units and check them again before anything else.")
    return NextStep(StepKind.CORRECT, text, units)
