"""The floor areas that decide the verdict, beside each other, with what each would lead to."""

from __future__ import annotations

from itertools import groupby
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.choices import CHOICE_LABELS, AreaSource
from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of, verdict_of
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.slices import Slices
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.finding import Finding
    from deskapp.domain.result import AreaCheck, AreaOutcome, HouseResult, SystemResult
    from deskapp.ui.bridge import Bridge
    from deskapp.units.display import Formatter

_TOP = Qt.AlignmentFlag.AlignTop
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignTop
_CODES = frozenset({"house_hides", "area_decides", "area_not_from_source"})


class AreaCard(Card):
    """Areas of the systems against the house, area per ton, and the verdict for each figure."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(12)
        column.addWidget(Words(_("Floor areas beside each other"), Size.HEADING))
        why = _("The floor area decides many verdicts. Compare the figures before you rely on one.")
        column.addWidget(Words(why, muted=True))
        self._body = QVBoxLayout()
        self._body.setSpacing(12)
        column.addLayout(self._body)
        self._shown = self._wanted()
        self._write()
        self._rest = Slices(self)

    def refresh(self) -> None:
        """Show the areas of the job as it stands: the tables are made anew in the next turn."""
        wanted = self._wanted()
        is_new = wanted != self._shown
        self._shown = wanted
        if is_new:
            self._rest.begin([self._write])

    def _wanted(self) -> object:
        assessment = self._bridge.assessment
        systems = tuple((system.name, system.areas) for system in assessment.systems)
        return (assessment.house, systems, self._told(), self._bridge.formatter)

    def _told(self) -> tuple[Finding, ...]:
        return tuple(f for f in self._bridge.findings if f.code in _CODES)

    def _write(self) -> None:
        assessment, formatter = self._bridge.assessment, self._bridge.formatter
        empty(self._body)
        self._body.addWidget(AreaTable(assessment.house, formatter))
        for system in assessment.systems:
            if system.areas:
                self._add_figures(system, formatter)
        self._add_findings(self._told())

    def reveal(self, path: str) -> bool:
        """Nothing is entered here."""
        del path
        return False

    def _add_figures(self, system: SystemResult, formatter: Formatter) -> None:
        for _key, entries in groupby(system.areas, key=lambda entry: (entry.limit, entry.test)):
            figures = tuple(entries)
            text = _("{system}: what each figure would lead to, by {edition}")
            title = text.format(system=system.name, edition=figures[0].edition)
            self._body.addWidget(Words(title, Size.STRONG))
            self._body.addWidget(FigureTable(figures, formatter))

    def _add_findings(self, told: Sequence[Finding]) -> None:
        for finding in told:
            notice = Notice(Size.BODY)
            self._body.addWidget(notice)
            glyph, word = level_of(finding.level)
            notice.say(glyph, word, finding.text)


class AreaTable(QWidget):
    """One line for each system, then all of them and the house."""

    def __init__(self, house: HouseResult, formatter: Formatter) -> None:
        super().__init__()
        self._grid = _grid(self)
        self._formatter = formatter
        for column, text in enumerate(
            (_("System"), _("Area served"), _("Share of the house"), _("Per ton of cooling"))
        ):
            self._put(0, column, Words(text, Size.SMALL, muted=True))
        for check in house.area_checks:
            self._add_check(check)
        self._add_house(house)
        self._grid.setColumnStretch(4, 1)

    def _add_check(self, check: AreaCheck) -> None:
        from deskapp.units.kinds import Kind

        at = self._grid.rowCount()
        show = self._formatter.show_optional
        self._put(at, 0, Words(check.name))
        self._put(at, 1, _copied(show(Kind.AREA, check.area)))
        self._put(at, 2, _copied(show(Kind.FRACTION, check.house_share)))
        self._put(at, 3, _copied(show(Kind.AREA, check.area_per_ton)))
        if check.per_ton_usual is not None:
            remark = Notice()
            self._grid.addWidget(remark, at, 4, _TOP)
            if check.per_ton_usual:
                remark.say(Glyph.DONE, "", _("a usual area per ton"))
            else:
                text = _("an unusual area per ton; look at area and capacity again")
                remark.say(Glyph.CHECK, _("Check"), text)

    def _add_house(self, house: HouseResult) -> None:
        from deskapp.units.kinds import Kind

        show = self._formatter.show_optional
        at = self._grid.rowCount()
        self._put(at, 0, Words(_("All systems"), Size.STRONG))
        self._put(at, 1, _copied(show(Kind.AREA, house.system_area)))
        at += 1
        self._put(at, 0, Words(_("House"), Size.STRONG))
        self._put(at, 1, _copied(show(Kind.AREA, house.area)))
        source = house.area_source
        words = _("not answered") if source is None else figure_source(source)
        about = [_("Source of the areas: {source}.").format(source=words)]
        if house.area_gap is not None:
            gap = self._formatter.show(Kind.FRACTION, abs(house.area_gap))
            text = _("The systems serve {gap} more than the house has.")
            if gap == self._formatter.show(Kind.FRACTION, 0.0):
                text = _("The systems serve as much as the house has.")
            elif house.area_gap < 0:
                text = _("{gap} of the house is served by no system listed.")
            about.append(text.format(gap=gap))
        self._grid.addWidget(Words(" ".join(about), Size.SMALL, muted=True), at + 1, 0, 1, 5)

    def _put(self, line: int, column: int, label: Words) -> None:
        label.setWordWrap(column == 0 or line == 0)
        self._grid.addWidget(label, line, column, _RIGHT if column else _TOP)


class FigureTable(QWidget):
    """One line for each figure of the area of a system: area, limit, measured, verdict."""

    def __init__(self, figures: Sequence[AreaOutcome], formatter: Formatter) -> None:
        super().__init__()
        from deskapp.units.kinds import Kind

        grid = _grid(self)
        heads = (_("Figure"), _("Area"), _("Leakage per floor area"), _("Verdict"))
        for column, text in enumerate(heads):
            grid.addWidget(Words(text, Size.SMALL, muted=True, wraps=False), 0, column)
        for line, figure in enumerate(figures, 1):
            name = figure_source(figure.source)
            if figure.decides:
                name = _("{figure} (this one decides)").format(figure=name)
            size = Size.STRONG if figure.decides else Size.BODY
            grid.addWidget(Words(name, size, wraps=False), line, 0, _TOP)
            area = _copied(formatter.show(Kind.AREA, figure.area))
            grid.addWidget(area, line, 1, _RIGHT)
            per_area = formatter.show_optional(Kind.FLOW_PER_AREA, figure.flow_per_area)
            grid.addWidget(_copied(per_area), line, 2, _RIGHT)
            glyph, word = verdict_of(figure.verdict)
            mark = Mark(glyph, 18)
            mark.show_glyph(glyph, word)
            text = f"{word}. {figure.reason}" if figure.reason else word
            verdict = QHBoxLayout()
            verdict.addWidget(mark, 0, _TOP)
            verdict.addWidget(Words(text, size), 1)
            grid.addLayout(verdict, line, 3)
        grid.setColumnStretch(3, 1)


def figure_source(source: AreaSource | None) -> str:
    """Return where a figure for an area comes from."""
    return _("Area served") if source is None else _(CHOICE_LABELS[AreaSource][source.value])


def _copied(text: str) -> Words:
    return Words(text, wraps=False).can_be_copied()


def _grid(widget: QWidget) -> QGridLayout:
    grid = QGridLayout(widget)
    grid.setContentsMargins(0, 0, 0, 0)
    grid.setHorizontalSpacing(3 * GRID)
    grid.setVerticalSpacing(5)
    return grid
