"""The leakage curve of a test at several pressures, as a picture with its numbers."""

from __future__ import annotations

from math import floor, log10
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.report.blocks import Fact, Plot, PlotPoint, ScaleMark
from deskapp.report.build.field_text import choice_label
from deskapp.report.build.trials import names_of_test
from deskapp.report.build.wording import fill
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.result_parts import CurveResult
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context, TestView
    from deskapp.report.template_evidence import FitSpec
    from deskapp.units.display import Formatter

_MANY = (1.0, 1.5, 2.0, 2.5, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0)
_SOME = (1.0, 2.0, 3.0, 5.0, 7.0)
_FEW = (1.0, 2.0, 5.0)
_MOST_TICKS = 7
_R_DIGITS = 5
_MOST_DIGITS = 6


def fit(context: Context, spec: FitSpec) -> list[Block]:
    """Build a picture for each curve of each test."""
    blocks: list[Block] = []
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            names = {**context.names, **names_of_test(context, view, test)}
            blocks += [_plot(context, spec, curve, names) for curve in _curves(test)]
    return blocks


def _curves(test: TestView) -> list[CurveResult]:
    result = test.result
    if result is None:
        return []
    if result.curve is not None:
        return [result.curve]
    return [one.curve for one in result.directions if one.curve is not None]


def _plot(context: Context, spec: FitSpec, curve: CurveResult, names: dict[str, str]) -> Plot:
    formatter = context.formatter
    unit = formatter.unit_for(Kind.FLOW)
    confidence = formatter.show(Kind.FRACTION, curve.confidence, digits=0)
    names = {**names, "confidence": confidence, "direction": choice_label(curve.direction)}
    names["readings"] = _stray(formatter, curve)
    points = tuple(
        PlotPoint(
            point.pressure,
            to_unit(point.flow, unit),
            fill(spec.off_label, {**names, "readings": str(point.reading + 1)})
            if point.is_off
            else "",
            is_off=point.is_off,
        )
        for point in curve.points
    )
    band = tuple(
        (one.pressure, to_unit(one.low, unit), to_unit(one.high, unit))
        for one in curve.band
        if one.low is not None and one.high is not None
    )
    line = tuple((one.pressure, to_unit(one.flow, unit)) for one in curve.band)
    target = _target(context, curve, unit)
    with_target = (*points, *((target,) if target else ()))
    return Plot(
        x_title=fill(spec.pressure, names),
        y_title=f"{fill(spec.flow, names)}, {formatter.label(unit)}",
        x_ticks=_ticks(formatter, [point.x for point in with_target] + [x for x, _y in line]),
        y_ticks=_ticks(formatter, [point.y for point in with_target] + [y for _x, y in line]),
        points=points,
        curve=line,
        band=band,
        target=target,
        caption=fill(spec.caption, names),
        facts=_facts(context, spec, curve, names),
        key=fill(spec.key, names),
        description=fill(spec.description, names),
    )


def _target(context: Context, curve: CurveResult, unit: str) -> PlotPoint | None:
    if curve.target_pressure is None or curve.flow_at_target is None:
        return None
    shown = context.formatter.show(Kind.FLOW, curve.flow_at_target)
    return PlotPoint(curve.target_pressure, to_unit(curve.flow_at_target, unit), shown)


def _stray(formatter: Formatter, curve: CurveResult) -> str:
    def signed(percent: float) -> str:
        shown = formatter.show(Kind.FRACTION, percent / 100.0)
        return f"+{shown}" if percent > 0.0 else shown

    return ", ".join(
        _("{number} ({percent})").format(
            number=point.reading + 1, percent=signed(point.residual_percent)
        )
        for point in curve.points
        if point.is_off
    )


def _facts(
    context: Context, spec: FitSpec, curve: CurveResult, names: dict[str, str]
) -> tuple[Fact, ...]:
    formatter = context.formatter

    def flow(low: float | None, high: float | None) -> str:
        return "" if low is None or high is None else _between(formatter, low, high)

    exponent = formatter.number(curve.exponent, 3)
    if curve.exponent_low is not None and curve.exponent_high is not None:
        low, high = (formatter.number(x, 3) for x in (curve.exponent_low, curve.exponent_high))
        exponent = _("{value} ({low} to {high})").format(value=exponent, low=low, high=high)
    coefficient, spread = _coefficient(formatter, curve)
    squared = None if curve.r_squared is None else formatter.number(curve.r_squared, _R_DIGITS)
    at_target = formatter.show_optional(Kind.FLOW, curve.flow_at_target)
    rows = (
        (spec.coefficient, _joined(coefficient, spread)),
        (spec.exponent, exponent),
        (spec.fit, squared or ""),
        (spec.at_target, _joined(at_target, flow(curve.flow_low, curve.flow_high))),
        (spec.one_more, flow(curve.prediction_low, curve.prediction_high)),
        (spec.off, names["readings"] or fill(spec.none_off, names)),
    )
    return tuple(Fact(fill(label, names), value) for label, value in rows if value)


def _coefficient(formatter: Formatter, curve: CurveResult) -> tuple[str, str]:
    """Return the coefficient and its interval, to two digits of the half of that interval.

    ISO/IEC Guide 98-3:2008, 7.2.6: two digits of an uncertainty are enough; from memory.
    """
    low, high = curve.coefficient_low, curve.coefficient_high
    if low is None or high is None:
        return formatter.show(Kind.COEFFICIENT, curve.coefficient), ""
    half = to_unit((high - low) / 2.0, formatter.unit_for(Kind.FLOW))
    digits = _MOST_DIGITS if half <= 0.0 else min(_MOST_DIGITS, max(0, 1 - floor(log10(half))))
    shown = formatter.show(Kind.COEFFICIENT, curve.coefficient, digits=digits)
    return shown, _between(formatter, low, high, digits)


def _joined(value: str, spread: str) -> str:
    return f"{value} ({spread})" if spread else value


def _between(formatter: Formatter, low: float, high: float, digits: int = 2) -> str:
    unit = formatter.unit_for(Kind.FLOW)
    first = formatter.show(Kind.FLOW, low, unit, digits)
    return _("{low} to {high}").format(
        low=first.removesuffix(formatter.label(unit)).rstrip(),
        high=formatter.show(Kind.FLOW, high, unit, digits),
    )


def _ticks(formatter: Formatter, values: Iterable[float]) -> tuple[ScaleMark, ...]:
    """Return round numbers over the range of `values`, with one beyond each end."""
    known = [value for value in values if value > 0]
    if not known:
        return ()
    low, high = min(known), max(known)
    for steps in (_MANY, _SOME, _FEW, (1.0,)):
        marks = _over(low, high, steps)
        if len(marks) <= _MOST_TICKS:
            break
    return tuple(ScaleMark(mark, _round_number(formatter, mark)) for mark in marks)


def _over(low: float, high: float, steps: tuple[float, ...]) -> list[float]:
    first, last = floor(log10(low)), floor(log10(high)) + 1
    every = [step * 10.0**power for power in range(first, last + 1) for step in steps]
    below = max((mark for mark in every if mark <= low * 1.0001), default=every[0])
    above = min((mark for mark in every if mark >= high * 0.9999), default=every[-1])
    return [mark for mark in every if below <= mark <= above]


def _round_number(formatter: Formatter, mark: float) -> str:
    digits = 0
    while digits < 6 and abs(round(mark, digits) - mark) > 1e-9 * mark:
        digits += 1
    return formatter.number(mark, digits)
