"""Guarding the floor area: it decides the verdict, and it is the figure most often mistaken."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator

from deskapp.domain.checks_systems import USUAL_AREA_PER_TON_FT2
from deskapp.domain.choices import CHOICE_LABELS, AreaSource
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.result import (
    AreaCheck,
    AreaOutcome,
    HouseResult,
    LimitOutcome,
    SystemResult,
    TestResult,
    Verdict,
)
from deskapp.domain.system import DuctSystem
from deskapp.i18n import N_, _
from deskapp.physics import leakage
from deskapp.units.convert import to_unit
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

SAME_AREA = 0.005
"""Figures that agree within this share count as the same area: rounding between units. House
rule."""

_VERDICTS = {
    Verdict.PASS: N_("meets the limit"),
    Verdict.FAIL: N_("does not meet the limit"),
    Verdict.NONE: N_("no verdict"),
}

Judge = Callable[[DuctSystem], Iterable[LimitOutcome]]


def figures(system: DuctSystem) -> dict[AreaSource, Measured]:
    """Return the figures given for the area of a system beside the area served, by source."""
    given = {
        AreaSource.PLANS: system.area_from_plans,
        AreaSource.ESTIMATED: system.area_estimated,
        AreaSource.MEASURED: system.area_measured,
    }
    return {source: area for source, area in given.items() if area is not None and area.si}


def side_by_side(
    system: DuctSystem,
    outcomes: Iterable[LimitOutcome],
    results: dict[str, TestResult],
    judge_as: Judge,
) -> tuple[AreaOutcome, ...]:
    """Return what each figure for the area leads to, limit by limit.

    Args:
        system: the system as it is judged; its area served decides.
        outcomes: what it was judged to.
        results: the tests worked out, by key.
        judge_as: judges the same tests as those of another system (one with another area).

    Returns:
        One entry for each limit and figure; none where fewer than two figures differ, or for a
        limit that does not depend on the area.
    """
    given = figures(system)
    served = system.area_served
    columns: list[tuple[AreaSource | None, Measured, bool]] = [
        (source, area, area.si == si_of(served)) for source, area in given.items()
    ]
    if served is not None and served.si and not any(decides for _s, _a, decides in columns):
        columns.insert(0, (None, served, True))
    if len({area.si for _source, area, _decides in columns}) < 2:
        return ()
    found: dict[tuple[str, str], list[AreaOutcome]] = {}
    for source, area, decides in columns:
        as_if = outcomes if decides else judge_as(_serving(system, area))
        for outcome in as_if:
            if outcome.test:
                entry = _entry(outcome, source, area, results).model_copy(
                    update={"decides": decides}
                )
                found.setdefault((outcome.limit, outcome.test), []).append(entry)
    return tuple(entry for entries in found.values() if _differ(entries) for entry in entries)


def _serving(system: DuctSystem, area: Measured) -> DuctSystem:
    return system.model_copy(update={"area_served": area})


def _entry(
    outcome: LimitOutcome,
    source: AreaSource | None,
    area: Measured,
    results: dict[str, TestResult],
) -> AreaOutcome:
    assert area.si
    flow = results[outcome.test].flow
    return AreaOutcome(
        limit=outcome.limit,
        edition=outcome.edition,
        test=outcome.test,
        source=source,
        area=area.si,
        flow_per_area=None if flow is None else leakage.flow_per_area(flow, area.si),
        row=outcome.row,
        verdict=outcome.verdict,
        reason=outcome.reason,
        measured=outcome.measured,
        limit_value=outcome.limit_value,
        margin=outcome.margin,
        unit=outcome.unit,
    )


def _differ(entries: Iterable[AreaOutcome]) -> bool:
    """Say whether the figure makes a difference: another limit, another row, another verdict."""
    return len({(entry.limit_value, entry.row, entry.verdict) for entry in entries}) > 1


def house_areas(job: Job, systems: tuple[SystemResult, ...]) -> HouseResult:
    """Return the areas of house and systems beside each other, without any flow."""
    house = si_of(job.house.floor_area)
    areas = [si_of(system.area_served) for system in job.systems]
    known = [area for area in areas if area is not None]
    total = sum(known) if known and len(known) == len(areas) else None
    gap = (total - house) / house if total is not None and house else None
    checks = tuple(
        _area_check(system, result.name, house)
        for system, result in zip(job.systems, systems, strict=True)
    )
    return HouseResult(
        area=house,
        area_source=job.house.area_source,
        system_area=total,
        area_gap=gap,
        area_checks=checks,
    )


def _area_check(system: DuctSystem, name: str, house: float | None) -> AreaCheck:
    area, capacity = si_of(system.area_served), si_of(system.cooling_capacity)
    per_ton, usual = None, None
    if area is not None and capacity is not None and capacity > 0:
        per_ton = area / to_unit(capacity, "ton")
        low, high = USUAL_AREA_PER_TON_FT2
        usual = low <= to_unit(per_ton, "ft2") <= high
    return AreaCheck(
        system=system.key,
        name=name,
        area=area,
        house_share=area / house if area is not None and house else None,
        area_per_ton=per_ton,
        per_ton_usual=usual,
    )


def area_findings(
    job: Job, systems: tuple[SystemResult, ...], house: HouseResult
) -> Iterator[Finding]:
    """Yield what is to be said about the areas: figures that disagree, a total that hides."""
    for position, (system, result) in enumerate(zip(job.systems, systems, strict=True)):
        yield from _not_the_figure_named(position, system, job.house.area_source)
        yield from _hangs_on_the_area(position, result)
    failing = [
        (position, result.name)
        for position, result in enumerate(systems)
        if result.verdict is Verdict.FAIL
    ]
    if house.would_hide and failing:
        yield Finding(
            level=Level.CHECK,
            code="house_hides",
            path=f"systems.{failing[0][0]}.area_served",
            what=_(
                "All systems together stay within their limits, yet not each one does: {names}."
            ).format(names=", ".join(name for _position, name in failing)),
            allowed=_("Each system is judged by itself, on the area it serves."),
            mend=_("Seal it and test it again; the total of the house does not count."),
        )


def _not_the_figure_named(
    position: int, system: DuctSystem, source: AreaSource | None
) -> Iterator[Finding]:
    """Say so where the area served is not the figure of the source that is named for the areas."""
    served, named = system.area_served, figures(system).get(source) if source else None
    if served is None or not served.si or named is None or not named.si:
        return
    if math.isclose(served.si, named.si, rel_tol=SAME_AREA):
        return
    yield Finding(
        level=Level.CHECK,
        code="area_not_from_source",
        path=f"systems.{position}.area_served",
        what=_("System {n} serves {served}, but the figure “{source}” is {named}.").format(
            n=position + 1,
            served=in_sentences().both(Kind.AREA, served.si),
            source=_source_words(source),
            named=in_sentences().both(Kind.AREA, named.si),
        ),
        mend=_("Enter the figure the verdict is to rest on as the floor area served."),
    )


def _hangs_on_the_area(position: int, result: SystemResult) -> Iterator[Finding]:
    by_limit: dict[tuple[str, str], list[AreaOutcome]] = {}
    for entry in result.areas:
        by_limit.setdefault((entry.limit, entry.test), []).append(entry)
    for entries in by_limit.values():
        if len({entry.verdict for entry in entries}) < 2:
            continue
        told = "; ".join(
            f"{_source_words(entry.source)}, {in_sentences().both(Kind.AREA, entry.area)}: "
            f"{_(_VERDICTS[entry.verdict])}"
            for entry in entries
        )
        yield Finding(
            level=Level.CHECK,
            code="area_decides",
            path=f"systems.{position}.area_served",
            what=_("{system}, {edition}: the verdict hangs on the floor area. {told}.").format(
                system=result.name, edition=entries[0].edition, told=told
            ),
            mend=_("Settle which figure is right; the floor area served decides."),
        )


def _source_words(source: AreaSource | None) -> str:
    return _("Area served") if source is None else _(CHOICE_LABELS[AreaSource][source.value])
