"""Results that only some tests have: duct classes, both sides, the air tightness of the house."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _, labeled
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.outcome_signs import status_words
from deskapp.ui.tables import FactGrid
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.result import TestResult
    from deskapp.domain.result_parts import DuctClass, EnvelopeResult, SidesResult
    from deskapp.units.display import Formatter


class ClassesBlock(QWidget):
    """The class the ducts reach by each standard."""

    def __init__(self, classes: tuple[DuctClass, ...], formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(Words(_("Class reached by the duct surface"), Size.STRONG))
        for one in classes:
            column.addSpacing(4)
            standard = f"{one.standard} ({one.edition})" if one.edition else one.standard
            column.addWidget(Words(labeled(standard, one.name or NO_VALUE)).can_be_copied())
            about = [_bounds(one, formatter), f"{status_words(one.status)} {one.source}."]
            text = " ".join(part for part in about if part)
            column.addWidget(Words(text, Size.SMALL, muted=True))


def _bounds(one: DuctClass, formatter: Formatter) -> str:
    if one.limit is None or not one.unit:
        return ""
    label = formatter.label(one.unit)
    text = _("Measured {value} {unit}, this class allows {limit}.").format(
        value=formatter.number(one.value, 3), unit=label, limit=formatter.number(one.limit, 3)
    )
    if one.next_name and one.next_limit is not None:
        following = _("{name} would allow {limit}.").format(
            name=one.next_name, limit=formatter.number(one.next_limit, 3)
        )
        text = f"{text} {following}"
    return text


class SidesBlock(QWidget):
    """Supply and return measured apart, their sum, and whether it agrees with the whole."""

    def __init__(self, sides: SidesResult, formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        pressure = formatter.show(Kind.PRESSURE, sides.target_pressure, digits=0)
        title = _("Supply and return apart, at {pressure}").format(pressure=pressure)
        column.addWidget(Words(title, Size.STRONG))
        values = (
            (_("Supply side"), sides.supply),
            (_("Return side"), sides.returns),
            (_("Both together"), sides.sum),
            (_("Whole system, as tested"), sides.total),
            (_("Difference"), sides.difference),
            (_("Difference that counts as agreement"), sides.allowed),
        )
        rows = [(label, formatter.show(Kind.FLOW, si)) for label, si in values if si is not None]
        column.addWidget(FactGrid(rows))
        if sides.agrees is not None:
            notice = Notice(Size.BODY)
            column.addWidget(notice)
            if sides.agrees:
                notice.say(Glyph.DONE, "", _("The sides add up to the whole."))
            else:
                text = _("The sides do not add up to the whole. Was the way between them tight?")
                notice.say(Glyph.CHECK, _("Check"), text)


class EnvelopeBlock(QWidget):
    """The air tightness of the house itself."""

    def __init__(self, envelope: EnvelopeResult, formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(FactGrid(_envelope_facts(envelope, formatter)))
        if not envelope.has_curve:
            text = _("The exponent was assumed, so the leakage areas are for orientation only.")
            column.addWidget(Words(text, Size.SMALL, muted=True))


def _envelope_facts(envelope: EnvelopeResult, formatter: Formatter) -> list[tuple[str, str]]:
    flow = formatter.both(Kind.FLOW, envelope.flow_50)
    if envelope.flow_50_low is not None and envelope.flow_50_high is not None:
        low = formatter.show(Kind.FLOW, envelope.flow_50_low)
        high = formatter.show(Kind.FLOW, envelope.flow_50_high)
        flow = _("{value}   ({low} to {high})").format(value=flow, low=low, high=high)
    rows = [(_("Flow at 50 Pa"), flow)]
    if envelope.air_changes_50 is not None:
        changes = formatter.number(envelope.air_changes_50, 2)
        text = _("{n} per hour").format(n=changes)
        rows.append((_("Air changes at 50 Pa"), text))
    values = (
        (_("Per floor area at 50 Pa"), Kind.FLOW_PER_AREA, envelope.per_floor_area, None),
        (_("Per envelope area at 50 Pa"), Kind.FLOW_PER_AREA, envelope.per_envelope_area, None),
        (_("Leakage area at 4 Pa"), Kind.AREA, envelope.leakage_area_4, ("in2", "cm2")),
        (_("Leakage area at 10 Pa"), Kind.AREA, envelope.leakage_area_10, ("in2", "cm2")),
    )
    for label, kind, value, units in values:
        if value is not None:
            shown = (formatter.show(kind, value, unit) for unit in units or (None,))
            rows.append((label, "   ".join(shown)))
    if envelope.exponent is not None:
        rows.append((_("Exponent n"), formatter.number(envelope.exponent, 3)))
    if envelope.is_standard:
        rows.append((_("Air"), _("at standard conditions")))
    return rows


def more_of(result: TestResult, formatter: Formatter) -> list[QWidget]:
    """Return what a test has beside its flow."""
    blocks: list[QWidget] = []
    if result.envelope is not None:
        blocks.append(EnvelopeBlock(result.envelope, formatter))
    if result.classes:
        blocks.append(ClassesBlock(result.classes, formatter))
    return blocks
