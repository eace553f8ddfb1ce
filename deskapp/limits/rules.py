"""The arithmetic of each kind of rule, one function each, in the code's own unit.

Each takes the rule, the case, and the flow unit of the edition, and gives a `Comparison`, or an
`Undecided` that names what is missing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.limits.case import Case, Comparison, Undecided, positive_in
from deskapp.limits.digits import rate, shown, symbol, telling_decimals, usual_decimals, written
from deskapp.limits.exact import as_written, in_code_unit, product
from deskapp.limits.nominal import nominal_flow
from deskapp.units.convert import from_unit
from deskapp.units.display import in_sentences
from deskapp.units.numbers import restyled

if TYPE_CHECKING:
    from deskapp.domain.limit import (
        Absolute,
        FloorAreaFraction,
        GreaterOf,
        NoNumber,
        PercentOfFanFlow,
        PercentReduction,
        PerDuctSurface,
        PerFloorArea,
        SurfaceClass,
        SurfaceLeakageClass,
    )

CFM, FT2 = "cfm", "ft2"
AREA_SERVED = "systems.*.area_served"
FAN_FLOW = "systems.*.fan_flow"
DUCT_SURFACE = "systems.*.duct_surface"
CLASS_EXPONENT = 0.65
"""Exponent of pressure in the airtightness classes per duct surface [1].

Source: EN 12237:2003 and EN 1507:2006 (f = k p^0.65), and the leakage class of the SMACNA HVAC Air
Duct Leakage Test Manual, 1985; read in secondary sources only."""


def _flow(value: float, unit: str, against: float | None = None) -> str:
    """Return a flow for a line; with `against`, with enough digits to tell the two apart."""
    decimals = usual_decimals(unit, value)
    if against is not None:
        decimals = telling_decimals(unit, value, against)
    return f"{shown(value, decimals)} {symbol(unit)}"


def _flow_comparison(flow: float, limit: float, unit: str, lines: tuple[str, ...]) -> Comparison:
    return Comparison(flow, limit, unit, from_unit(limit, unit), lines)


def per_floor_area(rule: PerFloorArea, case: Case, _unit: str) -> Comparison | Undecided:
    """Rate times floor area served, divided by 100."""
    area = positive_in(FT2, case.area, AREA_SERVED)
    if isinstance(area, Undecided):
        return area
    return _per_100_ft2(rule.rate, area, case, _("{flow} per 100 ft² of floor area served"))


def per_duct_surface(rule: PerDuctSurface, case: Case, _unit: str) -> Comparison | Undecided:
    """Rate times duct surface, divided by 100."""
    surface = positive_in(FT2, case.duct_surface, DUCT_SURFACE)
    if isinstance(surface, Undecided):
        return surface
    return _per_100_ft2(rule.rate, surface, case, _("{flow} per 100 ft² of duct surface"))


def _per_100_ft2(per_100: float, area: float, case: Case, words: str) -> Comparison:
    flow = in_code_unit(case.flow, CFM)
    limit = product(per_100, area, over=100.0)
    measured_rate = flow * 100.0 / area
    decimals = max(2, telling_decimals("cfm/100ft2", measured_rate, per_100))
    lines = (
        _("{rate} cfm per 100 ft² × {area} ft² ÷ 100 = {limit}").format(
            rate=rate(per_100), area=written(area), limit=_flow(limit, CFM, flow)
        ),
        _("Measured {flow}, which is {rate}").format(
            flow=_flow(flow, CFM, limit),
            rate=words.format(flow=f"{shown(measured_rate, decimals)} cfm"),
        ),
    )
    return _flow_comparison(flow, limit, CFM, lines)


def greater_of(rule: GreaterOf, case: Case, _unit: str) -> Comparison | Undecided:
    """The greater of rate times floor area and an absolute flow."""
    area = positive_in(FT2, case.area, AREA_SERVED)
    if isinstance(area, Undecided):
        return area
    flow = in_code_unit(case.flow, CFM)
    by_area = product(rule.rate, area, over=100.0)
    limit = max(by_area, rule.floor)
    lines = (
        _("{rate} cfm per 100 ft² × {area} ft² ÷ 100 = {limit}").format(
            rate=rate(rule.rate), area=written(area), limit=_flow(by_area, CFM, rule.floor)
        ),
        _("The greater of {by_area} and {floor} cfm is {limit}").format(
            by_area=_flow(by_area, CFM, rule.floor),
            floor=written(rule.floor),
            limit=_flow(limit, CFM, flow),
        ),
        _("Measured {flow}").format(flow=_flow(flow, CFM, limit)),
    )
    return _flow_comparison(flow, limit, CFM, lines)


def absolute(rule: Absolute, case: Case, _unit: str) -> Comparison | Undecided:
    """A flow, whatever the area."""
    flow = in_code_unit(case.flow, CFM)
    lines = (
        _("Limit {limit}, whatever the area").format(limit=_flow(rule.flow, CFM, flow)),
        _("Measured {flow}").format(flow=_flow(flow, CFM, rule.flow)),
    )
    return _flow_comparison(flow, rule.flow, CFM, lines)


def floor_area_fraction(rule: FloorAreaFraction, case: Case, _unit: str) -> Comparison | Undecided:
    """Fraction times floor area served, as cfm."""
    area = positive_in(FT2, case.area, AREA_SERVED)
    if isinstance(area, Undecided):
        return area
    flow = in_code_unit(case.flow, CFM)
    limit = product(rule.fraction, area)
    percent, allowed = flow * 100.0 / area, product(rule.fraction, 100.0)
    lines = (
        _("{fraction} cfm per ft² × {area} ft² = {limit}").format(
            fraction=restyled(f"{rule.fraction:.2f}", in_sentences().style)
            if rule.fraction == round(rule.fraction, 2)
            else written(rule.fraction),
            area=written(area),
            limit=_flow(limit, CFM, flow),
        ),
        _("Measured {flow}, which is {percent}% of the floor area in ft²").format(
            flow=_flow(flow, CFM, limit),
            percent=shown(percent, telling_decimals("percent", percent, allowed)),
        ),
    )
    return _flow_comparison(flow, limit, CFM, lines)


def percent_of_fan_flow(rule: PercentOfFanFlow, case: Case, unit: str) -> Comparison | Undecided:
    """A share of the air handler's flow, which may be the nominal one."""
    lines: tuple[str, ...] = ()
    if case.fan_flow is None and case.nominal is not None:
        nominal = nominal_flow(case.nominal, case.cooling_capacity, case.heating_output)
        if isinstance(nominal, Undecided):
            return nominal
        fan_flow, lines = nominal.flow, nominal.lines
    else:
        given = positive_in(unit, case.fan_flow, FAN_FLOW)
        if isinstance(given, Undecided):
            return given
        fan_flow = given
    flow = in_code_unit(case.flow, unit)
    limit = product(rule.percent, fan_flow, over=100.0)
    percent = flow * 100.0 / fan_flow
    lines = (
        *lines,
        _("{percent}% of {fan_flow} {unit} air handler flow = {limit}").format(
            percent=written(rule.percent),
            fan_flow=written(fan_flow),
            unit=symbol(unit),
            limit=_flow(limit, unit, flow),
        ),
        _("Measured {flow}, which is {percent}% of the air handler's flow").format(
            flow=_flow(flow, unit, limit),
            percent=shown(percent, telling_decimals("percent", percent, rule.percent)),
        ),
    )
    return _flow_comparison(flow, limit, unit, lines)


