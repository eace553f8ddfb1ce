"""What readings at several pressures, or in both directions, came to."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.domain.choices import CHOICE_LABELS, Direction
from deskapp.i18n import _, in_sentence
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.pages.curve_plot import CurvePlot
from deskapp.ui.side_scroll import SideScroll
from deskapp.ui.tables import FactGrid, FactTable
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.result import TestResult
    from deskapp.domain.result_parts import CurveResult
    from deskapp.units.display import Formatter


class CurveBlock(QWidget):
    """The curve drawn, its coefficient and exponent with their intervals, and points off it."""

    def __init__(self, curve: CurveResult, formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        title = _("Curve through the readings: Q = C · Pⁿ")
        if curve.direction is not None:
            direction = _(CHOICE_LABELS[Direction][curve.direction])
            title = _("{title} ({direction})").format(title=title, direction=in_sentence(direction))
        column.addWidget(Words(title, Size.STRONG))
        column.addWidget(CurvePlot(curve, formatter))
        column.addWidget(FactGrid(_curve_facts(curve, formatter)))
        off = [point for point in curve.points if point.is_off]
        if off:
            notice = Notice(Size.BODY)
            column.addWidget(notice)
            texts = (
                _("reading {n} lies {percent}% off the curve").format(
                    n=point.reading + 1, percent=formatter.number(point.residual_percent, 1)
                )
                for point in off
            )
            text = _("{points}. It still counts; read it again if you can.")
            notice.say(Glyph.CHECK, _("Check"), text.format(points="; ".join(texts)))


def _curve_facts(curve: CurveResult, formatter: Formatter) -> list[tuple[str, str]]:
    def coefficient(si: float) -> str:
        return formatter.show(Kind.COEFFICIENT, si, digits=2)

    def exponent(value: float) -> str:
        return formatter.number(value, 3)

    def flow(si: float) -> str:
        return formatter.show(Kind.FLOW, si)

    rows = [
        (
            _("Coefficient C, flow at 1 Pa"),
            _within(curve.coefficient, curve.coefficient_low, curve.coefficient_high, coefficient),
        ),
        (
            _("Exponent n"),
            _within(curve.exponent, curve.exponent_low, curve.exponent_high, exponent),
        ),
    ]
    if curve.r_squared is not None:
        rows.append((_("Fit r²"), formatter.number(curve.r_squared, 5)))
    if curve.target_pressure is not None and curve.flow_at_target is not None:
        pressure = formatter.show(Kind.PRESSURE, curve.target_pressure, digits=0)
        label = _("Curve at {pressure}").format(pressure=pressure)
        rows.append((label, _within(curve.flow_at_target, curve.flow_low, curve.flow_high, flow)))
    if curve.prediction_low is not None and curve.prediction_high is not None:
        low, high = flow(curve.prediction_low), flow(curve.prediction_high)
        text = _("{low} to {high}").format(low=low, high=high)
        rows.append((_("One more reading there"), text))
    share = formatter.show(Kind.FRACTION, curve.confidence, digits=0)
    rows.append((_("Intervals"), _("hold the true value with {share}").format(share=share)))
    return rows


def _within(
    value: float, low: float | None, high: float | None, show: Callable[[float], str]
) -> str:
    if low is None or high is None:
        return show(value)
    text = _("{value}   ({low} to {high})")
    return text.format(value=show(value), low=show(low), high=show(high))


def curves_of(result: TestResult, formatter: Formatter) -> list[QWidget]:
    """Return the directions of a test beside each other, and a block for each of its curves."""
    blocks: list[QWidget] = []
    if result.directions:
        blocks.append(SideScroll(_directions(result, formatter)))
    curves = [result.curve, *(direction.curve for direction in result.directions)]
    blocks += [CurveBlock(curve, formatter) for curve in curves if curve is not None]
    return blocks


def _directions(result: TestResult, formatter: Formatter) -> FactTable:
    head = (
        _("Direction"),
        _("Readings"),
        _("Mean pressure"),
        _("Spread"),
        _("Flow at target"),
    )
    rows = [
        (
            _(CHOICE_LABELS[Direction][one.direction]),
            str(one.readings),
            formatter.show_optional(Kind.PRESSURE, one.mean_induced_pressure),
            formatter.show_optional(Kind.FRACTION, one.spread),
            formatter.show_optional(Kind.FLOW, one.flow),
        )
        for one in result.directions
    ]
    rows.append((_("Mean of both"), "", "", "", formatter.show_optional(Kind.FLOW, result.flow)))
    return FactTable(head, rows)
