"""From what the gauge showed to the flow at the target pressure."""

from __future__ import annotations

from deskapp.physics.guards import (
    OutOfRangeError,
    bare_number,
    require_exponent,
    require_finite,
    require_not_negative,
    require_positive,
)

RESIDENTIAL_EXPONENT = 0.60
"""Exponent assumed for the leakage of house ducts when none was measured [1].

Source: ANSI/RESNET/ICC 380 (duct leakage at a pressure other than the target); from memory, not
checked against the text."""

LARGEST_FACTOR = 1.25
"""Largest correction to the target pressure taken without a remark [1].

Source: house rule of this program, about 17 Pa held for a target of 25 Pa; no published source."""

HIGHEST_MULTIPLE = 2.0
"""Largest pressure that a single reading is converted from, as a multiple of its target [1].

Source: house rule of this program; no published source. Beyond it an exponent off by 0.1 moves the
result by more than 7%, and a lost decimal point is likelier than such a test."""

LOWEST_PRESSURE_PA = 10.0
"""Lowest induced duct pressure from which a verdict is drawn, as a size [Pa].

Source: house rule of this program; common practice, no source."""


def baseline_mean(before: float, after: float) -> float:
    """Mean of the duct pressure with the fan off, before and after the readings.

    Args:
        before: baseline pressure before the readings, signed [Pa].
        after: baseline pressure after the readings, signed [Pa].

    Returns:
        Mean baseline pressure, signed [Pa].

    Range: any finite pressure.

    Raises:
        ValueError: a value is not finite.

    Source: ASTM E779 and ISO 9972 (average of the zero-flow pressure differences); from memory,
        not checked against the text.
    """
    require_finite("before", before)
    require_finite("after", after)
    return (before + after) / 2.0


def induced_pressure(reading_pa: float, baseline_pa: float) -> float:
    """Pressure the fan itself made: the reading less the baseline, sign kept.

    Args:
        reading_pa: duct pressure against its reference, as the gauge showed it, signed [Pa].
        baseline_pa: mean baseline pressure, signed [Pa].

    Returns:
        Induced pressure, negative when the ducts are depressurized [Pa].

    Range: any finite pressure.

    Raises:
        ValueError: a value is not finite.

    Source: ASTM E779 and ISO 9972 (subtract the zero-flow pressure difference); from memory, not
        checked against the text.
    """
    require_finite("reading_pa", reading_pa)
    require_finite("baseline_pa", baseline_pa)
    return reading_pa - baseline_pa


def target_factor(target_pa: float, induced_pa: float, exponent: float) -> float:
    """Factor from the flow at the induced pressure to the flow at the target: (Pt / P)^n.

    Args:
        target_pa: target pressure, as a size or with the sign of the test [Pa].
        induced_pa: induced pressure in the same direction as the target [Pa].
        exponent: pressure exponent of the leakage, 0.5 to 1, 0.60 assumed for ducts [1].

    Returns:
        The factor, exactly 1 when the target was held [1].

    Range: both pressures other than zero and of one sign. How far the factor may reach is a
        rule for the caller: see LARGEST_FACTOR and LOWEST_PRESSURE_PA.

    Raises:
        ValueError: a pressure is zero or not finite, their signs differ, or the exponent is
            outside 0.2 to 1.

    Source: power law of leakage, ANSI/RESNET/ICC 380 and ASTM E1554; from memory, not checked
        against the text.
    """
    require_positive("size of target_pa", abs(bare_number(target_pa)))
    require_positive("size of induced_pa", abs(bare_number(induced_pa)))
    require_exponent("exponent", exponent)
    if (bare_number(target_pa) > 0.0) != (bare_number(induced_pa) > 0.0):
        raise OutOfRangeError("induced_pa", induced_pa, f"the sign of target_pa ({target_pa})")
    return (target_pa / induced_pa) ** exponent


def flow_at_target(flow: float, target_pa: float, induced_pa: float, exponent: float) -> float:
    """Leakage flow converted to the target pressure.

    Args:
        flow: flow measured at the induced pressure [m3/s].
        target_pa: target pressure, as a size or with the sign of the test [Pa].
        induced_pa: induced pressure in the same direction as the target [Pa].
        exponent: pressure exponent of the leakage, 0.60 assumed for ducts [1].

    Returns:
        Flow at the target pressure [m3/s].

    Range: as target_factor.

    Raises:
        ValueError: the flow is negative or not finite, or as target_factor.

    Source: power law of leakage, ANSI/RESNET/ICC 380 and ASTM E1554; from memory, not checked
        against the text.
    """
    require_not_negative("flow", flow)
    return flow * target_factor(target_pa, induced_pa, exponent)
