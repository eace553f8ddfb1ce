"""How sure a figure is, in words and as a budget of uncertainty."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _, in_sentence
from deskapp.report.blocks import Align, Bar, Bars, Column, Heading, Table
from deskapp.report.build.trials import names_of_test
from deskapp.report.build.wording import fill
from deskapp.report.plain_text import printable
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.result import TestResult
    from deskapp.domain.result_parts import BudgetResult, BudgetRow
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context, SystemView, TestView
    from deskapp.report.template_evidence import BudgetSpec
    from deskapp.units.display import Formatter

_ADDED_DIGITS = 2
_DIGITS = {"cfm/100ft2": 2, "L/s/m2": 3, "ft2": 0}
"""Decimals of a figure beside its uncertainty, where they are not one."""
_LEAST_SHARE = 0.001
_TOTALS = 3
"""Rows that stay together: the last part of the budget and its two totals."""


def with_uncertainty(formatter: Formatter, budget: BudgetResult, unit: str | None = None) -> str:
    """Return ``167.9 ± 9.8 cfm``: the value of a budget and its expanded uncertainty."""
    unit = unit or formatter.unit_for(budget.kind)
    digits = _DIGITS.get(unit, 1)
    return _give_or_take(formatter, budget.kind, (budget.value, budget.expanded), unit, digits)


def _give_or_take(
    formatter: Formatter, kind: Kind, values: tuple[float, float], unit: str, digits: int
) -> str:
    value, expanded = (formatter.show(kind, si, unit, digits) for si in values)
    label = formatter.label(unit).replace(" ", "\N{NO-BREAK SPACE}")
    return f"{value.removesuffix(label).rstrip()} ± {expanded}"


def budget(context: Context, spec: BudgetSpec) -> list[Block]:
    """Build the budget of each test that a verdict rests on."""
    blocks: list[Block] = []
    for view in context.systems:
        for test in context.tests_of(view, earlier_too=spec.earlier_too):
            result = test.result
            if result is None or result.budget is None or not _is_current(view, test):
                continue
            names = {**context.names, **names_of_test(context, view, test)}
            if spec.title:
                blocks.append(Heading(fill(spec.title, names), 3))
            others = "; ".join(_others(context, spec, result))
            caption = [spec.note, *((spec.others,) if others else ())]
            told = fill(" ".join(caption), {**names, "figures": others})
            blocks += _bars(context, spec, result.budget, names)
            blocks.append(_table(context, spec, result.budget, told))
    return blocks


def _bars(
    context: Context, spec: BudgetSpec, result: BudgetResult, names: dict[str, str]
) -> list[Block]:
    """Build the shares of the budget as bars, the greatest first."""
    if not spec.bars or not result.rows:
        return []
    rows = sorted(result.rows, key=lambda row: -row.share)
    bars = tuple(
        Bar(printable(row.label), row.share, _share(context.formatter, row.share)) for row in rows
    )
    figures = "; ".join(f"{bar.label} {bar.value}" for bar in bars)
    told = fill(spec.bars_told, {**names, "figures": figures})
    return [Bars(fill(spec.bars, names), bars, told)]


def _is_current(view: SystemView, test: TestView) -> bool:
    return view.index < 0 or view.latest is test


def _table(context: Context, spec: BudgetSpec, result: BudgetResult, caption: str) -> Table:
    heads, names, formatter = spec.columns, context.names, context.formatter
    columns = (
        Column(heads.what, weight=1.6),
        Column(heads.standard, Align.RIGHT, 1.3),
        Column(heads.adds, Align.RIGHT, 1.0),
        Column(heads.basis, weight=3.4),
        Column(heads.share, Align.RIGHT, 0.7),
    )
    by_share = sorted(result.rows, key=lambda row: -row.share)
    rows = [_row(context, spec, result, row) for row in by_share]
    combined = formatter.show(result.kind, result.combined, digits=_ADDED_DIGITS)
    expanded = formatter.show(result.kind, result.expanded, digits=_ADDED_DIGITS)
    relative = result.relative_expanded
    share = "" if relative is None else formatter.show(Kind.FRACTION, relative, digits=1)
    rows += [
        (fill(spec.combined, names), "", _either_way(combined), "", ""),
        (
            fill(spec.expanded, names),
            "",
            _either_way(expanded),
            "",
            _either_way(share) if share else "",
        ),
    ]
    return Table(columns, tuple(rows), caption, total=True, kept=_TOTALS)


def _row(
    context: Context, spec: BudgetSpec, result: BudgetResult, row: BudgetRow
) -> tuple[str, ...]:
    formatter = context.formatter
    basis = printable(row.basis)
    if row.is_assumed:
        basis = f"{basis}{fill(spec.assumed, context.names)}"
    return (
        printable(row.label),
        formatter.give_or_take(row.kind, row.standard_uncertainty, _ADDED_DIGITS),
        formatter.give_or_take_little(result.kind, row.contribution, _ADDED_DIGITS),
        basis,
        _share(formatter, row.share),
    )


def _either_way(shown: str) -> str:
    return f"±\N{NO-BREAK SPACE}{shown}"


def _share(formatter: Formatter, share: float) -> str:
    if 0.0 < share < _LEAST_SHARE:
        least = formatter.show(Kind.FRACTION, _LEAST_SHARE, digits=1)
        return _("< {least}").format(least=least)
    return formatter.show(Kind.FRACTION, share, digits=1)


def _others(context: Context, spec: BudgetSpec, result: TestResult) -> list[str]:
    """Return the figures worked out from the flow, each with its uncertainty and its divisor's."""
    named = (
        (_("per floor area {figure}"), result.area_budget),
        (_("of the air handler's flow {figure}"), result.fan_budget),
        (_("per duct surface {figure}"), result.surface_budget),
    )
    return [
        words.format(figure=_divided(context, spec, one)) for words, one in named if one is not None
    ]


def _divided(context: Context, spec: BudgetSpec, one: BudgetResult) -> str:
    """Return a figure with its uncertainty, and so what the flow was divided by: the last row."""
    formatter, divisor = context.formatter, one.rows[-1]
    figure = with_uncertainty(formatter, one)
    if divisor.standard_uncertainty == 0.0:
        return figure
    both = (divisor.value, one.coverage_factor * divisor.standard_uncertainty)
    unit = formatter.unit_for(divisor.kind)
    own = _give_or_take(formatter, divisor.kind, both, unit, _DIGITS.get(unit, 1))
    if divisor.is_assumed:
        own += fill(spec.assumed, context.names)
    part = in_sentence(printable(divisor.label))
    return _("{figure} ({part} {own})").format(figure=figure, part=part, own=own)
