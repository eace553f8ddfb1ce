"""What a test or a system tells besides its flow: directions, sides, classes, the house itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.choices import Metric
from deskapp.domain.measured import si_of
from deskapp.domain.screening import still_to_try
from deskapp.i18n import _
from deskapp.report.blocks import (
    Align,
    Column,
    Fact,
    Facts,
    Heading,
    Numbered,
    Paragraph,
    Table,
    TextRole,
)
from deskapp.report.build.field_text import choice_label
from deskapp.report.build.sureness import with_uncertainty
from deskapp.report.build.trials import names_of_test
from deskapp.report.build.wording import fill, fill_text, has_all
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE, UnitSystem
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.domain.result import TestResult
    from deskapp.domain.result_parts import DuctClass, EnvelopeResult, SidesResult
    from deskapp.report.blocks import Block, Text
    from deskapp.report.build.context import Context, SystemView, TestView
    from deskapp.report.template_evidence import (
        ClassesSpec,
        DirectionsSpec,
        GuidanceSpec,
        HouseSpec,
        OutsideSpec,
        SidesSpec,
        TestSpec,
    )

_TARGET_NOT_REACHED = frozenset({"extrapolated", "pressure_too_low"})


def directions(context: Context, spec: DirectionsSpec) -> list[Block]:
    """Build both directions of a test and their mean."""
    heads, show = spec.columns, context.formatter.show_optional
    columns = (
        Column(heads.direction, weight=1.6),
        Column(heads.readings, Align.RIGHT),
        Column(heads.reached, Align.RIGHT),
        Column(heads.spread, Align.RIGHT),
        Column(heads.flow, Align.RIGHT),
    )
    blocks: list[Block] = []
    for _view, _test, result in _results(context, spec):
        if not result.directions:
            continue
        rows = [
            (
                choice_label(one.direction),
                str(one.readings),
                show(Kind.PRESSURE, one.mean_induced_pressure, "Pa", 1),
                show(Kind.FRACTION, one.spread),
                show(Kind.FLOW, one.flow),
            )
            for one in result.directions
        ]
        rows.append((fill(heads.mean, context.names), "", "", "", show(Kind.FLOW, result.flow)))
        blocks.append(Table(columns, tuple(rows), total=True))
    return blocks


def outside(context: Context, spec: OutsideSpec) -> list[Block]:
    """Build what a test to outdoors rests on: pressure and flow of the house, what is left over."""
    show = context.formatter.show
    blocks: list[Block] = []
    for view, test, result in _results(context, spec):
        if result.metric is not Metric.OUTSIDE:
            continue
        names = {**context.names, **names_of_test(context, view, test)}
        for name, kind, value in (
            ("house", Kind.PRESSURE, si_of(test.test.house_pressure)),
            ("flow", Kind.FLOW, si_of(test.test.house_fan_flow)),
            ("residual", Kind.PRESSURE, si_of(test.test.duct_to_house_pressure)),
            ("share", Kind.FRACTION, result.residual_share),
        ):
            names[name] = "" if value is None else show(kind, value)
        wordings = (spec.house, spec.house_flow, spec.residual)
        told = " ".join(one for one in wordings if has_all(one, names))
        if told:
            blocks.append(Paragraph(fill_text(told, names)))
    return blocks


def classes(context: Context, spec: ClassesSpec) -> list[Block]:
    """Build the class each duct section reaches."""
    heads = spec.columns
    columns = (
        Column(heads.standard, weight=1.5),
        Column(heads.reached, weight=1.2),
        Column(heads.measured, Align.RIGHT, 1.45),
        Column(heads.limit, Align.RIGHT, 1.45),
        Column(heads.next, weight=1.6),
        Column(heads.status, weight=1.9),
    )
    blocks: list[Block] = []
    for _view, _test, result in _results(context, spec):
        if result.classes:
            rows = tuple(_class_row(context, spec, one) for one in result.classes)
            blocks.append(Table(columns, rows, fill(spec.note, context.names)))
    return blocks


def _class_row(context: Context, spec: ClassesSpec, one: DuctClass) -> tuple[str, ...]:
    formatter = context.formatter

    def figure(value: float | None) -> str:
        if value is None:
            return NO_VALUE
        label = formatter.label(one.unit) if one.unit else ""
        digits = 3 if one.unit else 1
        return f"{formatter.number(value, digits)}\N{NO-BREAK SPACE}{label}".strip()

    status = context.template.words.status.get(one.status, "")
    names = {**context.names, "name": one.next_name, "limit": figure(one.next_limit)}
    return (
        printable(", ".join(part for part in (one.standard, one.edition) if part)),
        printable(one.name),
        figure(one.value),
        figure(one.limit),
        _next_class(spec, one, names),
        printable(f"{status} {one.source}".strip()),
    )


def _next_class(spec: ClassesSpec, one: DuctClass, names: dict[str, str]) -> str:
    """Return the next tighter class; a dash for a number that is a class by itself."""
    if one.next_name:
        return fill(spec.next, names)
    return fill(spec.none, names) if one.limit is not None else NO_VALUE


def house_air(context: Context, spec: HouseSpec) -> list[Block]:
    """Build the air tightness of the house, for each test of it."""
    blocks: list[Block] = []
    for view in context.others:
        for test in view.tests:
            envelope = test.result.envelope if test.result else None
            if envelope is None or test.result is None:
                continue
            names = {**context.names, **names_of_test(context, view, test)}
            blocks.append(Heading(fill(spec.title, names), 3))
            blocks.append(Facts(tuple(_house_facts(context, spec, envelope, test.result))))
            notes = [spec.standard_air] if envelope.is_standard else []
            notes += [] if envelope.has_curve else [spec.without_curve]
            if notes:
                blocks.append(Paragraph(fill_text(" ".join(notes), names), TextRole.QUIET))
    return blocks


def _house_facts(
    context: Context, spec: HouseSpec, envelope: EnvelopeResult, result: TestResult
) -> Iterator[Fact]:
    formatter = context.formatter
    flow = formatter.both(Kind.FLOW, envelope.flow_50)
    if result.budget is not None and result.target_pressure == 50.0:
        flow = f"{with_uncertainty(formatter, result.budget)} (k = 2)"
    elif envelope.flow_50_low is not None and envelope.flow_50_high is not None:
        low, high = (
            formatter.show(Kind.FLOW, x) for x in (envelope.flow_50_low, envelope.flow_50_high)
        )
        flow = _("{value} ({low} to {high})").format(value=flow, low=low, high=high)
    yield Fact(spec.flow, flow)
    small = "in2" if formatter.system is UnitSystem.IP else "cm2"
    changes = envelope.air_changes_50
    exponent = envelope.exponent
    for label, value in (
        (spec.air_changes, "" if changes is None else formatter.number(changes, 2)),
        (spec.per_floor_area, _shown(context, Kind.FLOW_PER_AREA, envelope.per_floor_area)),
        (spec.per_envelope, _shown(context, Kind.FLOW_PER_AREA, envelope.per_envelope_area)),
        (spec.area_4, _shown(context, Kind.AREA, envelope.leakage_area_4, small)),
        (spec.area_10, _shown(context, Kind.AREA, envelope.leakage_area_10, small)),
        (spec.exponent, "" if exponent is None else formatter.number(exponent, 3)),
    ):
        if value:
            yield Fact(label, value)


def _shown(context: Context, kind: Kind, value: float | None, unit: str | None = None) -> str:
    return "" if value is None else context.formatter.show(kind, value, unit)


def sides(context: Context, spec: SidesSpec) -> list[Block]:
    """Build supply and return of each system, and their sum beside the whole."""
    heads = spec.columns
    titles = (heads.supply, heads.returns, heads.sum, heads.total, heads.difference, heads.allowed)
    columns = (
        *(Column(title, Align.RIGHT) for title in titles),
        Column(heads.outcome, weight=1.6),
    )
    return [
        Table(columns, (_sides_row(context, spec, one),), _sides_caption(context, spec, one))
        for view in context.systems
        for one in view.result.sides
    ]


def _sides_row(context: Context, spec: SidesSpec, one: SidesResult) -> tuple[str, ...]:
    words = {True: spec.agrees, False: spec.differs, None: spec.no_total}[one.agrees]
    flows = (one.supply, one.returns, one.sum, one.total, one.difference, one.allowed)
    shown = (context.formatter.show_optional(Kind.FLOW, flow) for flow in flows)
    return (*shown, fill(words, context.names))


def _sides_caption(context: Context, spec: SidesSpec, one: SidesResult) -> str:
    names = {
        **context.names,
        "stage": choice_label(one.stage),
        "metric": choice_label(one.metric),
        "pressure": context.formatter.show(Kind.PRESSURE, one.target_pressure, "Pa", 0),
    }
    return fill(spec.caption, names)


def guidance(context: Context, spec: GuidanceSpec) -> list[Block]:
    """Build what to try where a test that decides did not reach its target."""
    found = {finding.code for finding in context.source.assessment.findings}
    codes = found & _TARGET_NOT_REACHED
    stuck = [
        view.latest
        for view in context.systems
        if view.latest and view.latest.result and _is_short(view.latest.result)
    ]
    steps = still_to_try(context.source.guidance, codes, [view.test for view in stuck])
    if not steps or not stuck:
        return []
    blocks: list[Block] = [Paragraph(fill_text(spec.intro, context.names))]
    items: list[Text] = [fill_text("{step}", {"step": _(one.text)}) for one in steps]
    blocks.append(Numbered(tuple(items)))
    comments = " ".join(printable(test.test.comments) for test in stuck if test.test.comments)
    if comments:
        names = {**context.names, "comments": comments}
        blocks.append(Paragraph(fill_text(spec.noted, names)))
    return blocks


def _is_short(result: TestResult) -> bool:
    return result.extrapolated or result.flow is None


def _results(context: Context, spec: TestSpec) -> Iterator[tuple[SystemView, TestView, TestResult]]:
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            if test.result is not None:
                yield view, test, test.result
