"""Leakage while the system runs, estimated from the leakage at the test pressure."""

from __future__ import annotations

from deskapp.physics.guards import require_exponent, require_not_negative, require_positive
from deskapp.physics.target import RESIDENTIAL_EXPONENT


def half_plenum_pressure(plenum_pressure: float) -> float:
    """Pressure taken for a whole side of a duct system: half of that in its plenum.

    Args:
        plenum_pressure: static pressure in the plenum of that side while running, as a size [Pa].

    Returns:
        Operating pressure of that side [Pa].

    Range: a default for want of pressures along the ducts; leaks near the plenum see more.

    Raises:
        ValueError: the pressure is negative or not finite.

    Source: ASHRAE Standard 152, default operating pressure; from memory, not checked against the
        text.
    """
    require_not_negative("plenum_pressure", plenum_pressure)
    return plenum_pressure / 2.0


def operating_leakage(
    flow: float,
    test_pressure: float,
    operating_pressure: float,
    exponent: float = RESIDENTIAL_EXPONENT,
) -> float:
    """Leakage flow of one side at its operating pressure: Q (P_op / P_test)^n.

    The flow at the test pressure is not air lost: supply and return sides run at pressures of
    their own, and only a leak out of the house loses air.

    Args:
        flow: leakage of that side at the test pressure [m3/s].
        test_pressure: test pressure, as a size [Pa].
        operating_pressure: operating pressure of that side, as a size [Pa].
        exponent: pressure exponent of the leakage, 0.60 assumed for ducts [1].

    Returns:
        Estimated leakage flow while the system runs [m3/s].

    Range: an estimate; the pressure differs along the ducts, and the test meets every leak with
        one pressure.

    Raises:
        ValueError: the flow or operating pressure is negative, the test pressure is not positive,
            the exponent is outside 0.2 to 1, or a value is not finite.

    Source: ASHRAE Standard 152, leakage at operating conditions; from memory, not checked against
        the text.
    """
    require_not_negative("flow", flow)
    require_positive("test_pressure", test_pressure)
    require_not_negative("operating_pressure", operating_pressure)
    require_exponent("exponent", exponent)
    return flow * (operating_pressure / test_pressure) ** exponent
