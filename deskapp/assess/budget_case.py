"""What a budget of uncertainty is made from: one test, and how well each input of it is known."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import lru_cache

from deskapp.assess import accuracy
from deskapp.assess.accuracy import Bound
from deskapp.assess.run import Run
from deskapp.domain.choices import Metric
from deskapp.domain.instrument import Gauge, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.domain.result_parts import CurveResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.physics import flow_device, target, uncertainty
from deskapp.physics.leakage_budget import BudgetPart, Estimate, LeakageCase
from deskapp.physics.student import student_quantile
from deskapp.units.display import in_sentences

HELD_WITH = 0.95
"""Probability that twice a standard uncertainty holds with."""

LOWEST_EXPONENT, HIGHEST_EXPONENT = 0.2, 1.0
"""The formulas take exponents from here to there."""


@dataclass(frozen=True, slots=True)
class Basis:
    """Where the figure of one row comes from, and whether it was taken for want of an entry."""

    words: str
    is_assumed: bool


@dataclass(frozen=True, slots=True)
class Known:
    """The case of a test, and the basis of each of its rows; rows without one do not apply.

    `most_between` is the most that may flow between ducts and house, at the pressure held [m3/s].
    """

    case: LeakageCase
    bases: tuple[tuple[BudgetPart, Basis], ...]
    most_between: float = 0.0


@dataclass(frozen=True, slots=True)
class Measurement:
    """One test with all that its budget looks at; `inside` is the leakage into the house, m3/s."""

    job: Job
    test: LeakageTest
    runs: tuple[Run, ...]
    result: TestResult
    ring: Ring | None
    inside: float | None = None

    @property
    def gauge(self) -> Gauge | None:
        """The gauge used."""
        return self.job.gauge(self.test.setup.gauge)


def known(one: Measurement) -> Known:
    """Return the case of a test that has a result. Raises ValueError beyond the formulas' range."""
    result, wanted, flow = one.result, one.result.target_pressure or 0.0, one.result.flow or 0.0
    is_curve = result.mean_induced_pressure is None
    held = wanted if is_curve else result.mean_induced_pressure or wanted
    exponent = result.exponent or target.RESIDENTIAL_EXPONENT
    exponent = min(HIGHEST_EXPONENT, max(LOWEST_EXPONENT, exponent))
    at_held = flow / target.target_factor(wanted, held, exponent)
    pressure = accuracy.of_gauge(one.gauge, held)
    drift = accuracy.of_baseline(one.test)
    calibration = accuracy.of_flow(one.ring)
    convert = (
        Bound(0.0, _("Follows from the readings; see their scatter"), is_assumed=False)
        if is_curve
        else accuracy.of_exponent(one.test)
    )
    repeats, repeats_basis = _repeats(one.runs, at_held)
    bases = {
        BudgetPart.FAN_CALIBRATION: _basis(calibration),
        BudgetPart.REPEATS: repeats_basis,
        BudgetPart.DUCT_PRESSURE: _basis(pressure),
        BudgetPart.BASELINE: _basis(drift),
        BudgetPart.EXPONENT: _basis(convert),
    }
    most_between = 0.0
    if one.test.setup.metric is Metric.OUTSIDE:
        most_between, bases[BudgetPart.RESIDUAL_FLOW] = _residual_flow(one, at_held, held, exponent)
    density, density_basis = _density(one)
    if density_basis is not None:
        bases[BudgetPart.AIR_DENSITY] = density_basis
    signal = _signal(one, at_held)
    if signal is not None:
        bases[BudgetPart.FAN_SIGNAL] = _basis(accuracy.of_gauge(one.gauge, signal.value))
    reading, baseline = _pressures(one.runs, held)
    case = LeakageCase(
        flow=at_held,
        target_pressure=wanted,
        reading=Estimate(reading, pressure.standard),
        exponent=Estimate(exponent, convert.standard),
        calibration=calibration.standard,
        baseline=Estimate(baseline, drift.standard),
        signal=signal,
        signal_exponent=(si_of(one.ring.exponent) if one.ring else None) or 0.5,
        air_density=density,
        repeats=repeats,
        residual_flow=uncertainty.from_half_width(most_between),
    )
    return Known(case, tuple(bases.items()), most_between)


def _basis(bound: Bound) -> Basis:
    return Basis(bound.basis, bound.is_assumed)


def _pressures(runs: tuple[Run, ...], held: float) -> tuple[float, float]:
    """Return duct pressure and baseline as the gauge showed them; of both directions, as sizes."""
    first, *others = runs
    if others:
        return held, 0.0
    baseline = first.setting.conditions.baseline
    is_below = all((row.induced_pressure or 0.0) < 0.0 for row in first.used)
    return (baseline - held if is_below else baseline + held), baseline


