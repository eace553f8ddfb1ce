"""Registers as bars by pan reading: before beside after, the worst first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.pan import LOOK, MEND, screen, worst_first
from deskapp.i18n import _
from deskapp.report.blocks import Paragraph, RegisterRow, RegisterWalk, Sign
from deskapp.report.build.pans import band_of, register_name
from deskapp.report.build.wording import fill, fill_text
from deskapp.report.plain_text import printable
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.screening import PanReading
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_evidence import RegisterWalkSpec


def register_walk(context: Context, spec: RegisterWalkSpec) -> list[Block]:
    """Build the drawing of the registers that were read; nothing where none was."""
    bands = context.source.pan_bands
    readings = screen(context.job, bands)
    order = worst_first(readings, bands)
    if not order:
        return []
    shown = order[: spec.most]
    sizes = [size for at in shown for size in (readings[at].before, readings[at].after)]
    longest = max(size for size in sizes if size is not None) or 1.0
    rows = tuple(_row(context, at, readings[at], longest) for at in shown)
    count = len(order) - len(shown)
    more = fill(spec.more, {**context.names, "count": str(count)}) if count else ""
    told = "; ".join(_told(spec, row) for row in rows)
    description = fill(spec.description, {**context.names, "registers": told})
    drawn = RegisterWalk(rows, spec.before, spec.after, more, f"{description} {more}".strip())
    intro = fill_text(spec.intro, context.names)
    return [Paragraph(intro), drawn] if intro else [drawn]


def _row(context: Context, at: int, reading: PanReading, longest: float) -> RegisterRow:
    def share(size: float | None) -> float | None:
        return None if size is None else size / longest

    def shown(size: float | None) -> str:
        return "" if size is None else context.formatter.show(Kind.PRESSURE, size, "Pa", 1)

    band = band_of(context, reading.latest_band)
    urgency = band.urgency if band is not None else 0
    sign = Sign.FAIL if urgency >= MEND else Sign.WARNING if urgency >= LOOK else Sign.PASS
    return RegisterRow(
        label=register_name(context, context.job.registers[at]),
        before=share(reading.before),
        after=share(reading.after),
        before_text=shown(reading.before),
        after_text=shown(reading.after),
        sign=sign,
        word=printable(_(band.label)) if band is not None else "",
    )


def _told(spec: RegisterWalkSpec, row: RegisterRow) -> str:
    parts = ((spec.before, row.before_text), (spec.after, row.after_text))
    figures = ", ".join(f"{name.lower()} {text}" for name, text in parts if text)
    return f"{row.label}: {figures}, {row.word.lower()}"
