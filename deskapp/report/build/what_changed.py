"""A retest held against the test it repeats, before and after the work."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.measured import day_of
from deskapp.report.blocks import (
    Banner,
    Bar,
    Bars,
    Column,
    Heading,
    Paragraph,
    Sign,
    Table,
    TextRole,
)
from deskapp.report.build.field_text import entry
from deskapp.report.build.figures import without_unit
from deskapp.report.build.trials import names_of_test
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.repair_result import RetestResult
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_papers import WhatChangedSpec


def what_changed(context: Context, spec: WhatChangedSpec) -> list[Block]:
    """Build each retest: bars on one scale, the change in words, set-ups that differ."""
    blocks: list[Block] = []
    for one in context.source.assessment.retests:
        names = _names(context, one)
        if names:
            blocks += _of_retest(context, spec, one, names)
    if blocks and spec.note:
        blocks.append(Paragraph(fill_text(spec.note, context.names), TextRole.QUIET))
    return blocks


def _of_retest(
    context: Context, spec: WhatChangedSpec, one: RetestResult, names: dict[str, str]
) -> list[Block]:
    wording = spec.not_told_apart
    if one.told_apart:
        wording = spec.change if one.reduction >= 0.0 else spec.more
    blocks: list[Block] = [
        Heading(fill(spec.title, names), 3),
        _bars(context, spec, one, names),
        Paragraph(fill_text(wording, names)),
    ]
    if names["parts"]:
        blocks.append(Paragraph(fill_text(spec.in_common, names), TextRole.QUIET))
    if not one.is_comparable:
        blocks.append(Banner(Sign.WARNING, "", (fill_text(spec.differs, names),)))
    if one.differences:
        return [*blocks, _differences(context, spec, one)]
    return [*blocks, Paragraph(fill_text(spec.alike, names))]


def _bars(
    context: Context, spec: WhatChangedSpec, one: RetestResult, names: dict[str, str]
) -> Bars:
    most = max(one.before, one.now, one.limit_flow or 0.0) or 1.0

    def bar(label: str, flow: float, *, is_before: bool = False) -> Bar:
        value = context.formatter.show(Kind.FLOW, flow)
        return Bar(fill(label, names), flow / most, value, is_before)

    bars = (bar(spec.before, one.before, is_before=True), bar(spec.now, one.now))
    limit = None if one.limit_flow is None else bar(spec.limit, one.limit_flow)
    drawn = bars if limit is None else (*bars, limit)
    told = "; ".join(f"{bar.label} {bar.value}" for bar in drawn)
    return Bars("", bars, told, fill(spec.chart, names), limit)


def _differences(context: Context, spec: WhatChangedSpec, one: RetestResult) -> Table:
    heads = spec.differences
    columns = (
        Column(heads.what, weight=2.0),
        Column(heads.before, weight=1.6),
        Column(heads.now, weight=1.6),
        Column(heads.weight, weight=1.4),
    )
    weights = {True: fill(heads.breaks, context.names), False: fill(heads.minor, context.names)}
    first = next(n for n, test in enumerate(context.job.tests) if test.key == one.retest_of)
    rows = tuple(
        (
            printable(row.label),
            printable(row.before) or entry(context, _of_test(row.path, first)) or NO_VALUE,
            printable(row.now) or entry(context, row.path) or NO_VALUE,
            weights[row.breaks],
        )
        for row in one.differences
    )
    return Table(columns, rows)


def _of_test(path: str, position: int) -> str:
    """Return the same field of the test at `position`."""
    head, _position, field = path.split(".", 2)
    return f"{head}.{position}.{field}"


def _names(context: Context, one: RetestResult) -> dict[str, str]:
    """Return the names of a retest for wordings; none where its tests are not in sight."""
    found = {view.test.key: (system, view) for system in context.systems for view in system.tests}
    if one.test not in found or one.retest_of not in found:
        return {}
    (system, now), (_system, before) = found[one.test], found[one.retest_of]
    formatter = context.formatter
    rows = now.result.budget.rows if now.result and now.result.budget else ()
    shared = [row.label.lower() for row in rows if row.id in one.in_common]
    return {
        **context.names,
        "system": system.name,
        "now_test": names_of_test(context, system, now)["test"],
        "before_test": names_of_test(context, system, before)["test"],
        "now_day": formatter.day(day_of(now.test.tested_on)),
        "before_day": formatter.day(day_of(before.test.tested_on)),
        "pressure": formatter.show(Kind.PRESSURE, one.target_pressure, "Pa", 0),
        "reduction": without_unit(formatter, Kind.FLOW, abs(one.reduction)),
        "uncertainty": formatter.show(Kind.FLOW, one.uncertainty),
        "share": formatter.show_optional(Kind.FRACTION, one.share),
        "parts": "; ".join(shared),
    }
