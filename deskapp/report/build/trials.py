"""Readings, arithmetic and comparison of the tests."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from deskapp.domain.measured import Measured, day_of, si_of
from deskapp.domain.trial import Reading
from deskapp.i18n import _
from deskapp.report.blocks import (
    Align,
    ArithmeticStep,
    Banner,
    Column,
    Heading,
    Paragraph,
    Sign,
    Steps,
    Table,
    TextRole,
    TextSpan,
)
from deskapp.report.build.field_text import choice_label
from deskapp.report.build.wording import fill, fill_text, has_all
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE, Formatter
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.result import ReadingResult, Step, TestResult
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context, SystemView, TestView
    from deskapp.report.template_compliance import (
        ArithmeticSpec,
        ComparisonSpec,
        ReadingsSpec,
    )


_EQUALS = "\N{NO-BREAK SPACE}=\N{NO-BREAK SPACE}"
_FACTOR_DIGITS = 4


def names_of_test(context: Context, view: SystemView, test: TestView) -> dict[str, str]:
    """Return the names of a test for wordings."""
    return {
        "system": view.name,
        "test": printable(test.test.label) or _("Test {n}").format(n=test.index + 1),
        "day": context.formatter.day(day_of(test.test.tested_on)),
        "stage": choice_label(test.test.setup.stage),
        "metric": choice_label(test.test.setup.metric),
    }


def readings(context: Context, spec: ReadingsSpec) -> list[Block]:
    """Build the readings of each test with what was worked out from them."""
    blocks: list[Block] = []
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            names = {**context.names, **names_of_test(context, view, test)}
            if spec.title:
                blocks.append(Heading(fill(spec.title, names), 3))
            if not test.test.was_read:
                blocks.append(Paragraph(fill_text(spec.no_readings, names)))
                continue
            blocks.append(_readings_table(context, spec, test))
            blocks += _after_readings(context, spec, test, names)
    return blocks


def _readings_table(context: Context, spec: ReadingsSpec, test: TestView) -> Table:
    heads = spec.columns
    titles = (
        heads.duct_pressure,
        heads.baseline,
        heads.induced,
        heads.signal,
        heads.indicated,
        heads.actual,
        heads.factor,
        heads.at_target,
    )
    columns = (
        Column(heads.number, weight=0.7),
        *(Column(title, Align.RIGHT) for title in titles),
    )
    worked = {row.index: row for row in test.result.readings} if test.result else {}
    rows = [
        _reading_row(context, test, position, worked.get(position))
        for position, reading in enumerate(test.test.readings)
        if reading != Reading()
    ]
    flow = test.result.flow if test.result else None
    has_mean = flow is not None
    if has_mean:
        shown = context.formatter.show(Kind.FLOW, flow)
        of_curve = test.result is not None and test.result.curve is not None
        label = heads.from_curve if of_curve else heads.mean
        rows.append((label, *([""] * (len(titles) - 1)), shown))
    path = f"tests.{test.index}.readings"
    return Table(columns, tuple(rows), total=has_mean, path=path)


def _reading_row(
    context: Context, test: TestView, position: int, worked: ReadingResult | None
) -> tuple[str, ...]:
    reading = test.test.readings[position]
    show = context.formatter.show_optional
    flow = worked.indicated_flow if worked and worked.indicated_flow else None
    factor = worked.target_factor if worked else None
    return (
        str(position + 1),
        _as_read(context, reading.duct_pressure),
        show(Kind.PRESSURE, _baseline(test, position, worked), "Pa", 1),
        show(Kind.PRESSURE, worked.induced_pressure if worked else None, "Pa", 1),
        _as_read(context, reading.fan_signal),
        show(Kind.FLOW, flow if flow is not None else si_of(reading.indicated_flow), digits=2),
        show(Kind.FLOW, worked.actual_flow if worked else None, digits=2),
        NO_VALUE if factor is None else context.formatter.number(factor, _FACTOR_DIGITS),
        show(Kind.FLOW, worked.flow_at_target if worked else None, digits=2),
    )


def _as_read(context: Context, value: Measured | None) -> str:
    if value is None:
        return NO_VALUE
    if value.si is None:
        return _("“{typed}”").format(typed=value.typed)
    return context.formatter.show(Kind.PRESSURE, value.si, "Pa", 1)


def _baseline(test: TestView, position: int, worked: ReadingResult | None) -> float | None:
    """Return the baseline that was taken off a reading; the mean of those recorded if none was."""
    pressure = si_of(test.test.readings[position].duct_pressure)
    if worked is not None and worked.induced_pressure is not None and pressure is not None:
        return pressure - worked.induced_pressure
    known = [
        value
        for value in (si_of(test.test.baseline_before), si_of(test.test.baseline_after))
        if value is not None
    ]
    return sum(known) / len(known) if known else None


def _after_readings(
    context: Context, spec: ReadingsSpec, test: TestView, names: dict[str, str]
) -> list[Block]:
    result = test.result
    told = result.not_corrected if result else ""
    bare: list[Block] = [Banner(Sign.WARNING, "", ((TextSpan(printable(told)),),))] if told else []
    if result is None or result.flow is None:
        return [*bare, Paragraph(fill_text(spec.no_result, names))]
    names = {**names, **_result_names(context, result)}
    wordings = [spec.result if has_all(spec.result, names) else spec.result_of_curve]
    if result.spread is not None:
        wordings.append(spec.spread)
    if result.flow_per_area is not None:
        wordings.append(spec.per_area)
    if result.fan_fraction is not None:
        wordings.append(spec.fan_share)
    if spec.one_reading and len(result.readings) == 1 and result.curve is None:
        held = spec.one_reading_held if _held_target(result.readings[0]) else ""
        wordings.append(held or spec.one_reading)
    text = fill_text(" ".join(wordings), names)
    blocks: list[Block] = [*bare, Paragraph(text)]
    if result.extrapolated:
        told = has_all(spec.extrapolated, names)
        words = fill_text(spec.extrapolated if told else spec.extrapolated_curve, names)
        blocks.append(Banner(Sign.WARNING, "", (words,)))
    return blocks


def _held_target(reading: ReadingResult) -> bool:
    """Say whether a reading stood at its target, to the digits its factor is printed with."""
    factor = reading.target_factor
    return factor is not None and round(factor, _FACTOR_DIGITS) == 1.0


def _result_names(context: Context, result: TestResult) -> dict[str, str]:
    formatter = context.formatter

    def show(kind: Kind, value: float | None, unit: str | None = None, digits: int | None = None):
        return "" if value is None else formatter.show(kind, value, unit, digits)

    return {
        "flow": _flow_words(formatter, result),
        "low": show(Kind.FLOW, result.flow_low),
        "high": show(Kind.FLOW, result.flow_high),
        "spread": show(Kind.FRACTION, result.spread),
        "per_area": formatter.both(Kind.FLOW_PER_AREA, result.flow_per_area or 0.0),
        "fan_share": show(Kind.FRACTION, result.fan_fraction),
        "exponent": "" if result.exponent is None else formatter.number(result.exponent, 2),
        "pressure": show(Kind.PRESSURE, result.target_pressure, "Pa", 1),
        "reached": show(Kind.PRESSURE, result.mean_induced_pressure, "Pa", 1),
    }


def _flow_words(formatter: Formatter, result: TestResult) -> str:
    """Return the flow with its expanded uncertainty where that is known, in both units."""
    shown = formatter.both(Kind.FLOW, result.flow or 0.0)
    budget = result.budget
    if budget is None:
        return shown
    first = formatter.unit_for(Kind.FLOW)
    value, _space, other = shown.partition(" (")
    expanded = formatter.show(Kind.FLOW, budget.expanded, first)
    number = value.removesuffix(formatter.label(first)).rstrip()
    return f"{number} ± {expanded} ({other.rstrip(')')}; k = {budget.coverage_factor:g})"


def comparison(context: Context, spec: ComparisonSpec) -> list[Block]:
    """Build the tests of a system side by side, where it has several."""
    blocks: list[Block] = []
    heads = spec.columns
    columns = (
        Column(heads.test, weight=1.7),
        Column(heads.day, weight=1.1),
        Column(heads.stage, weight=1.9),
        Column(heads.flow, Align.RIGHT, 1.2),
        Column(heads.per_area, Align.RIGHT, 1.5),
        Column(heads.fan_share, Align.RIGHT, 1.0),
        Column(heads.change, Align.RIGHT, 1.0),
    )
    for view in context.systems:
        if len(view.tests) < 2:
            continue
        rows = tuple(_compared(context, view, test) for test in view.tests)
        caption = fill(spec.note, {**context.names, "system": view.name})
        blocks.append(Table(columns, rows, caption))
    return blocks


def _compared(context: Context, view: SystemView, test: TestView) -> tuple[str, ...]:
    names = names_of_test(context, view, test)
    result = test.result
    show = context.formatter.show_optional
    stage = " · ".join(part for part in (names["stage"], names["metric"]) if part)
    return (
        names["test"],
        names["day"],
        stage or NO_VALUE,
        show(Kind.FLOW, result.flow if result else None),
        show(Kind.FLOW_PER_AREA, result.flow_per_area if result else None),
        show(Kind.FRACTION, result.fan_fraction if result else None),
        _change(context, test),
    )


def _change(context: Context, test: TestView) -> str:
    """Return by how much the flow changed since the test it repeats, as a share of that."""
    retest = context.source.assessment.retest(test.test.key)
    if retest is None or retest.share is None:
        return NO_VALUE
    sign = "+" if retest.share < 0 else ""
    return sign + context.formatter.show(Kind.FRACTION, -retest.share)


def arithmetic(context: Context, spec: ArithmeticSpec) -> list[Block]:
    """Build the arithmetic of each test, below a note on its figures."""
    blocks: list[Block] = []
    if spec.note:
        blocks.append(Paragraph(fill_text(spec.note, context.names), TextRole.QUIET))
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            names = {**context.names, **names_of_test(context, view, test)}
            if spec.title:
                blocks.append(Heading(fill(spec.title, names), 3))
            steps = test.result.steps if test.result else ()
            if steps:
                rows = tuple(_step(context, step) for step in steps)
                blocks.append(Steps(_sources_once(rows)))
            else:
                blocks.append(Paragraph(fill_text(spec.no_result, names)))
    return blocks


def _sources_once(rows: tuple[ArithmeticStep, ...]) -> tuple[ArithmeticStep, ...]:
    """Return the steps with each source at the first step that rests on it."""
    seen: set[str] = set()
    kept: list[ArithmeticStep] = []
    for row in rows:
        kept.append(replace(row, source="") if row.source in seen else row)
        seen.add(row.source)
    return tuple(kept)


def _step(context: Context, step: Step) -> ArithmeticStep:
    formatter = context.formatter
    return ArithmeticStep(
        label=step.label,
        formula=step.formula,
        numbers=step.numbers_in(formatter).replace(" = ", _EQUALS),
        result=step.value_in(formatter),
        source=step.source,
    )
