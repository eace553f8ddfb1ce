"""Registers read with a pressure pan: screening in words, never a flow."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.assess.pan import screen
from deskapp.domain.measured import si_of
from deskapp.i18n import _
from deskapp.report.blocks import Align, Column, Paragraph, Table, TextRole
from deskapp.report.build.wording import fill, fill_text, has_all
from deskapp.report.plain_text import printable
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.screening import PanBand, PanReading, Register
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_evidence import PansSpec


def read_registers(context: Context) -> list[tuple[Register, PanReading]]:
    """Return the registers that were read, with what the readings tell, in order."""
    readings = screen(context.job, context.source.pan_bands)
    return [
        (register, reading)
        for register, reading in zip(context.job.registers, readings, strict=True)
        if reading.before is not None or reading.after is not None
    ]


def band_of(context: Context, band_id: str) -> PanBand | None:
    """Return the band with this id."""
    return next((band for band in context.source.pan_bands if band.id == band_id), None)


def register_name(context: Context, register: Register) -> str:
    """Return what a register is called."""
    number = context.job.registers.index(register) + 1
    return printable(register.name) or _("Register {n}").format(n=number)


def pans(context: Context, spec: PansSpec) -> list[Block]:
    """Build the registers with their readings and what those tell."""
    found = read_registers(context)
    if not found:
        return []
    heads, names = spec.columns, {**context.names, **_house(context)}
    columns = (
        Column(heads.place, weight=1.5),
        *((Column(heads.system, weight=1.2),) if context.tells_systems_apart else ()),
        Column(heads.before, Align.RIGHT, 0.8),
        Column(heads.after, Align.RIGHT, 0.8),
        Column(heads.tells, weight=3.0),
    )
    rows = tuple(_row(context, register, reading) for register, reading in found)
    told = [one for one in (spec.house_before, spec.house_after) if has_all(one, names)]
    return [
        Paragraph(fill_text(" ".join((spec.intro, *told)), names), TextRole.QUIET),
        Table(columns, rows, fill(spec.note, names)),
    ]


def _house(context: Context) -> dict[str, str]:
    screening, show = context.job.screening, context.formatter.show
    pressures = {
        "house_before": si_of(screening.house_pressure_before),
        "house_after": si_of(screening.house_pressure_after),
    }
    return {
        name: show(Kind.PRESSURE, value, "Pa", 1)
        for name, value in pressures.items()
        if value is not None
    }


def _row(context: Context, register: Register, reading: PanReading) -> tuple[str, ...]:
    show = context.formatter.show_optional
    systems = (view.name for view in context.systems if view.system.key == register.system)
    band = band_of(context, reading.latest_band)
    return (
        register_name(context, register),
        *((printable(next(systems, "")),) if context.tells_systems_apart else ()),
        show(Kind.PRESSURE, reading.before, "Pa", 1),
        show(Kind.PRESSURE, reading.after, "Pa", 1),
        "" if band is None else printable(f"{_(band.label)}. {_(band.text)}"),
    )
