"""What leakage means to the owner: the share of heating and cooling delivered, and its cost."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from deskapp.assess import delivery_defaults as taken
from deskapp.assess.delivered import TIGHT, Leaks, Seen, View, cooling, heating, leaks_of, share_of
from deskapp.assess.delivery_inputs import delivery_inputs
from deskapp.assess.owner_money import part_of_bill, with_money
from deskapp.domain.choices import Metric, YesNo
from deskapp.domain.job import Job
from deskapp.domain.later import Later
from deskapp.domain.measured import si_of
from deskapp.domain.owner_result import DeliveryResult, LeakBasis, OwnerResult
from deskapp.domain.result import SystemResult, TestResult
from deskapp.domain.result_parts import Assumption
from deskapp.domain.site import House
from deskapp.domain.step import Step, StepInput
from deskapp.domain.system import DuctSystem
from deskapp.i18n import _
from deskapp.physics.duct_delivery import Delivery
from deskapp.physics.target import RESIDENTIAL_EXPONENT
from deskapp.units.kinds import Kind


def owner_result(
    job: Job, system: DuctSystem, judged: SystemResult, results: dict[str, TestResult]
) -> OwnerResult | None:
    """Return the owner's figures of one system; None where it was never tested as a whole.

    They rest on the leakage to outside, or on the total where only that was measured.
    """
    tests = _tests(job, system, results)
    if not tests:
        return None
    if system.all_ducts_inside is YesNo.YES:
        return OwnerResult(reason=_("All ducts run inside, so what leaks from them stays inside."))
    basis = LeakBasis.OUTSIDE if tests[0].metric is Metric.OUTSIDE else LeakBasis.TOTAL
    sides = _sides(job, judged)
    seen = tuple(_seen(result, sides) for result in (tests[0], tests[-1]))
    now, before = seen[-1], seen[0] if len(tests) > 1 else None
    case = _Case(job.house, system, part_of_bill(job, system), basis, now, before)
    return _worked_out(case)


def _tests(job: Job, system: DuctSystem, results: dict[str, TestResult]) -> list[TestResult]:
    """Return the results to go by, in order: to outside where there are any, otherwise total."""
    usable = [
        result
        for test in job.tests_of(system.key)
        if test.setup.is_whole
        and (result := results[test.key]).flow is not None
        and not result.refused
    ]
    outside = [result for result in usable if result.metric is Metric.OUTSIDE]
    return outside or [result for result in usable if result.metric is Metric.TOTAL]


def _seen(result: TestResult, sides: dict[str, _Sides]) -> Seen:
    known = sides.get(result.test)
    return Seen(
        test=result.test,
        flow=result.flow or 0.0,
        pressure=result.target_pressure or 0.0,
        exponent=min(1.0, max(0.2, result.exponent or RESIDENTIAL_EXPONENT)),
        supply_share=known.share if known else None,
        sides_tested=known is not None and known.tested,
    )


@dataclass(frozen=True, slots=True)
class _Sides:
    """The supply's share of the leakage, 0 to 1: `tested` by tests of its own, or as entered."""

    share: float
    tested: bool


def _sides(job: Job, judged: SystemResult) -> dict[str, _Sides]:
    """Return the sides by test, where they were read at its stage or are entered beside it.

    Sides read in the way of the test itself go before those of another measure.
    """
    read = [one for one in judged.sides if one.sum > 0.0]
    found: dict[str, _Sides] = {}
    for test in job.tests_of(judged.system):
        if not test.setup.is_whole:
            continue
        alike = [one for one in read if one.stage is test.setup.stage]
        alike.sort(key=lambda one: one.metric is test.setup.metric)
        supply, back = si_of(test.supply_alone), si_of(test.return_alone)
        if alike:
            found[test.key] = _Sides(alike[-1].supply / alike[-1].sum, tested=True)
        elif supply is not None and back is not None and supply + back > 0.0:
            found[test.key] = _Sides(supply / (supply + back), tested=False)
    return found


@dataclass(frozen=True, slots=True)
class _Case:
    """All that the owner's figures of one system follow from."""

    house: House
    system: DuctSystem
    part_of_bill: float
    basis: LeakBasis
    now: Seen
    before: Seen | None


def _worked_out(case: _Case) -> OwnerResult:
    """Work out one system."""
    view, listed = _view(case)
    try:
        shown = _delivery(view, case.now)
        shown_before = _delivery(view, case.before) if case.before is not None else None
    except (ValueError, OverflowError):
        return OwnerResult(assumptions=listed, reason=_missing(view))
    found = OwnerResult(now=shown, before=shown_before, assumptions=listed)
    if shown.heating is None and shown.cooling is None:
        return found.model_copy(update={"reason": _missing(view)})
    return with_money(case.house, case.part_of_bill, view, found, case.now, case.before)


