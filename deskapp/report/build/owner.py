"""What the outcome means to the owner: closeness, shares delivered, cost, registers in words."""

from __future__ import annotations

from math import floor, log10
from typing import TYPE_CHECKING

from deskapp.assess.conformity import chance_words
from deskapp.assess.pan import LOOK, MEND
from deskapp.i18n import _, labeled
from deskapp.report.blocks import (
    Align,
    Column,
    Paragraph,
    Sign,
    SignedLine,
    SignedLines,
    Table,
    TextRole,
    TextSpan,
)
from deskapp.report.build.pans import band_of, read_registers, register_name
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.display import NO_VALUE, UnitSystem
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.owner_result import DeliveryResult, OwnerResult
    from deskapp.domain.result_parts import Assumption
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context, SystemView
    from deskapp.report.template_owner import (
        AssumedColumns,
        CloseSpec,
        DeliverySpec,
        WorstRegistersSpec,
    )

_SMALL_MONEY = 10.0


def close(context: Context, spec: CloseSpec) -> list[Block]:
    """Build a remark for each system whose deciding outcome is too close to call."""
    lines: list[SignedLine] = []
    for view in context.systems:
        outcome = view.deciding
        if outcome is None or not outcome.too_close:
            continue
        chance = "" if outcome.probability is None else chance_words(outcome.probability)
        names = {**_names(context, view), "chance": chance}
        text = fill_text(spec.text, names)
        lines.append(SignedLine(Sign.NOTE, fill(spec.word, names), text))
    return [SignedLines(tuple(lines))] if lines else []


def delivery(context: Context, spec: DeliverySpec) -> list[Block]:
    """Build shares delivered and yearly cost of each system, and what they rest on."""
    views = [
        (view, owner)
        for view in context.systems
        if (owner := view.result.owner) is not None and _tells(owner.now)
    ]
    if not views:
        return []
    blocks: list[Block] = [
        Paragraph(fill_text(spec.intro, context.names)),
        _shares(context, spec, views),
    ]
    for view, owner in views:
        names = _names(context, view)
        told = [
            fill_text(wording, {**names, "low": low, "high": high})
            for wording, (low, high) in (
                (spec.cost, _money(context, owner, owner.cost_low, owner.cost_high)),
                (spec.saved, _money(context, owner, owner.saved_low, owner.saved_high)),
            )
            if low
        ]
        if told:
            opening = fill_text(spec.of_system, names) if len(context.systems) > 1 else ()
            spans = (span for text in told for span in (TextSpan(" "), *text))
            blocks.append(Paragraph((*opening, *list(spans)[0 if opening else 1 :])))
    blocks.append(Paragraph(fill_text(spec.rests_on, context.names), TextRole.QUIET))
    return [*blocks, _assumptions(context, spec.assumed, views)] if spec.assumed else blocks


def _tells(now: DeliveryResult | None) -> bool:
    return now is not None and (now.heating is not None or now.cooling is not None)


def _names(context: Context, view: SystemView) -> dict[str, str]:
    return {**context.names, "system": view.name, "serves": view.system.serves}


def _shares(
    context: Context, spec: DeliverySpec, views: list[tuple[SystemView, OwnerResult]]
) -> Table:
    """Build one table of all systems; the column of the test before only where there was one."""
    heads = spec.columns
    columns = [Column(heads.what, weight=2.6), Column(heads.now, Align.RIGHT)]
    has_before = any(owner.before is not None for _view, owner in views)
    if has_before:
        columns.insert(1, Column(heads.before, Align.RIGHT))
    columns.append(Column(heads.tight, Align.RIGHT))
    rows: list[tuple[str, ...]] = []
    for view, owner in views:
        opening = f"{view.name}: " if len(context.systems) > 1 else ""
        for label, season in ((spec.heating, _heating), (spec.cooling, _cooling)):
            share, tight = season(owner.now)
            if share is None:
                continue
            cells = [share, tight]
            if has_before:
                cells.insert(0, season(owner.before)[0])
            shown = (_percent(context, one) for one in cells)
            rows.append((f"{opening}{fill(label, context.names)}", *shown))
    return Table(tuple(columns), tuple(rows))


def _heating(result: DeliveryResult | None) -> tuple[float | None, float | None]:
    return (None, None) if result is None else (result.heating, result.heating_tight)