def percent_reduction(rule: PercentReduction, case: Case, unit: str) -> Comparison | Undecided:
    """How much less than the first test of the same system, in percent."""
    if case.first_flow is None:
        return Undecided(
            _("A reduction needs an earlier test of this system at the same pressure. Enter it."),
            "tests.*.retest_of",
        )
    first, now = in_code_unit(case.first_flow, unit), in_code_unit(case.flow, unit)
    if first <= 0:
        return Undecided(
            _("The first test of this system found no leakage, so no reduction can be worked out.")
        )
    reduction = float((as_written(first) - as_written(now)) * 100 / as_written(first))
    first_text, now_text = (shown(flow, usual_decimals(unit, flow)) for flow in (first, now))
    line = _("({first} − {now}) ÷ {first} = {percent}% less than in the first test").format(
        first=first_text,
        now=now_text,
        percent=shown(reduction, telling_decimals("percent", reduction, rule.percent)),
    )
    limit_flow = from_unit(product(first, 100.0 - rule.percent, over=100.0), unit)
    lines = (
        _("First test {first} {unit}, now {now} {unit}").format(
            first=first_text, now=now_text, unit=symbol(unit)
        ),
        line,
    )
    return Comparison(reduction, rule.percent, "percent", limit_flow, lines, at_least=True)


def surface_class(rule: SurfaceClass, case: Case, _unit: str) -> Comparison | Undecided:
    """Airtightness class: k * p**0.65 in L/s per m2 of duct surface, p in Pa."""
    pressure = case.target_pressure
    text = f"{written(rule.k)} × {written(round(pressure, 3))}^{written(CLASS_EXPONENT)}"
    return _per_surface(rule.k * pressure**CLASS_EXPONENT, text, case, ("L/s", "m2", "L/s/m2"), 1.0)


def surface_leakage_class(
    rule: SurfaceLeakageClass, case: Case, _unit: str
) -> Comparison | Undecided:
    """Leakage class: CL * P**0.65 in cfm per 100 ft2 of duct surface, P in inches of water."""
    pressure = in_code_unit(case.target_pressure, "inH2O")
    text = f"{written(rule.cl)} × {written(round(pressure, 4))}^{written(CLASS_EXPONENT)}"
    limit = rule.cl * pressure**CLASS_EXPONENT
    return _per_surface(limit, text, case, (CFM, FT2, "cfm/100ft2"), 100.0)


def _per_surface(
    limit: float, text: str, case: Case, units: tuple[str, str, str], basis: float
) -> Comparison | Undecided:
    flow_unit, area_unit, unit = units
    surface = positive_in(area_unit, case.duct_surface, DUCT_SURFACE)
    if isinstance(surface, Undecided):
        return surface
    flow = in_code_unit(case.flow, flow_unit)
    measured = float(as_written(flow) * as_written(basis) / as_written(surface))
    times = f" × {written(basis)}" if basis != 1.0 else ""
    lines = (
        _("Limit {text} = {limit}").format(text=text, limit=_flow(limit, unit, measured)),
        _("Measured {flow} ÷ {surface} {area_unit}{times} = {measured}").format(
            flow=_flow(flow, flow_unit),
            surface=written(surface),
            area_unit=symbol(area_unit),
            times=times,
            measured=_flow(measured, unit, limit),
        ),
    )
    limit_flow = from_unit(limit * surface / basis, flow_unit)
    return Comparison(measured, limit, unit, limit_flow, lines)


def no_number(rule: NoNumber, _case: Case, _unit: str) -> Comparison | Undecided:
    """Nothing to compare with: the rule asks for something else."""
    text = _("There is no number to meet here. Asked for is: {text}.")
    return Undecided(text.format(text=_(rule.text).rstrip(".")))
