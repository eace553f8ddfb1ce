"""Facts of the job, of systems, and of how each test was arranged; instruments; signature."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.area_base import rests_on_estimate
from deskapp.domain.instrument import Ring
from deskapp.domain.measured import Measured, si_of
from deskapp.i18n import _
from deskapp.report.blocks import (
    Align,
    Banner,
    Column,
    Fact,
    FactColumns,
    FactRow,
    Facts,
    Heading,
    Paragraph,
    Picture,
    Sign,
    Signature,
    SignatureLine,
    Table,
    TextRole,
)
from deskapp.report.build.context import NOT_IN_JOB
from deskapp.report.build.field_text import (
    entry,
    exponent_text,
    fact,
    instrument_name,
    ring_name,
)
from deskapp.report.build.missing import missing_paths
from deskapp.report.build.trials import names_of_test
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.instrument import CertificateFigure, Fan
    from deskapp.domain.people import Tester
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context, SystemView
    from deskapp.report.template_common import FactsSpec
    from deskapp.report.template_compliance import (
        InstrumentsSpec,
        SetUpSpec,
        SignatureSpec,
        SystemFactsSpec,
    )

_SEVERAL = 2
_ABREAST = 4
"""Systems side by side; more go into the next table."""


def facts(context: Context, spec: FactsSpec) -> list[Block]:
    """Build entries of the job, and a warning where the areas are only estimated."""
    block = _facts(context, spec.fields, spec.columns)
    blocks: list[Block] = [block] if block.rows else []
    estimated = rests_on_estimate(context.job, context.source.assessment.systems)
    if spec.estimated_area and estimated:
        text = fill(spec.estimated_area, context.names)
        blocks.append(Banner(Sign.WARNING, text))
    return blocks


def system_facts(context: Context, spec: SystemFactsSpec) -> list[Block]:
    """Build the entries of each system, and of the test its verdict rests on."""
    views = [view for view in context.systems if view.index != NOT_IN_JOB]
    if spec.apart and len(views) >= _SEVERAL:
        return _side_by_side(context, spec, views)
    blocks: list[Block] = []
    for view in views:
        if not context.narrowed and not spec.apart:
            blocks.append(Heading(printable(view.name), 3))
        paths = [path for path in _paths_of(context, spec, view) if path]
        block = _facts(context, paths, spec.columns)
        blocks += [block] if block.rows else []
    return blocks


def _paths_of(context: Context, spec: SystemFactsSpec, view: SystemView) -> list[str]:
    """Return the paths of all fields for a system; empty for those of a test it does not have."""
    test = NOT_IN_JOB if view.latest is None else view.latest.index
    rows = {"systems": view.index, "tests": test}
    more = [path for one in spec.also if context.prints(one.when, ()) for path in one.fields]
    return [
        "" if row == NOT_IN_JOB else path.replace("*", str(row), 1)
        for path in (*spec.fields, *more)
        for row in (rows[path.partition(".")[0]],)
    ]


def _side_by_side(context: Context, spec: SystemFactsSpec, views: list[SystemView]) -> list[Block]:
    """Build what is alike in all systems once, and below it a column for each system."""
    needed = set(missing_paths(context))
    columns = [
        [fact(context, path, needed) if path else None for path in _paths_of(context, spec, view)]
        for view in views
    ]
    alike: list[Fact] = []
    rows: list[FactRow] = []
    for line in zip(*columns, strict=True):
        known = [one for one in line if one is not None]
        if not known:
            continue
        if len(known) == len(line) and len({one.value for one in known}) == 1:
            alike.append(known[0])
            continue
        nothing = Fact(known[0].label, NO_VALUE)
        rows.append(FactRow(known[0].label, tuple(one or nothing for one in line)))
    blocks: list[Block] = [Facts(tuple(alike), spec.columns)] if alike else []
    for start in range(0, len(views) if rows else 0, _ABREAST):
        heads = tuple(
            fill(spec.apart, {**context.names, "system": view.name, "serves": view.system.serves})
            for view in views[start : start + _ABREAST]
        )
        some = (FactRow(row.label, row.facts[start : start + _ABREAST]) for row in rows)
        blocks.append(FactColumns(fill(spec.entry, context.names), heads, tuple(some)))
    return blocks


def set_up(context: Context, spec: SetUpSpec) -> list[Block]:
    """Build how each test was arranged."""
    blocks: list[Block] = []
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            if spec.title:
                names = {**context.names, **names_of_test(context, view, test)}
                blocks.append(Heading(fill(spec.title, names), 3))
            own = [path for path in spec.fields if path not in context.told]
            block = _facts(context, _of_row(own, test.index), spec.columns)
            blocks += [block] if block.rows else []
    return blocks


def alike(context: Context, spec: SetUpSpec, view: SystemView) -> frozenset[str]:
    """Return the fields that say the same for all tests of a system; none for one test."""
    if len(view.tests) < _SEVERAL:
        return frozenset()
    return frozenset(
        path
        for path in spec.fields
        if len({entry(context, path.replace("*", str(test.index), 1)) for test in view.tests}) == 1
    )


def shared_set_up(
    context: Context, spec: SetUpSpec, view: SystemView, told: frozenset[str]
) -> list[Block]:
    """Build the fields that say the same for all tests of a system."""
    if not told:
        return []
    fields = [path for path in spec.fields if path in told]
    block = _facts(context, _of_row(fields, view.tests[0].index), spec.columns)
    return [block] if block.rows else []


def _of_row(fields: Iterable[str], row: int) -> list[str]:
    return [path.replace("*", str(row), 1) for path in fields]


def instruments(context: Context, spec: InstrumentsSpec) -> list[Block]:
    """Build gauges and fans with their calibration, and the rings of each fan."""
    job = context.job
    blocks: list[Block] = []
    for position, gauge in enumerate(job.gauges):
        names = {**context.names, "instrument": instrument_name(gauge), "serial": gauge.serial}
        blocks.append(Heading(fill(spec.gauge_title, names), 3))
        blocks.append(_facts(context, _of_row(spec.gauge_fields, position), spec.columns))
    for position, fan in enumerate(job.fans):
        names = {**context.names, "instrument": instrument_name(fan), "serial": fan.serial}
        blocks.append(Heading(fill(spec.fan_title, names), 3))
        blocks.append(_facts(context, _of_row(spec.fan_fields, position), spec.columns))
        if fan.rings:
            blocks.append(_rings(context, spec, fan))
            blocks.append(Paragraph(fill_text(spec.formula, names), TextRole.QUIET))
            blocks += _pairs(context, spec, fan, names)
    return blocks or [Paragraph(fill_text(spec.none_recorded, context.names))]


def signature(context: Context, spec: SignatureSpec) -> list[Block]:
    """Build the statement and the lines to sign on."""
    given = context.job.tester.statement.strip()
    statement = printable(given) or fill(spec.statement, context.names)
    to_sign_on = next((line for line in spec.lines if not line.field), None)
    lines = tuple(
        SignatureLine(
            fill(line.label, context.names),
            entry(context, line.field) if line.field else "",
            _signature_picture(context.job.tester) if line is to_sign_on else None,
        )
        for line in spec.lines
    )
    return [Signature(statement, lines)]


def _signature_picture(tester: Tester) -> Picture | None:
    """Return the picture of the tester's signature; it is no digital signature."""
    if tester.signature is None:
        return None
    name = printable(tester.signed_by or tester.name)
    told = _("Signature of {name}, a picture").format(name=name) if name else ""
    return Picture(tester.signature.digest, "", told or _("Signature, a picture"), "")