def _cooling(result: DeliveryResult | None) -> tuple[float | None, float | None]:
    return (None, None) if result is None else (result.cooling, result.cooling_tight)


def _percent(context: Context, share: float | None) -> str:
    return NO_VALUE if share is None else context.formatter.show(Kind.FRACTION, share, digits=0)


def _money(
    context: Context, owner: OwnerResult, low: float | None, high: float | None
) -> tuple[str, str]:
    """Return a range of money, both ends rounded alike; empty where there is none.

    An estimate is good for two digits of its upper end, and for tens at best.
    """
    if low is None or high is None or high <= 0.0:
        return "", ""
    size = 10.0 ** floor(log10(high))
    step = max(_SMALL_MONEY, size / 10.0) if high >= _SMALL_MONEY else size
    least, most = (step * round(max(0.0, end) / step) for end in (low, high))
    return _price(context, owner, least), _price(context, owner, most)


def _price(context: Context, owner: OwnerResult, amount: float) -> str:
    digits = 0 if amount == round(amount) else 2
    number = context.formatter.number(amount, digits)
    currency = printable(owner.currency)
    if len(currency) == 1:
        # words: a sum of money with the sign of its currency, such as $60
        return _("{currency}{number}").format(currency=currency, number=number)
    return f"{number}\N{NO-BREAK SPACE}{currency}".strip()


def _assumptions(
    context: Context, heads: AssumedColumns, views: list[tuple[SystemView, OwnerResult]]
) -> Table:
    """Build all assumptions, a row each; those all systems share are printed once."""
    told = {
        view.name: [_assumption(context, one) for one in owner.assumptions] for view, owner in views
    }
    shared = [row for row in told[views[0][0].name] if all(row in rows for rows in told.values())]
    own = [
        (labeled(name, row[0]), *row[1:])
        for name, rows in told.items()
        for row in rows
        if row not in shared
    ]
    columns = (
        Column(heads.what, weight=2.6),
        Column(heads.value, weight=1.4),
        Column(heads.source, weight=3.4),
    )
    return Table(columns, (*shared, *own))


def _assumption(context: Context, one: Assumption) -> tuple[str, str, str]:
    formatter = context.formatter
    shown = one.text
    if not shown and one.value is not None:
        if one.kind is Kind.RESISTANCE and formatter.system is UnitSystem.IP:
            shown = "R-" + formatter.plain(one.kind, one.value).partition(" ")[0]
        else:
            shown = formatter.show(one.kind, one.value)
    return printable(one.label), printable(shown) or NO_VALUE, printable(one.source)


def worst_registers(context: Context, spec: WorstRegistersSpec) -> list[Block]:
    """Build the registers that ask for the most, the worst first, as words of traffic lights."""
    lines: list[tuple[int, float, SignedLine]] = []
    for register, reading in read_registers(context):
        before, after = (band_of(context, b) for b in (reading.before_band, reading.after_band))
        band = after or before
        if band is None or max(b.urgency for b in (before, band) if b) < LOOK:
            continue
        names = {**context.names, "register": register_name(context, register)}
        sign, word = Sign.PASS, spec.go
        if band.urgency >= MEND:
            sign, word = Sign.FAIL, spec.stop
        elif band.urgency >= LOOK:
            sign, word = Sign.WARNING, spec.slow
        is_mended = sign is Sign.PASS and before is not None
        if is_mended and not spec.mended:
            continue
        names["before"] = _(before.label).lower() if before is not None else ""
        names["tells"] = _(band.text)
        text = fill_text(spec.mended if is_mended else spec.line, names)
        size = reading.before if reading.before is not None else (reading.after or 0.0)
        lines.append((-band.urgency, -size, SignedLine(sign, fill(word, names), text)))
    if not lines:
        return []
    lines.sort(key=lambda line: line[:2])
    shown = [line for _urgency, _size, line in lines[: spec.most]]
    intro = fill_text(spec.intro, context.names)
    blocks: list[Block] = [Paragraph(intro)] if intro else []
    blocks.append(SignedLines(tuple(shown)))
    rest = len(lines) - len(shown)
    if rest:
        names = {**context.names, "count": str(rest)}
        blocks.append(Paragraph(fill_text(spec.others, names), TextRole.QUIET))
    return blocks
