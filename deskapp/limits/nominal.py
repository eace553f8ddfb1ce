"""The nominal flow of an air handler, from its capacities, where a code takes that for its flow."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.limits.case import Undecided
from deskapp.limits.digits import shown, usual_decimals, written
from deskapp.limits.exact import in_code_unit, product
from deskapp.limits.words import status_text
from deskapp.units.convert import exact_in

if TYPE_CHECKING:
    from deskapp.domain.limit import NominalFlow
    from deskapp.domain.measured import Measured

TON, KBTU_H = "ton", "kBtu/h"


@dataclass(frozen=True, slots=True)
class Nominal:
    """A nominal flow in cfm, and the arithmetic that leads to it."""

    flow: float
    lines: tuple[str, ...]


def nominal_flow(
    rule: NominalFlow, cooling: Measured | None, heating: Measured | None
) -> Nominal | Undecided:
    """Return the nominal flow by `rule`: the larger of what cooling and heating lead to.

    Args:
        rule: cfm per ton of cooling and per kBtu/h of rated heating output.
        cooling: nominal cooling capacity, if any.
        heating: rated heating output, if any.

    Returns:
        The flow [cfm], or why there is none: no capacity the rule could use.

    Source: California Energy Commission, joint appendix JA9 (2025) for 400 cfm per ton and 21.7 cfm
    per kBtu/h; their use as nominal air handler flow (RA3.1.4.2) from memory, not checked against
    the text.
    """
    found: list[float] = []
    lines: list[str] = []
    for capacity, factor, unit, words in (
        (cooling, rule.cfm_per_ton, TON, _("{factor} cfm per ton × {size} tons = {flow} cfm")),
        (
            heating,
            rule.cfm_per_kbtu_h,
            KBTU_H,
            _("{factor} cfm per kBtu/h × {size} kBtu/h of heating output = {flow} cfm"),
        ),
    ):
        if capacity is None or not capacity.si or capacity.si < 0 or factor is None:
            continue
        size = _size(capacity, unit)
        flow = product(factor, size)
        found.append(flow)
        lines.append(words.format(factor=written(factor), size=written(size), flow=_cfm(flow)))
    if not found:
        text = _(
            "The air handler flow is missing, and so is the capacity its nominal flow would follow "
            "from. Enter the flow, the cooling capacity or the heating output."
        )
        return Undecided(text, "systems.*.fan_flow")
    largest = max(found)
    if len(found) > 1:
        lines.append(_("The larger of both is {flow} cfm").format(flow=_cfm(largest)))
    lines.append(
        _("Nominal flow of the air handler by {clause}: {flow} cfm ({status})").format(
            clause=rule.clause, flow=_cfm(largest), status=status_text(rule.status)
        )
    )
    return Nominal(largest, tuple(lines))


def _size(capacity: Measured, unit: str) -> float:
    """Return the capacity in `unit` without the noise of a conversion: 36 kBtu/h are 3 tons."""
    if capacity.unit == unit:
        return exact_in(capacity, unit)
    assert capacity.si is not None
    return in_code_unit(capacity.si, unit)


def _cfm(flow: float) -> str:
    return written(flow) if flow == round(flow, 1) else shown(flow, usual_decimals("cfm", flow))
