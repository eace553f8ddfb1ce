"""Measured value, limit and margin of an outcome in words, in the code's own unit."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.result_parts import BudgetOf
from deskapp.i18n import N_, _
from deskapp.limits.digits import telling_decimals

if TYPE_CHECKING:
    from deskapp.domain.result import LimitOutcome
    from deskapp.units.display import Formatter


_BESIDE_THE_FLOW = {
    BudgetOf.PER_AREA: N_("the floor area"),
    BudgetOf.FAN_SHARE: N_("the air handler's flow"),
    BudgetOf.PER_SURFACE: N_("the duct surface"),
}


class OutcomeWords(NamedTuple):
    """The texts of one outcome; `at_least` when the measured value must reach the limit.

    `unsure` is the expanded uncertainty of the measured value, such as ``± 3.1 cfm``, or empty;
    `covers` says what it counts beside the flow, empty where that adds nothing that shows.
    """

    measured: str
    limit: str
    margin: str
    at_least: bool
    unsure: str = ""
    covers: str = ""


def outcome_words(outcome: LimitOutcome, formatter: Formatter) -> OutcomeWords | None:
    """Return the texts of an outcome, or None if it was not decided."""
    measured, limit, margin = outcome.measured, outcome.limit_value, outcome.margin
    if measured is None or limit is None or margin is None:
        return None
    digits = telling_decimals(outcome.unit, measured, limit)

    def shown(value: float) -> str:
        return formatter.in_unit(value, outcome.unit, digits)

    at_least = _must_reach(outcome)
    wording = _("at least {limit}") if at_least else _("at most {limit}")
    room = _("{margin} to spare") if margin >= 0 else _("{margin} too much")
    if at_least and margin < 0:
        room = _("{margin} short")
    spare = shown(abs(margin))
    if outcome.unit == "percent":
        # The difference of two shares is told in points, as in the arithmetic and on paper.
        spare = f"{formatter.number(abs(margin), digits)} {_('points')}"
    unsure = "" if outcome.uncertainty is None else f"± {shown(outcome.uncertainty)}"
    alone = "" if outcome.flow_uncertainty is None else f"± {shown(outcome.flow_uncertainty)}"
    return OutcomeWords(
        shown(measured),
        wording.format(limit=shown(limit)),
        room.format(margin=spare),
        at_least,
        unsure,
        _covers(outcome, alone) if unsure and alone not in ("", unsure) else "",
    )


def _covers(outcome: LimitOutcome, alone: str) -> str:
    figure = _BESIDE_THE_FLOW.get(outcome.uncertainty_of or BudgetOf.FLOW)
    if not figure:
        return ""
    # As on the certificate.
    text = _("The ± counts {figure} too; for the flow alone it is ± {flow_uncertainty}.")
    return text.format(figure=_(figure), flow_uncertainty=alone.removeprefix("± "))


def _must_reach(outcome: LimitOutcome) -> bool:
    """Say whether more is better: then the margin is measured minus limit."""
    if outcome.measured is None or outcome.limit_value is None or outcome.margin is None:
        return False
    above = outcome.measured > outcome.limit_value
    return (above and outcome.margin > 0) or (not above and outcome.margin < 0)