def _facts(context: Context, paths: Iterable[str], columns: int) -> Facts:
    needed = set(missing_paths(context))
    rows = (fact(context, path, needed) for path in paths)
    return Facts(tuple(row for row in rows if row is not None), columns)


def _rings(context: Context, spec: InstrumentsSpec, fan: Fan) -> Table:
    heads = spec.rings
    columns = (
        Column(heads.flow_range, weight=1.6),
        Column(heads.coefficient, Align.RIGHT, 1.2),
        Column(heads.exponent, Align.RIGHT, 0.9),
        Column(heads.signal_range, Align.RIGHT, 1.4),
        Column(heads.used, weight=1.6),
    )
    told = [ring for ring in fan.rings if ring != Ring(key=ring.key)]
    rows = tuple(_ring_row(context, spec, fan, ring) for ring in told or fan.rings)
    return Table(columns, rows)


def _pairs(context: Context, spec: InstrumentsSpec, fan: Fan, names: dict[str, str]) -> list[Block]:
    """Build the pairs of the certificate that a ring was fitted from, as they were typed."""
    blocks: list[Block] = []
    for ring in fan.rings:
        if not ring.certificate_pairs:
            continue
        shown = "; ".join(
            f"{_figure(context, Kind.PRESSURE, pair.signal)}: "
            f"{_figure(context, Kind.FLOW, pair.flow)}"
            for pair in ring.certificate_pairs
        )
        told = {**names, "ring": ring_name(context.formatter, fan, ring), "pairs": shown}
        blocks.append(Paragraph(fill_text(spec.pairs, told), TextRole.QUIET))
    return blocks


def _figure(context: Context, kind: Kind, figure: CertificateFigure) -> str:
    return context.formatter.plain(kind, figure.si, figure.unit)


def _ring_row(
    context: Context, spec: InstrumentsSpec, fan: Fan, ring: Ring
) -> tuple[str, str, str, str, str]:
    formatter = context.formatter
    exponent = si_of(ring.exponent)
    used = [
        test
        for test in context.job.tests
        if context.job.fan(test.setup.fan) is fan
        and (test.setup.ring == ring.key or (not test.setup.ring and len(fan.rings) == 1))
    ]
    return (
        ring_name(formatter, fan, ring),
        formatter.show_optional(Kind.COEFFICIENT, si_of(ring.coefficient)),
        NO_VALUE if exponent is None else exponent_text(formatter, exponent),
        _range(context, ring.signal_low, ring.signal_high),
        fill(spec.used, context.names) if used else "",
    )


def _range(context: Context, low: Measured | None, high: Measured | None) -> str:
    first, last = si_of(low), si_of(high)
    if first is None and last is None:
        return NO_VALUE
    show = context.formatter.show_optional
    return _("{low} to {high}").format(
        low=show(Kind.PRESSURE, first, "Pa", 0), high=show(Kind.PRESSURE, last, "Pa", 0)
    )
