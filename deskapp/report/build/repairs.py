"""The repair on paper: what each step gained, and retests beside the tests they repeat."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.severity import most_pressing_first, ranked
from deskapp.domain.fields import label_of
from deskapp.i18n import labeled
from deskapp.report.blocks import Align, Column, Paragraph, Table
from deskapp.report.build.figures import without_unit
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.repair_result import (
        LedgerRow,
        RepairLedger,
        RetestResult,
        SetUpDifference,
    )
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_common import LedgerSpec, RetestSpec


def ledgers(context: Context, spec: LedgerSpec) -> list[Block]:
    """Build the ledger of each test that quick readings follow, and what was left to close."""
    heads = spec.columns
    columns = (
        Column(heads.reading, weight=1.2),
        Column(heads.leaks, weight=1.2),
        Column(heads.flow, Align.RIGHT, 1.1),
        Column(heads.gain, Align.RIGHT, 1.6),
        Column(heads.told, weight=1.8),
    )
    blocks: list[Block] = []
    for one in context.source.assessment.ledgers:
        start = spec.start
        if one.start_on is not None:
            start = f"{start}, {context.formatter.day(one.start_on)}"
        rows = [(start, NO_VALUE, _flow(context, one.start), NO_VALUE, "")]
        rows += [_row(context, spec, row) for row in one.rows]
        if len(one.rows) > 1:
            gain = _with_uncertainty(context, one.gain, one.uncertainty)
            told = "" if one.told_apart else spec.not_told_apart
            rows.append((spec.in_all, NO_VALUE, _flow(context, one.last), gain, told))
        note = fill(spec.note, {**context.names, "test": _name(context, one.test)})
        blocks.append(Table(columns, tuple(rows), note, total=len(one.rows) > 1))
        blocks += _left(context, spec, one)
    return blocks


def _row(context: Context, spec: LedgerSpec, row: LedgerRow) -> tuple[str, str, str, str, str]:
    numbers = [context.job.leak_number(key) for key in row.leaks]
    leaks = ", ".join(str(number) for number in sorted(n for n in numbers if n is not None))
    day = "" if row.read_on is None else context.formatter.day(row.read_on)
    told = ", ".join(part for part in (day, printable(row.read_time)) if part)
    name = told or label_of(f"rereadings.{row.index}")
    if row.flow is None or row.gain is None:
        return name, leaks or NO_VALUE, NO_VALUE, NO_VALUE, spec.no_flow
    told = (spec.real if row.gain > 0.0 else spec.risen) if row.told_apart else spec.not_told_apart
    gain = _with_uncertainty(context, row.gain, row.uncertainty or 0.0)
    return name, leaks or NO_VALUE, _flow(context, row.flow), gain, told


def _left(context: Context, spec: LedgerSpec, one: RepairLedger) -> list[Block]:
    if one.excess is None or one.limit_flow is None:
        return []
    names = {
        **context.names,
        "excess": _flow(context, abs(one.excess)),
        "limit": _flow(context, one.limit_flow),
    }
    if one.excess <= 0.0:
        return [Paragraph(fill_text(spec.met, names))]
    ranks = most_pressing_first(ranked(context.job, context.source.leak_locations))
    left = [str(rank.number) for rank in ranks if rank.is_open and rank.system in ("", one.system)]
    texts = (spec.above, spec.open_leaks) if left else (spec.above,)
    return [Paragraph(fill_text(" ".join(texts), {**names, "leaks": ", ".join(left)}))]


def retests(context: Context, spec: RetestSpec) -> list[Block]:
    """Build a paragraph for each retest, with what was set up otherwise."""
    return [_retest(context, spec, one) for one in context.source.assessment.retests]


def _retest(context: Context, spec: RetestSpec, one: RetestResult) -> Paragraph:
    share = context.formatter.show
    names = {
        **context.names,
        "test": _name(context, one.test),
        "first": _name(context, one.retest_of),
        "before": _flow(context, one.before),
        "now": _flow(context, one.now),
        "reduction": without_unit(context.formatter, Kind.FLOW, abs(one.reduction)),
        "uncertainty": _flow(context, one.uncertainty),
        "share": share(Kind.FRACTION, one.share or 0.0),
        "share_uncertainty": share(Kind.FRACTION, one.share_uncertainty or 0.0),
        "fields": _fields(spec, (found for found in one.differences if found.breaks)),
        "shares": _fields(spec, (found for found in one.differences if not found.breaks)),
    }
    text = spec.no_change
    if one.told_apart:
        text = spec.text if one.reduction > 0.0 else spec.more
    end = spec.alike if one.is_comparable else spec.unlike
    less = spec.less_in_common if names["shares"] else ""
    return Paragraph(fill_text(f"{text} {end} {less}".rstrip(), names))


def _fields(spec: RetestSpec, differences: Iterable[SetUpDifference]) -> str:
    """Return fields with their two entries; only their names where entries cannot be told."""
    return "; ".join(
        fill(
            spec.differs if found.before or found.now else "{field}",
            {
                "field": found.label.lower(),
                "entry": found.now or NO_VALUE,
                "entry_before": found.before or NO_VALUE,
            },
        )
        for found in differences
    )


def _name(context: Context, key: str) -> str:
    """Return what a test is called, after its system where there are several."""
    for view in context.systems:
        for test in view.tests:
            if test.test.key == key:
                label = printable(test.test.label) or label_of(f"tests.{test.index}")
                return labeled(view.name, label) if len(context.systems) > 1 else label
    return ""


def _flow(context: Context, flow: float) -> str:
    return context.formatter.show(Kind.FLOW, flow)


def _with_uncertainty(context: Context, value: float, uncertainty: float) -> str:
    number = without_unit(context.formatter, Kind.FLOW, value)
    return f"{number} ± {_flow(context, uncertainty)}"
