"""What a leakage flow means: per area, per fan flow, as a hole, as an airtightness class."""

from __future__ import annotations

from math import pi

from deskapp.physics.constants import (
    DUCT_CLASS_EXPONENT,
    SHARP_EDGE_COEFFICIENT,
    STANDARD_DENSITY,
)
from deskapp.physics.guards import require_not_negative, require_positive, require_share


def flow_per_area(flow: float, area: float) -> float:
    """Leakage flow divided by floor area served, or by duct surface.

    Args:
        flow: leakage flow at the target pressure [m3/s].
        area: floor area the system serves, or duct surface [m2].

    Returns:
        Flow per area [m/s].

    Range: any positive area.

    Raises:
        ValueError: the flow is negative, the area is not positive, or a value is not finite.

    Source: International Energy Conservation Code, duct testing (leakage per 100 ft2 of floor
        area served), editions 2009 to 2021.
    """
    require_not_negative("flow", flow)
    require_positive("area", area)
    return flow / area


def fraction_of_fan_flow(flow: float, fan_flow: float) -> float:
    """Leakage flow as a share of the flow of the air handler.

    Args:
        flow: leakage flow at the target pressure [m3/s].
        fan_flow: nominal or measured flow of the air handler [m3/s].

    Returns:
        The share, 0.06 for 6% [1].

    Range: any positive fan flow; a share above 1 is possible and left as it is.

    Raises:
        ValueError: the flow is negative, the fan flow is not positive, or a value is not finite.

    Source: California Energy Commission, 2008 Residential Appendices, RA3.1 (leakage as a
        percentage of fan flow).
    """
    require_not_negative("flow", flow)
    require_positive("fan_flow", fan_flow)
    return flow / fan_flow


def effective_leakage_area(
    flow_at_ref: float,
    ref_pressure: float,
    discharge_coefficient: float = 1.0,
    density: float = STANDARD_DENSITY,
) -> float:
    """Area of the one hole that would pass the same flow at a reference pressure.

    Args:
        flow_at_ref: leakage flow at the reference pressure [m3/s].
        ref_pressure: reference pressure, usually 4 (ELA) or 10 (EqLA) [Pa].
        discharge_coefficient: 1.0 for ELA, 0.611 for EqLA [1].
        density: air density of the flow [kg/m3].

    Returns:
        Leakage area [m2].

    Range: turbulent flow through the imagined hole.

    Raises:
        ValueError: an argument is negative or not finite, or the coefficient is above 1.

    Source: ASHRAE Handbook—Fundamentals, chapter on ventilation and infiltration (4 Pa, 1.0), and
        CAN/CGSB-149.10 (10 Pa, 0.611); from memory, not checked against the text.
    """
    require_not_negative("flow_at_ref", flow_at_ref)
    require_positive("ref_pressure", ref_pressure)
    require_share("discharge_coefficient", discharge_coefficient)
    require_positive("density", density)
    return flow_at_ref * (density / (2.0 * ref_pressure)) ** 0.5 / discharge_coefficient


def equivalent_orifice_area(
    flow: float,
    pressure: float = 25.0,
    discharge_coefficient: float = SHARP_EDGE_COEFFICIENT,
    density: float = STANDARD_DENSITY,
) -> float:
    """Area of a sharp-edged hole in thin plate that leaks as much at the test pressure.

    Args:
        flow: leakage flow at the test pressure [m3/s].
        pressure: test pressure, as a size [Pa].
        discharge_coefficient: 0.611, or 0.60 as a rounded figure [1].
        density: air density of the flow [kg/m3].

    Returns:
        Hole area [m2].

    Range: a picture for the reader; real leaks are many and not sharp-edged.

    Raises:
        ValueError: an argument is negative or not finite, or the coefficient is above 1.

    Source: the orifice equation, ASHRAE Handbook—Fundamentals, chapter on ventilation and
        infiltration, solved for the area; from memory, not checked against the text.
    """
    require_not_negative("flow", flow)
    require_positive("pressure", pressure)
    require_share("discharge_coefficient", discharge_coefficient)
    require_positive("density", density)
    return flow / (discharge_coefficient * (2.0 * pressure / density) ** 0.5)


def round_hole_diameter(area: float) -> float:
    """Diameter of the round hole that has an area.

    Args:
        area: open area [m2].

    Returns:
        Diameter [m].

    Range: any area from zero.

    Raises:
        ValueError: the area is negative or not finite.

    Source: geometry of the circle.
    """
    require_not_negative("area", area)
    return 2.0 * (area / pi) ** 0.5


def duct_class_limit(k: float, pressure_pa: float) -> float:
    """Largest leakage per duct surface that an airtightness class allows: f = k * p^0.65.

    Args:
        k: coefficient of the class, in number the limit at 1 Pa [m3/(s m2 Pa^0.65)].
        pressure_pa: test pressure, as a size [Pa].

    Returns:
        Leakage limit per duct surface [m/s].

    Range: test pressures the class is defined for (the caller's data says which).

    Raises:
        ValueError: k is not positive, the pressure is negative, or a value is not finite.

    Source: EN 12237:2003, EN 1507:2006 and EN 16798-3:2017; read in secondary sources, not
        checked against the text.
    """
    require_positive("k", k)
    require_not_negative("pressure_pa", pressure_pa)
    return k * pressure_pa**DUCT_CLASS_EXPONENT


def surface_leakage_class(flow_cfm_per_100ft2: float, pressure_inwc: float) -> float:
    """Leakage class C_L = F / P^0.65, in the inch-pound units that define it.

    Args:
        flow_cfm_per_100ft2: leakage per 100 square feet of duct surface [cfm/(100 ft2)].
        pressure_inwc: test pressure, as a size [in. w.c.].

    Returns:
        Leakage class, in number the leakage at 1 in. w.c. [cfm/(100 ft2 in. w.c.^0.65)].

    Range: the number is a class only with these units; SI values give another number.

    Raises:
        ValueError: the flow is negative, the pressure is not positive, or a value is not finite.

    Source: SMACNA HVAC Air Duct Leakage Test Manual, 1985 and ANSI/SMACNA 016-2012, leakage
        class; read in a secondary source, not checked against the text.
    """
    require_not_negative("flow_cfm_per_100ft2", flow_cfm_per_100ft2)
    require_positive("pressure_inwc", pressure_inwc)
    return flow_cfm_per_100ft2 / pressure_inwc**DUCT_CLASS_EXPONENT


def surface_leakage_limit(leakage_class: float, pressure_inwc: float) -> float:
    """Leakage a class allows at a pressure, F = C_L * P^0.65, in inch-pound units.

    Args:
        leakage_class: leakage class C_L [cfm/(100 ft2 in. w.c.^0.65)].
        pressure_inwc: test pressure, as a size [in. w.c.].

    Returns:
        Leakage limit per 100 square feet of duct surface [cfm/(100 ft2)].

    Range: the inverse of surface_leakage_class.

    Raises:
        ValueError: the class is not positive, the pressure is negative, or a value is not finite.

    Source: SMACNA HVAC Air Duct Leakage Test Manual, 1985 and ANSI/SMACNA 016-2012, leakage
        class; read in a secondary source, not checked against the text.
    """
    require_positive("leakage_class", leakage_class)
    require_not_negative("pressure_inwc", pressure_inwc)
    return leakage_class * pressure_inwc**DUCT_CLASS_EXPONENT
