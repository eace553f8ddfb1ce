"""What the window asks about sampling: rules, a list of units, draws, checks, the log, the file."""

from __future__ import annotations

import json
import re
import secrets
from collections.abc import Iterator
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, cast

from pydantic import ValidationError

from deskapp.domain.sampling import (
    SampleUnit,
    SamplingPlan,
    SamplingRule,
    UnitCheck,
    UnitList,
)
from deskapp.i18n import _
from deskapp.limits.faults import faults_of
from deskapp.limits.sampling import SamplingProblem as SamplingProblem
from deskapp.limits.sampling import load_sampling_rules
from deskapp.limits.sampling_log import SamplingLog, sampling_log
from deskapp.limits.sampling_record import draw_next, record
from deskapp.limits.sampling_steps import NextStep as NextStep
from deskapp.limits.sampling_steps import PlanProgress as PlanProgress
from deskapp.limits.sampling_steps import StepKind as StepKind
from deskapp.limits.sampling_steps import next_step, progress
from deskapp.session.sampling_numbers import refuse_contradiction
from deskapp.units.display import in_sentences, style_of_sentences, writing
from deskapp.units.problems import Problem
from deskapp.units.when import read_day

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.session.settings import Preferences
    from deskapp.units.numbers import NumberStyle

EXTENSION = ".ductsample"
SAMPLING = "sampling"
_FORMAT, _VERSION = "ductfolio-sampling", 1
_MOST_UNITS = 10_000
_LARGEST_FILE = 50_000_000
_LARGEST_SEED = 1_000_000_000

__all__ = [
    "EXTENSION",
    "NextStep",
    "PlanProgress",
    "SamplingProblem",
    "StepKind",
    "draw",
    "enter_check",
    "log",
    "new_seed",
    "next_step",
    "open_plan",
    "progress",
    "read_units",
    "rules",
    "save_plan",
    "start",
]


def rules(resources: Path) -> tuple[tuple[SamplingRule, ...], tuple[Finding, ...]]:
    """Return the sampling rules of the program, and what is the matter with files that are none."""
    return load_sampling_rules(resources / SAMPLING)


def read_units(text: str, style: NumberStyle | None = None) -> UnitList:
    """Read a list of units, typed or pasted: one a line, name, kind and address apart by tab or ;.

    Blank lines are passed over. Raises SamplingProblem that names the line; its numbers are
    written in `style`, or as usual in the language.
    """
    units: list[SampleUnit] = []
    names: dict[str, int] = {}
    for number, line in _lines(text):
        name, kind, address = _columns(line)
        if not name:
            problem = _("Line {n} (“{line}”) names no unit. Write its name first.")
            raise SamplingProblem("no-name", problem.format(n=number, line=line.strip()[:40]))
        earlier = names.setdefault(name.casefold(), number)
        if earlier != number:
            problem = _("Line {n} repeats “{name}” of line {m}. Give each unit a name of its own.")
            raise SamplingProblem("twice", problem.format(n=number, name=name, m=earlier))
        units.append(SampleUnit(key=f"u{len(units) + 1}", name=name, kind=kind, address=address))
        if len(units) > _MOST_UNITS:
            problem = _("The list has more than {most} units. Make one plan for each building.")
            with writing(style or style_of_sentences()):
                most = in_sentences().number(_MOST_UNITS, 0)
            raise SamplingProblem("too-many", problem.format(most=most))
    return UnitList(units=tuple(units))


def _lines(text: str) -> Iterator[tuple[int, str]]:
    for number, line in enumerate(text.splitlines(), start=1):
        if line.strip():
            yield number, line


def _columns(line: str) -> tuple[str, str, str]:
    parts = [" ".join(part.split()) for part in re.split(r"[\t;]", line, maxsplit=2)]
    name, kind, address = (*parts, "", "")[:3]
    return name, kind, address


