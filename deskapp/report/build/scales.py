"""The drawn scale of a system, and the hole its leaks are likened to."""

from __future__ import annotations

from dataclasses import replace
from math import log
from typing import TYPE_CHECKING

from deskapp.domain.choices import BuildingType, Metric
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.report.blocks import Paragraph, Scale, ScaleMark, TextRole, Zone
from deskapp.report.build.context import (
    SAME_PRESSURE_PA,
    VERDICT_SIGNS,
    Context,
    SystemView,
    TestView,
)
from deskapp.report.build.figures import PlainFigures, plain_figures
from deskapp.report.build.wording import fill, fill_text
from deskapp.units.convert import from_unit, kind_of, to_unit
from deskapp.units.display import UnitSystem
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.repair_result import RetestResult
    from deskapp.report.blocks import Block
    from deskapp.report.template_homeowner import Everyday, HoleSpec, Orientation, ScaleSpec

_ROOM_BEYOND = 1.12
"""The scale goes this much beyond its greatest number."""
_ROOM_BEYOND_LIMIT = 1.35
"""It goes this much beyond the limit, so that there is room on either side of it."""
_UNLIKE_HOMES = {BuildingType.COMMERCIAL, BuildingType.MANUFACTURED}


def scales(context: Context, spec: ScaleSpec) -> list[Block]:
    """Build the scales, in the order of the systems; only the worst ones if there are many."""
    if spec.none_when and context.prints(spec.none_when, ()):
        return []
    most = spec.most if context.prints((), spec.one_when) else 1
    shown = {view.index for view in _worst(context.systems, most)}
    blocks: list[Block] = []
    notes: dict[str, None] = {}
    units: set[str] = set()
    for view in context.systems:
        if view.index not in shown:
            continue
        figures = plain_figures(context.formatter, view)
        if figures is None:
            names = {**context.names, "system": view.name, "serves": view.system.serves}
            blocks.append(Paragraph(fill_text(spec.no_result, names)))
            continue
        retest = _retest_of(context, view)
        marks = [] if retest else _orientation(context, spec, view, figures)
        scale = _scale(context, spec, view, figures, [mark for mark, _note in marks])
        blocks.append(replace(scale, unit="") if scale.unit in units else scale)
        if retest is not None:
            blocks += _about_retest(context, spec, view, figures, retest)
        units.add(scale.unit)
        notes.update((note, None) for _mark, note in marks)
    blocks += [Paragraph(fill_text(note, context.names), TextRole.QUIET) for note in notes]
    return blocks


def _scale(
    context: Context,
    spec: ScaleSpec,
    view: SystemView,
    figures: PlainFigures,
    orientation: list[ScaleMark],
) -> Scale:
    names = {**context.names, **_scale_names(context, view, figures)}
    retest = _retest_of(context, view)
    before = _before(spec, figures, names, retest)
    others = [*orientation, before] if before else orientation
    numbers = [figures.measured, figures.limit, figures.high, *(mark.at for mark in others)]
    greatest = max(number for number in numbers if number is not None)
    maximum = max(greatest * _ROOM_BEYOND, (figures.limit or 0.0) * _ROOM_BEYOND_LIMIT) or 1.0
    limit_words = spec.required if figures.more_is_better else spec.limit
    return Scale(
        title=fill(spec.title, names).rstrip(" ,·"),
        unit=fill(spec.unit if _is_flow(figures) else spec.unit_alone, names),
        sign=VERDICT_SIGNS[view.result.verdict],
        maximum=maximum,
        measured=ScaleMark(figures.measured, fill(spec.measured, names)),
        limit=None if figures.limit is None else ScaleMark(figures.limit, fill(limit_words, names)),
        zones=_zones(spec, figures, maximum),
        marks=tuple(orientation),
        before=before,
        told_apart=retest is not None and retest.told_apart,
        low=figures.low,
        high=figures.high,
        description=fill(_described(spec, figures, before), names),
        note=fill(spec.range_note, names) if figures.low is not None else "",
    )


def _is_flow(figures: PlainFigures) -> bool:
    return kind_of(figures.unit) is Kind.FLOW


def _zones(spec: ScaleSpec, figures: PlainFigures, maximum: float) -> tuple[Zone, ...]:
    if figures.limit is None:
        return ()
    below, above = (spec.meets, spec.misses)
    if figures.more_is_better:
        below, above = above, below
    return (
        Zone(0.0, figures.limit, below, clear=not figures.more_is_better),
        Zone(figures.limit, maximum, above, clear=figures.more_is_better),
    )


def _scale_names(context: Context, view: SystemView, figures: PlainFigures) -> dict[str, str]:
    formatter = context.formatter
    result = view.latest.result if view.latest else None
    pressure = result.target_pressure if result else None
    retest = _retest_of(context, view)
    before = to_unit(retest.before, figures.unit) if retest and _is_flow(figures) else None
    return {
        "system": view.name,
        "serves": view.system.serves,
        "measured": figures.shown(formatter, figures.measured),
        "limit": figures.shown(formatter, figures.limit),
        "before": figures.shown(formatter, before),
        "low": figures.shown(formatter, figures.low),
        "high": figures.shown(formatter, figures.high),
        "unit": formatter.label(figures.unit),
        "pressure": formatter.show(Kind.PRESSURE, pressure, "Pa", 0) if pressure else "",
    }


def _retest_of(context: Context, view: SystemView) -> RetestResult | None:
    """Return what the latest test of a system is held against, if it repeats another."""
    return context.source.assessment.retest(view.latest.test.key) if view.latest else None


