"""The log of a sampling plan as plain rows, to be shown or printed."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from deskapp.domain.sampling import PURPOSE_LABELS, SamplingPlan
from deskapp.i18n import _, ngettext
from deskapp.limits.sampling import repeats
from deskapp.limits.sampling_steps import StepKind, next_step, progress
from deskapp.limits.words import status_text


@dataclass(frozen=True, slots=True)
class LogFact:
    """One line above the log: a label and what stands behind it."""

    label: str
    text: str


@dataclass(frozen=True, slots=True)
class CheckRow:
    """One check, in the order made. `again` marks a unit that was checked before."""

    number: int
    day: date
    unit: str
    kind: str
    address: str
    purpose: str
    feature: str
    threshold: str
    measured: str
    met: bool
    outcome: str
    again: bool
    checked_by: str
    note: str


@dataclass(frozen=True, slots=True)
class DrawRow:
    """One draw, in the order made; with `seed` and the `pool` it can be repeated by anybody."""

    number: int
    day: date
    purpose: str
    set_number: int
    seed: int
    pool: tuple[str, ...]
    drawn: tuple[str, ...]
    repeats: bool


@dataclass(frozen=True, slots=True)
class SamplingLog:
    """All there is to print about a plan."""

    facts: tuple[LogFact, ...]
    draws: tuple[DrawRow, ...]
    checks: tuple[CheckRow, ...]
    next: str
    is_done: bool


def sampling_log(plan: SamplingPlan) -> SamplingLog:
    """Return the log of a plan: its rule and progress, every draw and every check."""
    step = next_step(plan)
    return SamplingLog(
        facts=tuple(_facts(plan)),
        draws=_draws(plan),
        checks=_checks(plan),
        next=step.text,
        is_done=step.kind is StepKind.DONE and bool(plan.unit_list.units),
    )


def _facts(plan: SamplingPlan) -> list[LogFact]:
    rule, done = plan.rule, progress(plan)
    years = rule.keep_years or 0
    keep = ngettext("{years} year", "{years} years", years).format(years=years) if years else ""
    names = _names(plan)
    open_units = ", ".join(names.get(key, key) for key in done.not_met)
    pairs = [
        (_("Project"), plan.project),
        (_("Feature"), plan.feature),
        (_("Threshold"), plan.threshold),
        (_("Rule"), rule.name),
        (_("Clause"), rule.clause),
        (_("How well it is known"), f"{status_text(rule.status)}. {_(rule.source)}"),
        (_("Units"), str(done.units)),
        (_("Checked to qualify"), str(done.qualified)),
        (_("Asked for"), str(done.asked) if done.is_qualified else _("not known yet")),
        (_("Counted"), str(done.counted)),
        (_("To be corrected and checked again"), open_units),
        (_("Statement"), _(rule.statement)),
        (_("Keep this log for"), keep),
    ]
    return [LogFact(label, text) for label, text in pairs if text]


def _names(plan: SamplingPlan) -> dict[str, str]:
    return {unit.key: unit.name for unit in plan.unit_list.units}


def _draws(plan: SamplingPlan) -> tuple[DrawRow, ...]:
    names = _names(plan)
    return tuple(
        DrawRow(
            number=number,
            day=draw.drawn_on,
            purpose=_(PURPOSE_LABELS[draw.purpose]),
            set_number=draw.set_number,
            seed=draw.seed,
            pool=tuple(names.get(key, key) for key in draw.pool),
            drawn=tuple(names.get(key, key) for key in draw.drawn),
            repeats=repeats(draw, plan),
        )
        for number, draw in enumerate(plan.draws, start=1)
    )


def _checks(plan: SamplingPlan) -> tuple[CheckRow, ...]:
    rows: list[CheckRow] = []
    seen: set[str] = set()
    units = {unit.key: unit for unit in plan.unit_list.units}
    for number, check in enumerate(plan.checks, start=1):
        unit, draw = units.get(check.unit), plan.draw_of(check.unit)
        rows.append(
            CheckRow(
                number=number,
                day=check.checked_on,
                unit=unit.name if unit else check.unit,
                kind=unit.kind if unit else "",
                address=unit.address if unit else "",
                purpose=_(PURPOSE_LABELS[draw.purpose]) if draw else _("Not drawn, does not count"),
                feature=plan.feature,
                threshold=plan.threshold,
                measured=check.measured,
                met=check.met,
                outcome=_("met") if check.met else _("not met"),
                again=check.unit in seen,
                checked_by=check.checked_by,
                note=check.note,
            )
        )
        seen.add(check.unit)
    return tuple(rows)
