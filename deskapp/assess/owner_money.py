"""The yearly cost of leakage, as a range, where the owner told what heating and cooling cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from deskapp.assess import delivery_defaults as taken
from deskapp.assess.delivered import TIGHT, Seen, View, cooling, heating, leaks_of, share_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.owner_result import OwnerResult
from deskapp.domain.result_parts import Assumption
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.i18n import _
from deskapp.limits.digits import written
from deskapp.units.kinds import Kind


def with_money(
    house: House, part: float, view: View, found: OwnerResult, now: Seen, before: Seen | None
) -> OwnerResult:
    """Return the owner's figures with cost and saving; as they are without a bill.

    The bill is that before the work. The ends of the range come from the ends of the bill, from
    heating and cooling, and from leak pressures and regain at the ends of what is likely. `part`
    of the bill belongs to this system.
    """
    bill = _bill(house)
    if bill is None:
        return found
    low, high = bill
    costs: list[float] = []
    savings: list[float] = []
    for end in _ends(view):
        for cost, saved in _shares(end, now, before):
            costs.append(cost)
            if saved is not None:
                savings.append(saved)
    if not costs:
        return found
    update: dict[str, object] = {
        "cost_low": part * low * max(0.0, min(costs)),
        "cost_high": part * high * max(0.0, max(costs)),
        "currency": house.currency,
        "assumptions": (*found.assumptions, *_money_assumptions(low, high, part)),
    }
    if savings:
        least, most = min(savings), max(savings)
        update["saved_low"] = part * (low if least >= 0.0 else high) * least
        update["saved_high"] = part * (high if most >= 0.0 else low) * most
    return found.model_copy(update=update)


def _bill(house: House) -> tuple[float, float] | None:
    known = [
        value
        for value in (si_of(house.bill_low), si_of(house.bill_high))
        if value is not None and value > 0.0
    ]
    return (min(known), max(known)) if known else None


def part_of_bill(job: Job, system: DuctSystem) -> float:
    """Return the share of the bill that goes to a system: by floor area, or alike."""
    if len(job.systems) < 2:
        return 1.0
    areas = [si_of(one.area_served) for one in job.systems]
    known = [area for area in areas if area is not None and area > 0.0]
    own = si_of(system.area_served)
    if own is None or own <= 0.0 or len(known) < len(areas):
        return 1.0 / len(job.systems)
    return own / sum(known)


def _ends(view: View) -> tuple[View, ...]:
    """Return the view as it is, and with leak pressures and regain at both ends of the likely."""
    around = view.inputs.surroundings
    least, most = taken.PRESSURE_SPREAD
    return (
        view,
        replace(view, pressure_factor=least, regain=around.regain_high),
        replace(view, pressure_factor=most, regain=around.regain_low),
    )


def _shares(view: View, now: Seen, before: Seen | None) -> Iterator[tuple[float, float | None]]:
    """Yield, for each season, the parts of the bill before the work that leaks cost and work saves.

    A bill goes with the inverse of the share delivered.
    """
    leaks = leaks_of(view, now)
    earlier = leaks_of(view, before) if before is not None else None
    for season in (heating, cooling):
        present = share_of(season(view, leaks))
        tight = share_of(season(view, TIGHT))
        if present is None or tight is None:
            continue
        if earlier is None:
            yield 1.0 - present / tight, None
            continue
        first = share_of(season(view, earlier))
        if first is not None:
            yield first / present - first / tight, 1.0 - first / present


def _money_assumptions(low: float, high: float, part: float) -> Iterator[Assumption]:
    yield Assumption(
        id="bill",
        label=_("Heating and cooling in a year, before the work"),
        text=written(low) if low == high else f"{written(low)}–{written(high)}",
        is_given=True,
        source=_("As entered"),
    )
    yield Assumption(
        id="bill_part",
        label=_("Part of the bill that goes to this system"),
        value=part,
        kind=Kind.FRACTION,
        source=_("By floor area served; a house rule of this program"),
    )
    yield Assumption(
        id="range",
        label=_("Range of the cost"),
        text=_(
            "Leak pressures from {least} to {most} times those above, regain over its range"
        ).format(least=written(taken.PRESSURE_SPREAD[0]), most=written(taken.PRESSURE_SPREAD[1])),
        source=_(taken.HOUSE_RULE),
    )


def bill_findings(job: Job) -> Iterator[Finding]:
    """Yield the remark on a bill whose lower end is above its upper one."""
    low, high = si_of(job.house.bill_low), si_of(job.house.bill_high)
    if low is not None and high is not None and low > high:
        yield Finding(
            level=Level.CHECK,
            code="bill_order",
            path="house.bill_low",
            what=_("The least yearly bill ({low}) is above the most ({high}).").format(
                low=written(low), high=written(high)
            ),
            allowed=_("They were taken the other way round."),
            mend=_("Type the smaller figure first."),
        )