def _before(
    spec: ScaleSpec, figures: PlainFigures, names: dict[str, str], retest: RetestResult | None
) -> ScaleMark | None:
    """Return the result of the test that was repeated; None where the scale is not of flows."""
    if retest is None or not _is_flow(figures):
        return None
    return ScaleMark(to_unit(retest.before, figures.unit), fill(spec.before, names))


def _described(spec: ScaleSpec, figures: PlainFigures, before: ScaleMark | None) -> str:
    alone = spec.description_alone if figures.limit is None else ""
    described = alone or spec.description
    return f"{described} {spec.description_before}" if before else described


def _about_retest(
    context: Context,
    spec: ScaleSpec,
    view: SystemView,
    figures: PlainFigures,
    retest: RetestResult,
) -> list[Block]:
    """Build what a retest tells in plain words; a change within its uncertainty is told as none."""
    unit = context.formatter.unit_for(Kind.FLOW)
    digits = figures.digits if _is_flow(figures) else 0
    fine = max(digits, 0 if to_unit(retest.uncertainty, unit) >= 1.0 else 1)

    def flow(value: float, digits: int = digits) -> str:
        return context.formatter.show(Kind.FLOW, value, unit, digits)

    names = {
        **context.names,
        **_scale_names(context, view, figures),
        "before_flow": flow(retest.before),
        "now_flow": flow(retest.now),
        "change": flow(abs(retest.reduction), fine),
        "uncertainty": flow(retest.uncertainty, fine),
    }
    text = spec.no_change
    if retest.told_apart:
        text = spec.gained if retest.reduction > 0.0 else spec.grew
    told = (text, "" if retest.is_comparable else spec.unlike)
    said = " ".join(part for part in told if part)
    return [Paragraph(fill_text(said, names))] if said else []


def _orientation(
    context: Context, spec: ScaleSpec, view: SystemView, figures: PlainFigures
) -> list[tuple[ScaleMark, str]]:
    """Return the marks to compare with that fit this test, each with the note that goes with it."""
    result = _result_of(view.latest)
    area = si_of(view.system.area_served)
    if result is None or area is None or not _is_flow(figures):
        return []
    if result.metric is not Metric.TOTAL or context.job.house.building_type in _UNLIKE_HOMES:
        return []
    return [
        (_orientation_mark(context, mark, area, figures), mark.note)
        for mark in spec.marks
        if _same_pressure(result, mark.pressure_pa)
    ]


def _orientation_mark(
    context: Context, mark: Orientation, area: float, figures: PlainFigures
) -> ScaleMark:
    value = to_unit(from_unit(mark.rate, mark.unit) * area, figures.unit)
    shown = context.formatter.number(value, 0 if value >= 10 else figures.digits)
    return ScaleMark(value, fill(mark.label, {**context.names, "value": shown}))


def _same_pressure(result: TestResult, pressure: float | None) -> bool:
    if result.target_pressure is None or pressure is None:
        return False
    return abs(result.target_pressure - pressure) <= SAME_PRESSURE_PA


def _worst(systems: tuple[SystemView, ...], most: int) -> list[SystemView]:
    return sorted(systems, key=_spare)[:most]


def _spare(view: SystemView) -> float:
    """Return how far a system is from its limit, as a share of it; unknown ones come last."""
    outcome = view.deciding
    if outcome is None or outcome.margin is None or not outcome.limit_value:
        return float("inf")
    return outcome.margin / abs(outcome.limit_value)


def _result_of(view: TestView | None) -> TestResult | None:
    return view.result if view is not None else None


def holes(context: Context, spec: HoleSpec) -> list[Block]:
    """Build, for each system, the size of one hole that leaks as much, and a thing like it."""
    blocks: list[Block] = []
    for view in context.systems:
        result = _result_of(view.latest)
        if result is None or not result.hole_area or not result.hole_diameter:
            continue
        names = {**context.names, "system": view.name, **_hole_names(context, result)}
        text = fill_text(spec.text, names)
        thing = _thing(spec, result.hole_area)
        if thing is not None:
            text += fill_text(" " + spec.like, {**names, "thing": thing.text})
        retest = _retest_of(context, view)
        earlier = context.source.assessment.test(retest.retest_of) if retest else None
        if spec.before and earlier is not None and earlier.hole_area:
            before = _hole_names(context, earlier)["area"]
            text += fill_text(" " + spec.before, {**names, "before_area": before})
        blocks.append(Paragraph(text))
    return blocks


def _hole_names(context: Context, result: TestResult) -> dict[str, str]:
    formatter = context.formatter
    in_inches = formatter.system is UnitSystem.IP
    area_unit, length_unit = ("in2", "in") if in_inches else ("cm2", "cm")
    area, diameter = result.hole_area or 0.0, result.hole_diameter or 0.0
    size = to_unit(area, area_unit)
    return {
        "area": formatter.show(Kind.AREA, area, area_unit, 0 if size >= 10 else 1),
        "diameter": formatter.show(Kind.LENGTH, diameter, length_unit, 1 if in_inches else 0),
    }


def _thing(spec: HoleSpec, area: float) -> Everyday | None:
    """Return the thing whose area is nearest, if it is near enough."""

    def unlikeness(thing: Everyday) -> float:
        return abs(log(from_unit(thing.area, thing.unit) / area))

    nearest = min(spec.things, key=unlikeness)
    return nearest if unlikeness(nearest) <= log(spec.likeness) else None
