"""The numbers of an outcome as printed: exact in the code's own unit, or few digits for a scale."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.limits.digits import telling_decimals
from deskapp.units.convert import to_unit
from deskapp.units.display import NO_VALUE, Formatter
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.domain.result import TestResult
    from deskapp.report.build.context import SystemView

_MOST_DECIMALS = 6


@dataclass(frozen=True, slots=True)
class ExactFigures:
    """Measured value, limit and the size of the margin with their unit; a dash for none.

    `uncertainty` is the expanded one of the measured value, empty where it is not known.

    `more_is_better` is true for a reduction that has to reach its limit.
    """

    measured: str
    limit: str
    margin: str
    is_met: bool
    more_is_better: bool
    uncertainty: str = ""


@dataclass(frozen=True, slots=True)
class PlainFigures:
    """Numbers for a scale, in the unit id `unit`, to be printed with `digits` decimals."""

    unit: str
    digits: int
    measured: float
    limit: float | None = None
    low: float | None = None
    high: float | None = None
    more_is_better: bool = False

    def shown(self, formatter: Formatter, value: float | None) -> str:
        """Return a number of the scale without its unit."""
        return NO_VALUE if value is None else formatter.number(value, self.digits)


def exact_figures(formatter: Formatter, outcome: LimitOutcome) -> ExactFigures:
    """Return the numbers of an outcome with as many decimals as tell them apart."""
    unit, measured, limit = outcome.unit, outcome.measured, outcome.limit_value
    if not unit or (measured is None and limit is None):
        return ExactFigures(NO_VALUE, NO_VALUE, NO_VALUE, is_met=False, more_is_better=False)
    known = [value for value in (measured, limit) if value is not None]
    digits = telling_decimals(unit, known[0], known[-1])

    def show(value: float | None) -> str:
        if value is None:
            return NO_VALUE
        return formatter.in_unit(value, unit, digits)

    margin = outcome.margin
    return ExactFigures(
        measured=show(measured),
        limit=show(limit),
        margin=show(None if margin is None else abs(margin)),
        is_met=margin is not None and margin >= 0,
        more_is_better=_more_is_better(outcome),
        uncertainty="" if outcome.uncertainty is None else show(outcome.uncertainty),
    )


def without_unit(formatter: Formatter, kind: Kind, value: float) -> str:
    """Return a number in the reader's unit that is not said, as before ``±`` and its own number."""
    label = formatter.label(formatter.unit_for(kind))
    return formatter.show(kind, value).removesuffix(label).rstrip()


def plain_figures(formatter: Formatter, view: SystemView) -> PlainFigures | None:
    """Return the one number of a system and its limit; None where nothing was worked out.

    It is the air flow in the reader's unit, unless the verdict cannot be read from it (a reduction
    that was reached, say); then it is the code's own number.
    """
    latest, outcome = view.latest, view.deciding
    result = latest.result if latest else None
    if result is None or result.flow is None:
        return None
    if outcome is not None and not _flow_tells(outcome, result):
        own = _own_figures(outcome)
        if own is not None:
            return own
    return _flow_figures(formatter, result, outcome)


def _flow_tells(outcome: LimitOutcome, result: TestResult) -> bool:
    """Say whether the flow beside its greatest allowed value shows the verdict."""
    if outcome.limit_flow is None or result.flow is None:
        return False
    return (outcome.verdict is Verdict.PASS) == (result.flow <= outcome.limit_flow)


def _flow_figures(
    formatter: Formatter, result: TestResult, outcome: LimitOutcome | None
) -> PlainFigures:
    unit = formatter.unit_for(Kind.FLOW)

    def value(flow: float | None) -> float | None:
        return None if flow is None else to_unit(flow, unit)

    measured = to_unit(result.flow or 0.0, unit)
    limit = value(outcome.limit_flow) if outcome is not None else None
    return PlainFigures(
        unit=unit,
        digits=_few_digits(measured, limit),
        measured=measured,
        limit=limit,
        low=value(result.flow_low),
        high=value(result.flow_high),
    )


def _own_figures(outcome: LimitOutcome) -> PlainFigures | None:
    if outcome.measured is None or outcome.limit_value is None:
        return None
    return PlainFigures(
        unit=outcome.unit,
        digits=_few_digits(outcome.measured, outcome.limit_value),
        measured=outcome.measured,
        limit=outcome.limit_value,
        more_is_better=_more_is_better(outcome),
    )


def _more_is_better(outcome: LimitOutcome) -> bool:
    if outcome.measured is None or outcome.limit_value is None or outcome.margin is None:
        return False
    return outcome.margin * (outcome.limit_value - outcome.measured) < 0


def _few_digits(measured: float, limit: float | None) -> int:
    """Return the decimals that leave two or more figures and show unlike numbers unlike."""
    size = abs(limit if limit else measured)
    digits = 0
    while digits < _MOST_DECIMALS and size * 10**digits < 10:
        digits += 1
    while (
        limit is not None
        and measured != limit
        and digits < _MOST_DECIMALS
        and f"{measured:.{digits}f}" == f"{limit:.{digits}f}"
    ):
        digits += 1
    return digits