def start(
    rule: SamplingRule, units: UnitList, project: str, feature: str, threshold: str
) -> SamplingPlan:
    """Return a new plan: one feature of one project. The rule is copied into it."""
    return SamplingPlan(
        project=project, feature=feature, threshold=threshold, rule=rule, unit_list=units
    )


def new_seed() -> int:
    """Return a seed nobody could foresee; it is recorded with the draw, to repeat it."""
    return secrets.randbelow(_LARGEST_SEED)


def draw(plan: SamplingPlan, on: date, seed: int | None = None) -> SamplingPlan:
    """Return the plan with the units drawn that are due. Raises SamplingProblem if none are."""
    return draw_next(plan, new_seed() if seed is None else seed, on)


def enter_check(
    plan: SamplingPlan,
    unit: str,
    *,
    met: bool,
    day: str,
    preferences: Preferences,
    measured: str = "",
    checked_by: str = "",
    note: str = "",
) -> SamplingPlan:
    """Return the plan with one more check; `unit` is a key, `day` as typed.

    Raises SamplingProblem for a day that cannot be read, for a check that cannot be, and for one
    that met the threshold with a result above it.
    """
    read = read_day(day, preferences.number_style, preferences.unit_system)
    if isinstance(read, Problem):
        raise SamplingProblem(read.code, read.text)
    if met:
        refuse_contradiction(plan.threshold, measured, preferences.number_style)
    check = UnitCheck(
        unit=unit,
        met=met,
        checked_on=read,
        measured=measured,
        checked_by=checked_by,
        note=note,
    )
    return record(plan, check)


def log(plan: SamplingPlan) -> SamplingLog:
    """Return the log of a plan as plain rows."""
    return sampling_log(plan)


def plan_text(plan: SamplingPlan) -> bytes:
    """Return what stands in the file of a plan; the same plan always gives the same bytes."""
    data = {"format": _FORMAT, "version": _VERSION, "plan": plan.model_dump(mode="json")}
    return f"{json.dumps(data, ensure_ascii=False, indent=1)}\n".encode("utf-8", "replace")


def save_plan(plan: SamplingPlan, path: Path) -> Path:
    """Write a plan and return its file; the ending is added if missing. Raises SamplingProblem."""
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole

    target = path if path.suffix.lower() == EXTENSION else path.with_name(path.name + EXTENSION)
    try:
        write_whole(target, plan_text(plan))
    except JobFileProblem as problem:
        raise SamplingProblem(problem.code, problem.text) from problem
    return target


def open_plan(path: Path) -> SamplingPlan:
    """Read a plan. Raises SamplingProblem in plain words for whatever is no plan."""
    try:
        if path.stat().st_size > _LARGEST_FILE:
            raise _unreadable(path, "too-large", _("It is larger than a plan can be."))
        data: object = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        why = error.strerror or type(error).__name__
        raise _unreadable(path, "read", f"{why}.") from error
    except (ValueError, RecursionError) as error:
        raise _unreadable(path, "damaged", _("It is damaged or no such file.")) from error
    entries = cast("dict[str, object]", data) if isinstance(data, dict) else {}
    if entries.get("format") != _FORMAT:
        raise _unreadable(path, "no-plan", _("It holds no sampling plan."))
    if entries.get("version") != _VERSION:
        raise _unreadable(path, "version", _("A later version of the program wrote it."))
    try:
        return SamplingPlan.model_validate_json(json.dumps(entries.get("plan")))
    except ValidationError as error:
        plan = entries.get("plan")
        known = cast("dict[str, object]", plan) if isinstance(plan, dict) else {}
        fault = faults_of(error, known)[0]
        raise _unreadable(path, "damaged", f"{fault.text}.") from error


def _unreadable(path: Path, code: str, why: str) -> SamplingProblem:
    text = _("{file} cannot be opened. {why}").format(file=path.name, why=why)
    return SamplingProblem(code, text)
