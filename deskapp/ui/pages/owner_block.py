"""What the leakage means to the owner: estimates, their range, and every assumption behind."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QVBoxLayout, QWidget

from deskapp.domain.owner_result import LeakBasis
from deskapp.i18n import _, ngettext
from deskapp.ui.fold import Fold
from deskapp.ui.side_scroll import SideScroll
from deskapp.ui.tables import FactGrid, FactTable
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words
from deskapp.units.display import NO_VALUE
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.owner_result import DeliveryResult, OwnerResult
    from deskapp.domain.result_parts import Assumption
    from deskapp.units.display import Formatter

_TOP = Qt.AlignmentFlag.AlignTop


class OwnerBlock(QWidget):
    """The share delivered now and before, what the leakage costs, and what was assumed."""

    def __init__(self, owner: OwnerResult, formatter: Formatter) -> None:
        super().__init__()
        self._formatter = formatter
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(Words(_("For the owner, an estimate"), Size.HEADING))
        if owner.reason:
            column.addWidget(Words(owner.reason, muted=True))
        if owner.now is not None:
            column.addWidget(SideScroll(self._delivered(owner.now, owner.before)))
        money = self._money(owner)
        if money:
            column.addWidget(FactGrid(money))
        if owner.now is not None and owner.now.basis is LeakBasis.TOTAL:
            text = _(
                "The test was one of total leakage; how much of it goes to outside is assumed."
            )
            column.addWidget(Words(text, Size.SMALL, muted=True))
        if owner.assumptions:
            count = len(owner.assumptions)
            title = ngettext(
                "What this rests on ({n} figure)", "What this rests on ({n} figures)", count
            ).format(n=count)
            column.addWidget(Fold(title, _Assumptions(owner, formatter)))

    def _delivered(self, now: DeliveryResult, before: DeliveryResult | None) -> FactTable:
        head = ["", _("Now"), *((_("Before the work"),) if before else ()), _("Without leaks")]
        rows: list[list[str]] = []

        def add(label: str, kind: Kind, name: str, tight: str = "") -> None:
            tests = (now, before) if before else (now,)
            values = [getattr(test, name) for test in tests]
            if values[0] is None:
                return
            texts = [self._formatter.show_optional(kind, value) for value in values]
            ideal = getattr(now, tight) if tight else None
            last = self._formatter.show(kind, ideal) if ideal is not None else NO_VALUE
            rows.append([label, *texts, last])

        add(_("Heating that reaches the rooms"), Kind.FRACTION, "heating", "heating_tight")
        add(_("Cooling that reaches the rooms"), Kind.FRACTION, "cooling", "cooling_tight")
        add(_("Supply leakage to outside while it runs"), Kind.FLOW, "supply_leakage")
        add(_("Return leakage to outside while it runs"), Kind.FLOW, "return_leakage")
        add(
            _("The greater of the two, as a share of the air handler's flow"),
            Kind.FRACTION,
            "fan_share",
        )
        return FactTable(head, rows)

    def _money(self, owner: OwnerResult) -> list[tuple[str, str]]:
        found = (
            (_("The leakage costs in a year"), owner.cost_low, owner.cost_high),
            (_("The work saves in a year"), owner.saved_low, owner.saved_high),
        )
        return [
            (label, self._span(low, high, owner.currency))
            for label, low, high in found
            if low is not None and high is not None
        ]

    def _span(self, low: float, high: float, currency: str) -> str:
        show = self._formatter.number
        text = _("{low} to {high} {currency}")
        return text.format(low=show(low, 0), high=show(high, 0), currency=currency).strip()


class _Assumptions(QWidget):
    def __init__(self, owner: OwnerResult, formatter: Formatter) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, GRID)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(5)
        for column, stretch in enumerate((3, 2, 4)):
            grid.setColumnStretch(column, stretch)
        for line, one in enumerate(owner.assumptions):
            grid.addWidget(Words(one.label), line, 0, _TOP)
            grid.addWidget(Words(_value_of(one, formatter)).can_be_copied(), line, 1, _TOP)
            source = (
                one.source if one.is_given else _("Assumed. {source}").format(source=one.source)
            )
            grid.addWidget(Words(source, Size.SMALL, muted=True), line, 2, _TOP)


def _value_of(one: Assumption, formatter: Formatter) -> str:
    if one.value is None:
        return one.text
    value = formatter.show(one.kind, one.value)
    return f"{value}, {one.text}" if one.text else value
