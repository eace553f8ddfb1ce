"""Holding a test against one row of an edition. A value just at the limit meets it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

from deskapp.domain.limit import EitherOf, NoNumber
from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.i18n import _
from deskapp.limits import rules
from deskapp.limits.case import Case, Comparison, Undecided
from deskapp.limits.digits import shown, symbol, telling_decimals, written
from deskapp.limits.words import rule_text

if TYPE_CHECKING:
    from deskapp.domain.limit import Edition, LimitRow, SingleRule

__all__ = ["PRESSURE_TOLERANCE", "RULES", "Case", "Comparisons", "compare", "judge", "rule_text"]

TARGET = "tests.*.setup.target_pressure"
PRESSURE_TOLERANCE = 0.5
"""How far the test's target may be from the pressure of the limit [Pa]; house rule. It lets
0.1 in. w.c. (24.9 Pa) count as the nominal 25 Pa, as the codes themselves write it."""

RuleFunction = Callable[[Any, Case, str], Comparison | Undecided]

RULES: dict[str, RuleFunction] = {
    "per_floor_area": rules.per_floor_area,
    "greater_of": rules.greater_of,
    "absolute": rules.absolute,
    "floor_area_fraction": rules.floor_area_fraction,
    "percent_of_fan_flow": rules.percent_of_fan_flow,
    "percent_reduction": rules.percent_reduction,
    "surface_class": rules.surface_class,
    "surface_leakage_class": rules.surface_leakage_class,
    "per_duct_surface": rules.per_duct_surface,
    "no_number": rules.no_number,
}


def compare(rule: SingleRule, case: Case, unit: str) -> Comparison | Undecided:
    """Work out measured value and limit of one rule; `unit` is the flow unit of the edition."""
    return RULES[rule.kind](rule, case, unit)


class Comparisons:
    """The rules a case was held against so far: its arithmetic is told once and asked for twice."""

    def __init__(self, case: Case, unit: str) -> None:
        self._case, self._unit = case, unit
        self._known: list[tuple[SingleRule, Comparison | Undecided]] = []

    def by(self, rule: SingleRule) -> Comparison | Undecided:
        """Return what the case comes to by one rule."""
        for known, result in self._known:
            if known is rule:
                return result
        result = compare(rule, self._case, self._unit)
        self._known.append((rule, result))
        return result


def judge(
    edition: Edition, row: LimitRow, case: Case, key: str = "", compared: Comparisons | None = None
) -> LimitOutcome:
    """Hold `case` against `row`, in the code's own unit and without rounding.

    Args:
        edition: the edition the row belongs to.
        row: the row to judge by; whether it is the right one is for `select.choose_row` to say.
        case: the worked-out test; flow in m3/s, pressure in Pa.
        key: the key of the chosen limit, copied into the outcome.
        compared: what the case came to by rules of the edition so far; it learns those of `row`.

    Returns:
        The outcome. Its verdict is `Verdict.NONE`, with a reason, where something is missing or the
        limit is written for another pressure than that of the test.
    """
    pressure = row.pressure_pa if row.pressure_pa is not None else case.target_pressure
    outcome = LimitOutcome(
        limit=key,
        edition=edition.name,
        body=edition.body,
        clause=row.clause,
        row=row.id,
        rule_text=_rule_at(row, pressure),
        status=row.status,
        source=_(row.source),
        note=_(row.note),
    )
    if abs(pressure - case.target_pressure) > PRESSURE_TOLERANCE:
        reason = _wrong_pressure(pressure, case)
        return outcome.model_copy(update={"reason": reason, "field": TARGET})
    parts = row.rule.rules if isinstance(row.rule, EitherOf) else (row.rule,)
    compared = compared or Comparisons(case, edition.unit)
    results = [compared.by(part) for part in parts]
    return outcome.model_copy(update=_summary(parts, results, case.extrapolated))


def _rule_at(row: LimitRow, pressure: float) -> str:
    if isinstance(row.rule, NoNumber):
        return rule_text(row.rule)
    text = _("{rule}, at {pressure} Pa")
    return text.format(rule=rule_text(row.rule), pressure=written(round(pressure, 1)))


def _wrong_pressure(pressure: float, case: Case) -> str:
    return _(
        "This limit is for a test at {limit} Pa; this test is worked out for {test} Pa. "
        "Set the target pressure to {limit} Pa, or choose a limit for {test} Pa."
    ).format(limit=written(round(pressure, 1)), test=written(round(case.target_pressure, 1)))


def _summary(
    parts: tuple[SingleRule, ...], results: list[Comparison | Undecided], extrapolated: bool
) -> dict[str, Any]:
    """Return the numbers, lines and verdict of all parts; meeting any part is enough."""
    decided = [result for result in results if isinstance(result, Comparison)]
    missing = [result for result in results if isinstance(result, Undecided)]
    update: dict[str, Any] = {"lines": _lines(parts, results, extrapolated)}
    if decided:
        easiest = max(decided, key=lambda result: result.limit_flow)
        telling = next((result for result in decided if result.is_met), easiest)
        update |= {
            "measured": telling.measured,
            "limit_value": telling.limit,
            "margin": telling.margin,
            "unit": telling.unit,
            "limit_flow": telling.limit_flow,
        }
    if any(result.is_met for result in decided):
        update["verdict"] = Verdict.PASS
    elif missing:
        update["reason"] = " ".join(result.reason for result in missing)
        update["field"] = next((result.field for result in missing if result.field), "")
    else:
        update["verdict"] = Verdict.FAIL
    return update


def _lines(
    parts: tuple[SingleRule, ...], results: list[Comparison | Undecided], extrapolated: bool
) -> tuple[str, ...]:
    lines: list[str] = []
    for number, (part, result) in enumerate(zip(parts, results, strict=True), start=1):
        if len(parts) > 1:
            lines.append(
                _("Alternative {number}: {rule}").format(number=number, rule=rule_text(part))
            )
        if isinstance(result, Comparison):
            lines += (*result.lines, _verdict_line(result))
        else:
            lines.append(result.reason)
    if extrapolated:
        lines.append(
            _("The target pressure was not reached: the flow is carried up to it by the exponent.")
        )
    return tuple(lines)


def _verdict_line(result: Comparison) -> str:
    decimals = telling_decimals(result.unit, result.measured, result.limit)
    unit = _("points") if result.unit == "percent" else symbol(result.unit)
    sign = {(True, False): "≤", (True, True): "≥", (False, False): ">", (False, True): "<"}
    text = {
        (True, False): _("{left} {sign} {right}: pass, {margin} {unit} to spare"),
        (True, True): _("{left} {sign} {right}: pass, {margin} {unit} to spare"),
        (False, False): _("{left} {sign} {right}: fail, {margin} {unit} too much"),
        (False, True): _("{left} {sign} {right}: fail, {margin} {unit} short"),
    }
    which = (result.is_met, result.at_least)
    return text[which].format(
        left=shown(result.measured, decimals),
        sign=sign[which],
        right=shown(result.limit, decimals),
        margin=shown(abs(result.margin), decimals),
        unit=unit,
    )