def _repeats(runs: tuple[Run, ...], at_held: float) -> tuple[float, Basis]:
    """Return the standard uncertainty of the flow from its own scatter [m3/s]."""
    of_runs = [_repeats_of(run, at_held) for run in runs]
    parts = [part for part, _basis_of in of_runs]
    return uncertainty.combined(parts) / len(parts), of_runs[0][1]


def _repeats_of(run: Run, at_held: float) -> tuple[float, Basis]:
    if run.curve is not None:
        share = _share_of_curve(run.curve)
        if share is None:
            words = _("Two points only: 2%, a house rule of this program")
            return at_held * accuracy.TWO_POINTS_SHARE, Basis(words, is_assumed=True)
        words = _("Scatter of the points about the curve")
        return at_held * share, Basis(words, is_assumed=False)
    flows = [row.flow_at_target for row in run.used if row.flow_at_target is not None]
    if len(flows) < 2:
        words = _("One reading only: 1%, a house rule of this program")
        return at_held * accuracy.ONE_READING_SHARE, Basis(words, is_assumed=True)
    bare = uncertainty.of_mean(flows) / run.flow if run.flow else 0.0
    share = _share_of_few(bare, len(flows))
    words = _("Scatter of the repeats")
    if share > bare:
        factor = in_sentences().number(share / bare, 2)
        words = _("Scatter of the repeats, {factor} times as wide because they are few").format(
            factor=factor
        )
    return at_held * share, Basis(words, is_assumed=False)


def _share_of_few(bare: float, count: int) -> float:
    """Return the relative standard uncertainty of a mean that, twice, holds with 95 %.

    The scatter of a few repeats may be small by chance, so that Student's quantile takes the place
    of the coverage factor (ISO/IEC Guide 98-3:2008, G.3; from memory). It makes no mean less sure
    than one reading alone is taken to be, unless the readings themselves do.
    """
    widened = bare * max(1.0, _quantile(count - 1) / uncertainty.COVERAGE_FACTOR)
    return max(bare, min(widened, accuracy.ONE_READING_SHARE))


@lru_cache(maxsize=64)
def _quantile(degrees: int) -> float:
    return student_quantile((1.0 + HELD_WITH) / 2.0, degrees)


def _share_of_curve(curve: CurveResult) -> float | None:
    """Return the relative standard uncertainty that, twice, reaches the ends of the interval.

    With few points Student's quantile is far above the coverage factor, and the error of the fit
    alone would claim more than the points can tell. The upper end is the farther one.
    """
    if curve.log_error is None or curve.t_quantile is None:
        return None
    return math.expm1(curve.t_quantile * curve.log_error) / uncertainty.COVERAGE_FACTOR


def _density(one: Measurement) -> tuple[Estimate | None, Basis | None]:
    """Return the density the flow was corrected for [kg/m3]; none where it was not."""
    air = one.runs[0].setting.fan_air
    if air.density is None or air.bound is None:
        return None, None
    return Estimate(air.density, air.density * air.bound.standard), _basis(air.bound)


def _residual_flow(
    one: Measurement, at_held: float, held: float, exponent: float
) -> tuple[float, Basis]:
    """Return the most that may flow between ducts and house, half a width [m3/s].

    The leaks into the house pass it at the pressure that is left between the two.
    """
    bound = accuracy.of_residual_pressure(one.test)
    words = bound.basis
    inside = one.inside
    if inside is None:
        inside = at_held
        words += ". " + _("Leakage into the house taken as great as that to outside")
    flow = inside * (bound.half_width / held) ** exponent if held > 0.0 else 0.0
    return flow, Basis(words, bound.is_assumed or one.inside is None)


def _signal(one: Measurement, at_held: float) -> Estimate | None:
    """Return the fan signal behind the flow, if the flow came from one."""
    rows = [row for run in one.runs for row in run.used]
    ring = one.ring
    coefficient = si_of(ring.coefficient) if ring else None
    exponent = si_of(ring.exponent) if ring else None
    if coefficient is None or exponent is None or at_held <= 0.0:
        return None
    if not rows or any(row.fan_signal is None for row in rows):
        return None
    conditions = one.runs[0].setting.conditions
    indicated = at_held / (conditions.density_factor * conditions.house_factor)
    signal = flow_device.signal_for_flow(coefficient, exponent, indicated)
    return Estimate(signal, accuracy.of_gauge(one.gauge, signal).standard)