def _view(case: _Case) -> tuple[View, tuple[Assumption, ...]]:
    system, basis = case.system, case.basis
    inputs = delivery_inputs(case.house, system)
    entered = si_of(system.outside_fraction)
    share = 1.0
    if basis is LeakBasis.TOTAL:
        share = taken.OUTSIDE_SHARE if entered is None else min(1.0, max(0.0, entered))
    no_returns = si_of(system.returns) == 0.0
    view = View(
        system=system,
        inputs=inputs,
        basis=basis,
        outside_share=share,
        default_share=1.0 if no_returns else taken.SIDE_SHARE,
        regain=inputs.surroundings.regain,
    )
    told = _leak_assumptions(view, case.now, entered is not None, no_returns)
    return view, (*inputs.assumptions, *told)


def _leak_assumptions(
    view: View, now: Seen, entered: bool, no_returns: bool
) -> Iterator[Assumption]:
    if view.basis is LeakBasis.TOTAL:
        yield Assumption(
            id="outside_share",
            label=_("Part of the total leakage that goes outside"),
            value=view.outside_share,
            kind=Kind.FRACTION,
            is_given=entered,
            source=_("Share of ducts outside, as entered")
            if entered
            else _("Half, as in manufactured homes tested (FSEC-GP-234-03, abstract); house rule"),
        )
    source, supply_share = _(taken.HOUSE_RULE), now.supply_share
    if supply_share is not None:
        source = _("Tests of the two sides") if now.sides_tested else _("Both sides, as entered")
    elif no_returns:
        source = _("There are no return ducts, as entered")
    yield Assumption(
        id="supply_share",
        label=_("Supply's part of the leakage"),
        value=view.default_share if supply_share is None else supply_share,
        kind=Kind.FRACTION,
        is_given=supply_share is not None or no_returns,
        source=source,
    )
    if si_of(view.system.cooling_capacity) is not None:
        yield Assumption(
            id="sensible_share",
            label=_("Part of the cooling capacity that cools instead of drying"),
            value=taken.SENSIBLE_SHARE,
            kind=Kind.FRACTION,
            source=_("Common practice, no source; moisture taken alike in rooms and around ducts"),
        )


def _delivery(view: View, seen: Seen) -> DeliveryResult:
    leaks = leaks_of(view, seen)
    fan_flow = view.inputs.fan_flow
    warm, cool = heating(view, leaks), cooling(view, leaks)
    return DeliveryResult(
        test=seen.test,
        basis=view.basis,
        supply_leakage=leaks.supply,
        return_leakage=leaks.returns,
        fan_share=max(leaks.supply, leaks.returns) / fan_flow if fan_flow else None,
        heating=share_of(warm),
        heating_tight=share_of(heating(view, TIGHT)),
        cooling=share_of(cool),
        cooling_tight=share_of(cooling(view, TIGHT)),
        trace=Later(lambda: tuple(_steps(view, seen, leaks, warm, cool))),
    )


def _steps(
    view: View, seen: Seen, leaks: Leaks, warm: Delivery | None, cool: Delivery | None
) -> Iterator[Step]:
    source = _("ASHRAE Standard 152 (read in a secondary source, text not checked)")
    sides = (
        (_("Supply leakage to outside while running"), leaks.supply, view.inputs.supply_pressure),
        (_("Return leakage to outside while running"), leaks.returns, view.inputs.return_pressure),
    )
    for label, flow, pressure in sides:
        yield Step(
            label=label,
            formula="Q = Qₜ · w · (P / Pₜ)^n",
            inputs=(
                StepInput(symbol="Qₜ", value=seen.flow, kind=Kind.FLOW),
                StepInput(symbol="P", value=pressure, kind=Kind.PRESSURE),
                StepInput(symbol="Pₜ", value=seen.pressure, kind=Kind.PRESSURE),
                StepInput(symbol="n", value=seen.exponent, kind=Kind.NUMBER),
            ),
            value=flow,
            kind=Kind.FLOW,
            source=source,
        )
    for label, found in (
        (_("Share of heating delivered to the rooms"), warm),
        (_("Share of cooling delivered to the rooms"), cool),
    ):
        if found is not None:
            yield _delivery_step(label, found, source)


def _delivery_step(label: str, found: Delivery, source: str) -> Step:
    inputs = (
        ("aₛ", found.supply_carried),
        ("aᵣ", found.return_carried),
        ("Bₛ", found.supply_conduction),
        ("Bᵣ", found.return_conduction),
        ("DE", found.without_regain),
    )
    return Step(
        label=label,
        formula=_("delivery effectiveness from a, B and temperatures, with what is regained"),
        inputs=tuple(
            StepInput(symbol=symbol, value=value, kind=Kind.NUMBER) for symbol, value in inputs
        ),
        value=found.effectiveness,
        kind=Kind.FRACTION,
        source=source,
    )


def _missing(view: View) -> str:
    if view.inputs.fan_flow is None:
        return _("The share delivered needs the air handler flow. Enter it for this system.")
    if view.inputs.supply_surface is None:
        return _("The share delivered needs the floor area served or the duct surfaces.")
    system = view.system
    if si_of(system.heating_output) is None and si_of(system.cooling_capacity) is None:
        return _("The share delivered needs the heating output or the cooling capacity.")
    return _("The leakage estimated for the running system leaves no share to deliver.")
