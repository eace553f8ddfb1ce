"""Air tightness of a small or very tight house, measured with a fan in a door panel."""

from __future__ import annotations

from deskapp.physics.constants import STANDARD_DENSITY
from deskapp.physics.guards import require_exponent, require_not_negative, require_positive
from deskapp.physics.leakage import effective_leakage_area


def coefficient_at_standard_density(
    coefficient: float,
    exponent: float,
    density: float,
    standard_density: float = STANDARD_DENSITY,
) -> float:
    """Air leakage coefficient at standard density: C_L = C (rho / rho0)^(1 - n).

    Args:
        coefficient: C of the fitted curve, in number the flow at 1 Pa [m3/(s Pa^n)].
        exponent: n of the same curve [1].
        density: density of the air that passes the envelope: outdoor air when the house is
            depressurized, indoor air when it is pressurized [kg/m3].
        standard_density: density of air at 20 °C and 101 325 Pa [kg/m3].

    Returns:
        Corrected coefficient C_L [m3/(s Pa^n)].

    Range: differs by about 1% from the form with viscosity when the air is 20 K away from 20 °C.

    Raises:
        ValueError: a value is not positive or not finite, or the exponent is outside 0.2 to 1.

    Source: ISO 9972:2015, air leakage coefficient; from memory, not checked against the text.
    """
    require_positive("coefficient", coefficient)
    require_exponent("exponent", exponent)
    require_positive("density", density)
    require_positive("standard_density", standard_density)
    return coefficient * (density / standard_density) ** (1.0 - exponent)


def curve_flow(coefficient: float, exponent: float, pressure: float) -> float:
    """Leakage flow at a pressure difference: Q = C dP^n.

    Args:
        coefficient: air leakage coefficient, in number the flow at 1 Pa [m3/(s Pa^n)].
        exponent: pressure exponent [1].
        pressure: pressure difference, as a size, 50 for the usual figure [Pa].

    Returns:
        Flow at that pressure [m3/s].

    Range: the pressures of the test; 50 Pa should lie among them.

    Raises:
        ValueError: a value is negative or not finite, or the exponent is outside 0.2 to 1.

    Source: power law of leakage, ASTM E779 and ISO 9972:2015; from memory, not checked against
        the text.
    """
    require_positive("coefficient", coefficient)
    require_exponent("exponent", exponent)
    require_not_negative("pressure", pressure)
    return coefficient * pressure**exponent


def air_change_rate(flow: float, volume: float) -> float:
    """Air changes per time at the pressure the flow was measured at.

    Args:
        flow: leakage flow, mostly at 50 Pa [m3/s].
        volume: internal volume of the space [m3].

    Returns:
        Air changes per second; 3600 times as many an hour [1/s].

    Range: any positive volume; of a pressure test, not of the house in use.

    Raises:
        ValueError: the flow is negative, the volume is not positive, or a value is not finite.

    Source: ISO 9972:2015, air change rate at the reference pressure; from memory, not checked
        against the text.
    """
    require_not_negative("flow", flow)
    require_positive("volume", volume)
    return flow / volume


def curve_leakage_area(
    coefficient: float,
    exponent: float,
    ref_pressure: float = 4.0,
    discharge_coefficient: float = 1.0,
    density: float = STANDARD_DENSITY,
) -> float:
    """Leakage area of a fitted curve: the hole that passes its flow at a reference pressure.

    Args:
        coefficient: air leakage coefficient at standard air, the flow at 1 Pa [m3/(s Pa^n)].
        exponent: pressure exponent [1].
        ref_pressure: reference pressure, 4 (ELA) or 10 (EqLA) [Pa].
        discharge_coefficient: 1.0 for ELA, 0.611 for EqLA [1].
        density: air density of the flow [kg/m3].

    Returns:
        Leakage area [m2].

    Range: an extrapolation when the reference pressure lies below the readings; wind moves it far
        more than the flow at 50 Pa.

    Raises:
        ValueError: a value is not positive or not finite, the exponent is outside 0.2 to 1, or
            the discharge coefficient is above 1.

    Source: ASTM E779 (effective leakage area at 4 Pa) and CAN/CGSB-149.10 (10 Pa, 0.611); from
        memory, not checked against the text.
    """
    require_positive("ref_pressure", ref_pressure)
    flow = curve_flow(coefficient, exponent, ref_pressure)
    return effective_leakage_area(flow, ref_pressure, discharge_coefficient, density)
