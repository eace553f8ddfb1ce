"""Flow through a calibrated fan ring or a plain hole, and its correction for air density."""

from __future__ import annotations

from deskapp.physics.guards import (
    OutOfRangeError,
    bare_number,
    require_exponent,
    require_not_negative,
    require_positive,
    require_share,
)


def ring_flow(coefficient: float, exponent: float, signal_pa: float) -> float:
    """Flow a fan ring indicates for a fan pressure signal: Q = K * signal^n.

    Args:
        coefficient: K of the user's certificate, in number the flow at 1 Pa [m3/(s Pa^n)].
        exponent: n of the same certificate, near 0.5 [1].
        signal_pa: fan pressure signal, zero or positive [Pa].

    Returns:
        Indicated flow, at the density the ring was calibrated for [m3/s].

    Range: inside the signal range of the certificate, which the caller checks.

    Raises:
        ValueError: an argument is negative, not finite, or the exponent is outside 0.2 to 1.

    Source: form of the calibration law in ASTM E1554 and ISO 9972; from memory, not checked
        against the text. The two numbers come from the user's own certificate.
    """
    require_positive("coefficient", coefficient)
    require_exponent("exponent", exponent)
    require_not_negative("signal_pa", signal_pa)
    return coefficient * signal_pa**exponent


def signal_for_flow(coefficient: float, exponent: float, flow: float) -> float:
    """Fan pressure signal to expect when a flow goes through a ring: the inverse of ring_flow.

    Args:
        coefficient: K of the user's certificate, in number the flow at 1 Pa [m3/(s Pa^n)].
        exponent: n of the same certificate, near 0.5 [1].
        flow: indicated flow, zero or positive [m3/s].

    Returns:
        Fan pressure signal [Pa].

    Range: meaningful where the signal lies inside the range of the certificate.

    Raises:
        ValueError: an argument is negative, not finite, or the exponent is outside 0.2 to 1.

    Source: the calibration law in ASTM E1554 and ISO 9972 solved for the signal; from memory,
        not checked against the text.
    """
    require_positive("coefficient", coefficient)
    require_exponent("exponent", exponent)
    require_not_negative("flow", flow)
    return (flow / coefficient) ** (1.0 / exponent)


def ring_flow_range(
    coefficient: float, exponent: float, lowest_signal_pa: float, highest_signal_pa: float
) -> tuple[float, float]:
    """Lowest and highest flow a ring can show inside its usable signal range.

    Args:
        coefficient: K of the user's certificate, in number the flow at 1 Pa [m3/(s Pa^n)].
        exponent: n of the same certificate, near 0.5 [1].
        lowest_signal_pa: lower end of the usable fan pressure signal [Pa].
        highest_signal_pa: upper end of the usable fan pressure signal [Pa].

    Returns:
        The two flows, lower first [m3/s].

    Range: as ring_flow.

    Raises:
        ValueError: an argument is negative or not finite, or the ends are in the wrong order.

    Source: the calibration law in ASTM E1554 and ISO 9972 at both ends of the range; from memory,
        not checked against the text.
    """
    require_not_negative("lowest_signal_pa", lowest_signal_pa)
    require_not_negative("highest_signal_pa", highest_signal_pa)
    lowest = ring_flow(coefficient, exponent, lowest_signal_pa)
    highest = ring_flow(coefficient, exponent, highest_signal_pa)
    if bare_number(highest) < bare_number(lowest):
        raise OutOfRangeError(
            "highest_signal_pa", highest_signal_pa, f"lowest_signal_pa ({lowest_signal_pa}) or more"
        )
    return lowest, highest


def density_corrected_flow(
    indicated: float, calibration_density: float, air_density: float
) -> float:
    """Actual volume flow when the air in the device is not as dense as at calibration.

    Args:
        indicated: flow the device shows for calibration air [m3/s].
        calibration_density: air density the device was calibrated for [kg/m3].
        air_density: density of the air at the device inlet during the test [kg/m3].

    Returns:
        Volume flow at the density of the test air [m3/s].

    Range: devices whose signal is a pressure difference proportional to density times speed
        squared (exponent near 0.5).

    Raises:
        ValueError: the flow is negative, a density is not positive, or a value is not finite.

    Source: Bernoulli's equation; stated in ASTM E779 and ISO 9972, from memory, not checked
        against the text.
    """
    require_not_negative("indicated", indicated)
    require_positive("calibration_density", calibration_density)
    require_positive("air_density", air_density)
    return indicated * (calibration_density / air_density) ** 0.5


def flow_at_other_density(flow: float, flow_density: float, other_density: float) -> float:
    """Volume flow of the same mass of air at another density, e.g. fan air and duct air.

    Args:
        flow: volume flow where its density is known [m3/s].
        flow_density: density of the air there [kg/m3].
        other_density: density of the air where the volume flow is wanted [kg/m3].

    Returns:
        Volume flow at the other density [m3/s].

    Range: no air lost or added between the two places.

    Raises:
        ValueError: the flow is negative, a density is not positive, or a value is not finite.

    Source: conservation of mass; used so in ISO 9972:2015, from memory, not checked against the
        text.
    """
    require_not_negative("flow", flow)
    require_positive("flow_density", flow_density)
    require_positive("other_density", other_density)
    return flow * (flow_density / other_density)


def orifice_flow(
    area: float, discharge_coefficient: float, pressure: float, density: float
) -> float:
    """Flow through a sharp-edged hole in a thin flat plate.

    Args:
        area: open area of the hole [m2].
        discharge_coefficient: about 0.60 to 0.61 for a sharp edge [1].
        pressure: pressure difference across the plate, as a size [Pa].
        density: density of the air upstream [kg/m3].

    Returns:
        Volume flow at that density [m3/s].

    Range: hole small against the plate and the space before it, turbulent flow, pressure small
        against the barometric pressure.

    Raises:
        ValueError: an argument is negative or not finite, or the coefficient is above 1.

    Source: ASHRAE Handbook—Fundamentals, chapter on ventilation and infiltration (orifice
        equation); from memory, not checked against the text.
    """
    require_not_negative("area", area)
    require_share("discharge_coefficient", discharge_coefficient)
    require_not_negative("pressure", pressure)
    require_positive("density", density)
    return discharge_coefficient * area * (2.0 * pressure / density) ** 0.5
