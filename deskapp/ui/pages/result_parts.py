"""Pieces of the result page: facts, tables, arithmetic."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from deskapp.i18n import _, labeled
from deskapp.session.outcome_words import outcome_words
from deskapp.ui.fold import FoldButton
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.outcome_signs import sign_of, status_words
from deskapp.ui.scale_bar import ScaleBar
from deskapp.ui.slices import Slices
from deskapp.ui.tables import RIGHT
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

    from deskapp.domain.result import LimitOutcome, Step, TestResult
    from deskapp.units.display import Formatter


_LINES_IN_A_PIECE = 6


class OutcomeBlock(QWidget):
    """One limit: verdict, scale, arithmetic, and where the limit comes from."""

    def __init__(self, outcome: LimitOutcome, formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        head = QGridLayout()
        head.setHorizontalSpacing(10)
        glyph, word = sign_of(outcome)
        head.addWidget(Mark(glyph, 22), 0, 0, Qt.AlignmentFlag.AlignTop)
        words = outcome_words(outcome, formatter)
        title = labeled(word, words.margin) if words is not None else word
        head.addWidget(Words(f"{outcome.edition}. {title}", Size.STRONG), 0, 1)
        head.setColumnStretch(1, 1)
        column.addLayout(head)
        if words is not None and outcome.measured is not None and outcome.limit_value is not None:
            bar = ScaleBar(labels=True)
            texts = (f"{words.measured} {words.unsure}".strip(), words.limit)
            bar.show_values(outcome.measured, outcome.limit_value, outcome.verdict, texts)
            column.addWidget(bar)
            if words.covers:
                column.addWidget(Words(words.covers, Size.SMALL, muted=True))
        if outcome.too_close and outcome.remark:
            close = Notice(Size.BODY)
            column.addWidget(close)
            close.say(Glyph.CHECK, "", outcome.remark)
        rule = _("Allowed: {rule}.").format(rule=outcome.rule_text) if outcome.rule_text else ""
        for line in (rule, outcome.reason, _waiver(outcome)):
            if line:
                column.addWidget(Words(line).can_be_copied())
        column.addLayout(_close(outcome.lines, Size.BODY, indent=2 * GRID))
        column.addLayout(_close(self._about(outcome), Size.SMALL, muted=True))

    @staticmethod
    def _about(outcome: LimitOutcome) -> list[str]:
        lines = [outcome.note] if outcome.note else []
        if outcome.clause:
            lines.append(_("Clause: {clause}.").format(clause=outcome.clause.rstrip(".")))
        if outcome.status is not None:
            source = _("Source: {source}.").format(source=outcome.source.rstrip("."))
            lines.append(f"{status_words(outcome.status)} {source}")
        return lines


def _close(
    lines: Sequence[str], size: Size, *, indent: int = 0, muted: bool = False
) -> QVBoxLayout:
    """Return lines that belong together, one close below the other."""
    column = QVBoxLayout()
    column.setContentsMargins(indent, 0, 0, 0)
    column.setSpacing(2)
    for line in lines:
        column.addWidget(Words(line, size, muted=muted).can_be_copied())
    return column


def _waiver(outcome: LimitOutcome) -> str:
    return "" if outcome.waiver == outcome.reason else outcome.waiver


class Arithmetic(QWidget):
    """The steps of the arithmetic, folded away until asked for."""

    def __init__(self, steps: Sequence[Step], formatter: Formatter) -> None:
        super().__init__()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        self._button = FoldButton(_("The working, step by step"))
        self._button.turned.connect(self._fold)
        column.addWidget(self._button)
        self._body = QWidget()
        self._body.hide()
        column.addWidget(self._body)
        self._steps = steps
        self._formatter = formatter
        self._rest = Slices(self)

    def _write(self) -> Iterator[Callable[[], None]]:
        """Give the lines in pieces: there are more of them than one turn could write."""
        grid = QGridLayout(self._body)
        grid.setContentsMargins(0, 4, 0, 0)
        grid.setHorizontalSpacing(3 * GRID)
        grid.setVerticalSpacing(2)
        grid.setColumnStretch(0, 1)
        for first in range(0, len(self._steps), _LINES_IN_A_PIECE):
            yield partial(self._add_from, grid, first)

    def _add_from(self, grid: QGridLayout, first: int) -> None:
        some = self._steps[first : first + _LINES_IN_A_PIECE]
        for at, step in enumerate(some, first):
            self._add(grid, 4 * at, step, self._formatter)

    @staticmethod
    def _add(grid: QGridLayout, line: int, step: Step, formatter: Formatter) -> None:
        grid.addWidget(Words(step.label, Size.STRONG), line, 0)
        if step.value is not None:
            value = Words(step.value_in(formatter), Size.STRONG, wraps=False)
            value.setAlignment(RIGHT)
            grid.addWidget(value.can_be_copied(), line, 1)
        inputs = step.numbers_in(formatter)
        if step.formula:
            text = f"{step.formula}   ({inputs})" if inputs else step.formula
            grid.addWidget(Words(text).can_be_copied(), line + 1, 0, 1, 2)
        if step.source:
            grid.addWidget(Words(step.source, Size.SMALL, muted=True), line + 2, 0, 1, 2)
        grid.setRowMinimumHeight(line + 3, GRID)

    @property
    def is_open(self) -> bool:
        """Whether the steps are shown."""
        return self._button.is_open

    def toggle(self) -> None:
        """Show the steps, or fold them away."""
        self._button.turn()

    @property
    def is_written(self) -> bool:
        """Whether all lines stand there."""
        return self._body.layout() is not None and not self._rest.is_due

    def _fold(self, is_open: bool) -> None:
        if self._body.layout() is None:
            self._rest.begin(self._write())
        self._body.setVisible(is_open)


def result_facts(result: TestResult, formatter: Formatter) -> list[tuple[str, str]]:
    """Return the result of a test in every unit that somebody may ask for."""
    from deskapp.units.kinds import Kind

    rows: list[tuple[str, str]] = []

    def add(label: str, kind: Kind, value: float | None, units: tuple[str, ...] = ("",)) -> None:
        if value is not None:
            texts = (formatter.show(kind, value, unit or None) for unit in units)
            rows.append((label, "   ".join(dict.fromkeys(texts))))

    if result.target_pressure is not None:
        label = _("Leakage at {pressure}").format(
            pressure=formatter.show(Kind.PRESSURE, result.target_pressure, digits=0)
        )
        add(label, Kind.FLOW, result.flow, ("cfm", "L/s", "m3/h"))
    rows += how_sure(result, formatter)
    add(
        _("Per floor area"),
        Kind.FLOW_PER_AREA,
        result.flow_per_area,
        ("cfm/100ft2", "cfm/1000ft2", "L/s/m2"),
    )
    add(_("Share of air handler flow"), Kind.FRACTION, result.fan_fraction)
    add(_("Mean pressure on the ducts"), Kind.PRESSURE, result.mean_induced_pressure)
    add(_("Spread of the readings"), Kind.FRACTION, result.spread)
    if result.extrapolated and result.flow_low is not None and result.flow_high is not None:
        low = formatter.show(Kind.FLOW, result.flow_low)
        high = formatter.show(Kind.FLOW, result.flow_high)
        text = _("{low} to {high}, as the exponent may be 0.5 to 0.7")
        rows.append((_("Converted to the target: range"), text.format(low=low, high=high)))
    if result.exponent is not None and result.flow is not None:
        exponent = formatter.show(Kind.NUMBER, result.exponent, digits=2)
        rows.append((_("Leakage exponent used"), exponent))
    if result.not_corrected and result.flow is not None:
        rows.append((_("Air density"), result.not_corrected))
    add(_("Air density at the fan"), Kind.DENSITY, result.air_density, ("", "kg/m3"))
    add(_("All leaks together, as one hole"), Kind.AREA, result.hole_area, ("in2", "cm2"))
    add(_("Diameter of that hole"), Kind.LENGTH, result.hole_diameter, ("in", "cm"))
    return rows


def how_sure(result: TestResult, formatter: Formatter) -> list[tuple[str, str]]:
    """Return the expanded uncertainty of the flow, and what of it comes from carrying it up."""
    from deskapp.units.kinds import Kind

    rows: list[tuple[str, str]] = []
    budget = result.budget
    if budget is not None:
        texts = [formatter.show(Kind.FLOW, budget.expanded, unit) for unit in ("cfm", "L/s")]
        if budget.relative_expanded is not None:
            texts.append(formatter.show(Kind.FRACTION, budget.relative_expanded))
        factor = formatter.number(budget.coverage_factor, 0)
        label = _("Uncertainty of the flow alone (k = {factor})").format(factor=factor)
        label = label.replace(" = ", "\N{NO-BREAK SPACE}=\N{NO-BREAK SPACE}")
        rows.append((label, "   ".join(f"± {text}" for text in texts)))
    if result.extrapolation_uncertainty is not None:
        added = formatter.show(Kind.FLOW, result.extrapolation_uncertainty)
        rows.append((_("Of it, from carrying it up to the target"), f"± {added}"))
    if result.residual_share is not None:
        share = formatter.show(Kind.FRACTION, result.residual_share)
        rows.append((_("Flow between ducts and house, at most"), share))
    return rows
