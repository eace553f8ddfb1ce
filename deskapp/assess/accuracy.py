"""How far each input may be off: as entered, or taken for want of an entry, with its source.

Each figure is half the width of an interval in which any value is as likely, as certificates and
standards state accuracies; the budget divides it by the root of three.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from deskapp.domain.choices import AreaSource, FanFlowMethod
from deskapp.domain.instrument import Gauge, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import N_, _
from deskapp.physics import air, uncertainty

GAUGE_SHARE, GAUGE_LEAST_PA = 0.01, 0.25
"""Gauge: 1% of reading or 0.25 Pa, the greater. ANSI/RESNET/ICC 380, from memory."""

FLOW_SHARE = 0.05
"""Fan: 5% of flow. ANSI/RESNET/ICC 380, from memory."""

EXPONENT_HALF_WIDTH = 0.05
"""Exponent of a leakage that was not measured. Common practice, no source."""

AREA_SHARES: dict[AreaSource, float] = {
    AreaSource.MEASURED: 0.01,
    AreaSource.PLANS: 0.02,
    AreaSource.ESTIMATED: 0.10,
}
"""Floor area, by where it comes from. House rules of this program."""

SURFACE_SHARE = 0.05
"""Duct surface, added up from drawings or a tape. House rule of this program."""

FAN_FLOW_SHARES: dict[FanFlowMethod, float] = {
    FanFlowMethod.MEASURED: 0.07,
    FanFlowMethod.DESIGN: 0.10,
    FanFlowMethod.NOMINAL_COOLING: 0.0,
    FanFlowMethod.NOMINAL_HEATING: 0.0,
}
"""Air handler flow, by how it was found; a nominal flow is what a code makes it. House rules."""

FAN_FLOW_SHARE = 0.10
"""Air handler flow of unknown origin. House rule of this program."""

ONE_BASELINE_PA, NO_BASELINE_PA = 0.25, 1.0
"""Baseline read once, and not read at all. House rules of this program."""

ONE_READING_SHARE = 0.01
"""Standard uncertainty of a flow that was not repeated. House rule of this program."""

TWO_POINTS_SHARE = 0.02
"""Standard uncertainty of a curve through two points, whose scatter is unknown. House rule."""

RESIDUAL_LEAST_PA, RESIDUAL_UNREAD_PA = 0.2, 0.5
"""Pressure between ducts and house of a test to outside: least, and where it was not read. House
rules of this program."""

AIR_READ_K, AIR_TAKEN_K = 1.0, 3.0
"""Temperature of the air at the fan, read there and taken from elsewhere [K]. House rules."""

BAROMETER_SHARE, WEATHER_SHARE = 0.005, 0.03
"""Pressure of the air, read and worked out from the elevation: weather moves it by about as much.
House rules of this program."""

HUMIDITY_READ, HUMIDITY_TAKEN = 0.1, 1.0
"""Relative humidity, read and left out, which takes the air as dry [1]. House rules."""

_GAUGE_RULE = N_("1% of the reading or 0.25 Pa, as ANSI/RESNET/ICC 380 asks (from memory)")
_FLOW_RULE = N_("5% of the flow, as ANSI/RESNET/ICC 380 asks (from memory)")
_HOUSE_RULE = N_("{share}%, a house rule of this program")


@dataclass(frozen=True, slots=True)
class Bound:
    """Half a width, where it comes from, and whether it was taken for want of an entry.

    The width is in the SI unit of what it bounds; the function that returns it names that unit.
    """

    half_width: float
    basis: str
    is_assumed: bool

    @property
    def standard(self) -> float:
        """The standard uncertainty."""
        return uncertainty.from_half_width(self.half_width)


def of_gauge(gauge: Gauge | None, size: float) -> Bound:
    """Return how far a pressure of this size may be off [Pa]."""
    share = si_of(gauge.accuracy_percent) if gauge else None
    least = si_of(gauge.accuracy_absolute) if gauge else None
    if share is None and least is None:
        width = uncertainty.accuracy_half_width(size, GAUGE_SHARE, GAUGE_LEAST_PA)
        return Bound(width, _(_GAUGE_RULE), is_assumed=True)
    width = uncertainty.accuracy_half_width(size, min(1.0, share or 0.0), least or 0.0)
    return Bound(width, _("Accuracy of the gauge as entered"), is_assumed=False)


def of_flow(ring: Ring | None) -> Bound:
    """Return how far a flow of the fan may be off, as a share."""
    share = si_of(ring.accuracy) if ring else None
    if share is None:
        return Bound(FLOW_SHARE, _(_FLOW_RULE), is_assumed=True)
    return Bound(share, _("Accuracy of the ring as entered"), is_assumed=False)


def of_air(test: LeakageTest, temperature: float, pressure: float) -> Bound:
    """Return how far the density of the air at the fan may be off, as a share.

    Args:
        test: says which of temperature, barometer and humidity were read.
        temperature: the one the density was worked out from [K].
        pressure: the one it was worked out from [Pa].

    Raises:
        ValueError: the temperature is outside the range of the formula for vapor.

    Source: ISO/IEC Guide 98-3:2008 (GUM), 5.1.2, on ρ = (p - 0.378 φ pᵥ) / (R T), with the share
        of the vapor, below 1% in rooms, left out where it only scales the others.
    """
    read = test.ambient
    kelvin, air_words = (
        (AIR_READ_K, _("temperature read at the fan: 1 K"))
        if read.fan_air_temperature is not None
        else (AIR_TAKEN_K, _("temperature not read at the fan: 3 K"))
    )
    share, pressure_words = (
        (BAROMETER_SHARE, _("barometer read: 0.5%"))
        if read.barometer is not None
        else (WEATHER_SHARE, _("barometer not read: 3% for the weather"))
    )
    humid, humid_words = (
        (HUMIDITY_READ, _("humidity read: 10 points"))
        if read.humidity is not None
        else (HUMIDITY_TAKEN, _("humidity not read"))
    )
    vapor = humid * air.VAPOR_DEFICIT * air.saturation_vapor_pressure(temperature) / pressure
    words = _("House rules of this program: {parts}").format(
        parts="; ".join((air_words, pressure_words, humid_words))
    )
    return Bound(math.hypot(kelvin / temperature, share, vapor), words, is_assumed=True)


def of_exponent(test: LeakageTest) -> Bound:
    """Return how far the exponent assumed for a test may be off."""
    entered = si_of(test.setup.exponent_uncertainty)
    if entered is None:
        basis = _("0.05, common practice, no source")
        return Bound(EXPONENT_HALF_WIDTH, basis, is_assumed=True)
    return Bound(entered, _("As entered in the set-up"), is_assumed=False)


def of_baseline(test: LeakageTest) -> Bound:
    """Return how far the baseline may have drifted [Pa]."""
    known = [
        value
        for value in (si_of(test.baseline_before), si_of(test.baseline_after))
        if value is not None
    ]
    if len(known) == 2:
        drift = abs(known[1] - known[0]) / 2.0
        return Bound(drift, _("Half the drift from before to after"), is_assumed=False)
    if known:
        basis = _("Read once only: 0.25 Pa, a house rule of this program")
        return Bound(ONE_BASELINE_PA, basis, is_assumed=True)
    basis = _("Not read: 1 Pa, a house rule of this program")
    return Bound(NO_BASELINE_PA, basis, is_assumed=True)


def of_area(job: Job) -> Bound:
    """Return how far the floor areas may be off, as a share."""
    entered = si_of(job.house.area_uncertainty)
    if entered is not None:
        return Bound(entered, _("As entered for the house"), is_assumed=False)
    share = AREA_SHARES[job.house.area_source or AreaSource.ESTIMATED]
    return Bound(share, _rule(share), is_assumed=True)


def of_surface() -> Bound:
    """Return how far a duct surface may be off, as a share."""
    return Bound(SURFACE_SHARE, _rule(SURFACE_SHARE), is_assumed=True)


def of_fan_flow(system: DuctSystem) -> Bound:
    """Return how far the flow of the air handler may be off, as a share."""
    entered = si_of(system.fan_flow_uncertainty)
    if entered is not None:
        return Bound(entered, _("As entered for the system"), is_assumed=False)
    method = system.fan_flow_method
    share = FAN_FLOW_SHARES[method] if method else FAN_FLOW_SHARE
    if share == 0.0:
        return Bound(0.0, _("A nominal flow is exact by definition"), is_assumed=True)
    return Bound(share, _rule(share), is_assumed=True)


def of_residual_pressure(test: LeakageTest) -> Bound:
    """Return how far ducts and house may have been apart in a test to outside [Pa]."""
    read = si_of(test.duct_to_house_pressure)
    if read is None:
        basis = _("Duct against house not read: 0.5 Pa, a house rule of this program")
        return Bound(RESIDUAL_UNREAD_PA, basis, is_assumed=True)
    basis = _("Duct against house as read, 0.2 Pa at least")
    return Bound(max(abs(read), RESIDUAL_LEAST_PA), basis, is_assumed=False)


def _rule(share: float) -> str:
    return _(_HOUSE_RULE).format(share=f"{100.0 * share:g}")
