"""The leakage curve against statsmodels, worked values and an invented test at five pressures."""

from __future__ import annotations

from math import isfinite, log
from random import Random
from typing import Any

import numpy as np
import pint
import pytest
import statsmodels.api as sm
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import foot, minute

from deskapp.physics.leakage_curve import (
    Curve,
    Interval,
    NoCurve,
    NoCurveError,
    NoInterval,
    coefficient_interval,
    exponent_interval,
    fit,
    flow_at,
)

CFM = foot**3 / minute
UNITS = pint.UnitRegistry()
UNITS.define("inch_of_water_conventional = 249.08891 pascal")

# Invented readings in Pa and cfm; the results were worked with scipy.stats.linregress.
EIGHT_PA = [15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0]
EIGHT_CFM = [74.2, 87.6, 100.9, 112.1, 124.0, 133.8, 144.1, 153.2]
# Invented manufactured home after sealing; sums done by hand to four decimals.
FIVE_PA = [15.0, 25.0, 35.0, 50.0, 60.0]
FIVE_CFM = [57.6, 79.2, 97.5, 121.0, 135.8]

coefficients = st.floats(0.001, 0.1)
exponents = st.floats(0.4, 1.1)
scales = st.floats(0.01, 100.0)
noise = st.lists(st.floats(-0.05, 0.05), min_size=5, max_size=5)
anything = st.floats(allow_nan=True, allow_infinity=True)
any_size = st.floats(1e-12, 1e12)


def noisy(coefficient: float, exponent: float, shares: list[float]) -> tuple[list[float], Curve]:
    """Readings of a power law with a share of noise each, and the curve through them."""
    flows = [
        coefficient * pressure**exponent * (1.0 + share)
        for pressure, share in zip(FIVE_PA, shares, strict=True)
    ]
    return flows, fit(FIVE_PA, flows)


def statsmodels_fit(pressures: list[float], flows: list[float]) -> Any:
    return sm.OLS(np.log(flows), sm.add_constant(np.log(pressures))).fit()


def ends(interval: Interval | NoInterval) -> tuple[float, float]:
    assert isinstance(interval, Interval)
    return interval.lowest, interval.highest


def both(interval: Interval | NoInterval) -> tuple[float, ...]:
    return ends(interval) if isinstance(interval, Interval) else ()


def numbers_of(curve: Curve) -> list[float]:
    errors = curve.errors
    known = [] if errors is None else [errors.exponent, errors.log_coefficient, errors.covariance]
    for pressure in (0.1, 25.0, 1000.0):
        found = flow_at(curve, pressure)
        known.append(found.flow)
        known += [*both(found.mean), *both(found.prediction)]
    return [*known, curve.coefficient, curve.exponent, *curve.residuals_percent]


def test_that_eight_readings_give_the_worked_curve() -> None:
    curve = fit(EIGHT_PA, EIGHT_CFM)
    assert curve.errors is not None
    assert round(curve.exponent, 8) == 0.60558836
    assert round(curve.coefficient, 8) == 14.34533155
    assert curve.r_squared is not None
    assert round(curve.r_squared, 8) == 0.99984236
    assert round(curve.errors.exponent, 8) == 0.00310432
    assert round(curve.errors.log_coefficient, 8) == 0.01065693
    assert round(curve.errors.t_quantile, 8) == 2.44691185
    assert curve.errors.degrees == 6
    assert ends(exponent_interval(curve)) == pytest.approx((0.5979923, 0.6131844), abs=5.1e-8)
    assert ends(coefficient_interval(curve)) == pytest.approx((13.976090, 14.724329), abs=5.1e-7)


@pytest.mark.parametrize(
    ("pressure", "flow", "log_error", "mean"),
    [
        (25.0, 100.75968, 0.00134602, (100.42836, 101.09209)),
        (4.0, 33.21323, 0.00639970, (32.69718, 33.73743)),
    ],
)
def test_that_the_curve_gives_the_worked_flow_and_interval(
    pressure: float, flow: float, log_error: float, mean: tuple[float, float]
) -> None:
    found = flow_at(fit(EIGHT_PA, EIGHT_CFM), pressure)
    assert found.flow == pytest.approx(flow, abs=5.1e-6)
    assert found.log_error == pytest.approx(log_error, abs=5.1e-9)
    assert ends(found.mean) == pytest.approx(mean, abs=5.1e-6)


def test_that_one_more_reading_is_expected_where_it_was_worked() -> None:
    found = flow_at(fit(EIGHT_PA, EIGHT_CFM), 25.0)
    assert ends(found.prediction) == pytest.approx((99.85903, 101.66846), abs=5.1e-6)


def test_that_the_invented_home_comes_out_as_worked_by_hand() -> None:
    curve = fit(FIVE_PA, FIVE_CFM)
    assert f"{curve.exponent:.3f}" == "0.617"
    assert f"{curve.coefficient:.2f}" == "10.84"
    assert curve.r_squared is not None
    assert f"{curve.r_squared:.5f}" == "0.99997"
    assert f"{flow_at(curve, 50.0).flow:.1f}" == "121.3"
    assert f"{flow_at(curve, 25.0).flow:.1f}" == "79.1"


@pytest.mark.parametrize(
    ("pressures", "flows"),
    [(EIGHT_PA, EIGHT_CFM), (FIVE_PA, FIVE_CFM), (FIVE_PA[:3], [50.0, 69.0, 84.0])],
)
@pytest.mark.parametrize("confidence", [0.95, 0.9, 0.99])
def test_that_the_fit_agrees_with_statsmodels(
    pressures: list[float], flows: list[float], confidence: float
) -> None:
    curve, theirs = fit(pressures, flows, confidence), statsmodels_fit(pressures, flows)
    errors = curve.errors
    assert errors is not None
    assert [log(curve.coefficient), curve.exponent] == pytest.approx(list(theirs.params), rel=1e-9)
    assert [errors.log_coefficient, errors.exponent] == pytest.approx(list(theirs.bse), rel=1e-9)
    assert errors.covariance == pytest.approx(theirs.cov_params()[0, 1], rel=1e-9)
    assert curve.r_squared == pytest.approx(theirs.rsquared, rel=1e-9)
    interval = theirs.conf_int(alpha=1.0 - confidence)
    assert ends(exponent_interval(curve)) == pytest.approx(tuple(interval[1]), rel=1e-9)
    assert ends(coefficient_interval(curve)) == pytest.approx(tuple(np.exp(interval[0])), rel=1e-9)
    assert curve.residuals_percent == pytest.approx(
        list(100.0 * np.expm1(theirs.resid)), rel=1e-9, abs=1e-10
    )


@pytest.mark.parametrize(("pressures", "flows"), [(EIGHT_PA, EIGHT_CFM), (FIVE_PA, FIVE_CFM)])
@pytest.mark.parametrize("pressure", [4.0, 10.0, 25.0, 42.0, 50.0, 100.0])
def test_that_predictions_agree_with_statsmodels(
    pressures: list[float], flows: list[float], pressure: float
) -> None:
    found = flow_at(fit(pressures, flows), pressure)
    there = statsmodels_fit(pressures, flows).get_prediction([[1.0, log(pressure)]])
    frame = there.summary_frame(alpha=0.05)
    assert found.flow == pytest.approx(float(np.exp(frame["mean"][0])), rel=1e-9)
    assert found.log_error == pytest.approx(frame["mean_se"][0], rel=1e-9)
    mean = np.exp([frame["mean_ci_lower"][0], frame["mean_ci_upper"][0]])
    one_more = np.exp([frame["obs_ci_lower"][0], frame["obs_ci_upper"][0]])
    assert ends(found.mean) == pytest.approx(tuple(mean), rel=1e-9)
    assert ends(found.prediction) == pytest.approx(tuple(one_more), rel=1e-9)


def test_that_the_errors_have_the_form_printed_in_the_envelope_standards() -> None:
    # ASTM E779, annex on errors (from memory, not checked against the text), by its own sums.
    x, y = [log(p) for p in EIGHT_PA], [log(q) for q in EIGHT_CFM]
    count, mean_x, mean_y = len(x), sum(x) / len(x), sum(y) / len(y)
    s_xx = sum((a - mean_x) ** 2 for a in x) / (count - 1)
    s_yy = sum((b - mean_y) ** 2 for b in y) / (count - 1)
    s_xy = sum((a - mean_x) * (b - mean_y) for a, b in zip(x, y, strict=True)) / (count - 1)
    s_n = ((s_yy - s_xy / s_xx * s_xy) / (count - 2)) ** 0.5 / s_xx**0.5
    s_c = s_n * (sum(a * a for a in x) / count) ** 0.5
    s_y = s_n * ((count - 1) / count * s_xx + (log(25.0) - mean_x) ** 2) ** 0.5
    curve = fit(EIGHT_PA, EIGHT_CFM)
    assert curve.errors is not None
    assert curve.errors.exponent == pytest.approx(s_n, rel=1e-9)
    assert curve.errors.log_coefficient == pytest.approx(s_c, rel=1e-9)
    assert flow_at(curve, 25.0).log_error == pytest.approx(s_y, rel=1e-9)


def test_that_the_interval_holds_the_truth_as_often_as_it_says() -> None:
    # Simulated readings of a known law with 1 % of noise; 4 standard errors of 95 % in 2000 runs.
    random, held = Random(8), 0
    for _ in range(2000):
        _, curve = noisy(0.004, 0.6, [np.expm1(random.gauss(0.0, 0.01)) for _ in FIVE_PA])
        lowest, highest = ends(flow_at(curve, 25.0).mean)
        held += lowest <= 0.004 * 25.0**0.6 <= highest
    assert held / 2000 == pytest.approx(0.95, abs=0.0195)


def test_that_two_points_give_a_curve_that_admits_no_interval() -> None:
    curve = fit([25.0, 50.0], [50.0, 75.8])
    assert curve.exponent == pytest.approx(log(75.8 / 50.0) / log(2.0), rel=1e-12)
    assert curve.errors is None
    found = flow_at(curve, 25.0)
    assert found.flow == pytest.approx(50.0)
    assert found.log_error is None
    assert {found.mean, found.prediction} == {NoInterval.TWO_POINTS}
    assert exponent_interval(curve) is coefficient_interval(curve) is NoInterval.TWO_POINTS


def test_that_an_interval_too_wide_to_mean_anything_is_not_given() -> None:
    curve = fit([25.0, 26.0, 27.0], [50.0, 80.0, 49.0])
    assert coefficient_interval(curve) is NoInterval.TOO_WIDE
    assert flow_at(curve, 4.0).mean is NoInterval.TOO_WIDE
    assert isinstance(exponent_interval(curve), Interval)


def test_that_flows_all_alike_have_no_r_squared() -> None:
    curve = fit([15.0, 25.0, 50.0], [60.0, 60.0, 60.0])
    assert curve.r_squared is None
    assert curve.exponent == pytest.approx(0.0, abs=1e-15)


def test_that_the_unit_of_the_readings_changes_nothing_that_is_physical() -> None:
    # The same readings in Pa and m3/s, and in inches of water and cfm; pint converts C.
    metric = fit(EIGHT_PA, [flow * CFM for flow in EIGHT_CFM])
    pascals = UNITS.Quantity(EIGHT_PA, "pascal")
    inches = fit(list(pascals.to("inch_of_water_conventional").magnitude), EIGHT_CFM)
    assert inches.exponent == pytest.approx(metric.exponent, rel=1e-12)
    unit = UNITS.inch_of_water_conventional**metric.exponent
    coefficient = inches.coefficient * UNITS("foot ** 3 / minute") / unit
    metric_unit = UNITS("meter ** 3 / second") / UNITS.pascal**metric.exponent
    assert coefficient.to(metric_unit).magnitude == pytest.approx(metric.coefficient, rel=1e-9)
    assert ends(flow_at(inches, 25.0 / 249.08891).mean) == pytest.approx(
        [end / CFM for end in ends(flow_at(metric, 25.0).mean)], rel=1e-9
    )


def test_that_readings_with_a_unit_are_not_taken_for_plain_numbers() -> None:
    with pytest.raises(pint.DimensionalityError):
        fit([pressure * UNITS.pascal for pressure in FIVE_PA], FIVE_CFM)
    with pytest.raises(pint.DimensionalityError):
        fit(FIVE_PA, [flow * UNITS("meter ** 3 / second") for flow in FIVE_CFM])
    with pytest.raises(pint.DimensionalityError):
        flow_at(fit(FIVE_PA, FIVE_CFM), 25.0 * UNITS.pascal)


@given(coefficients, exponents)
def test_that_readings_on_a_power_law_give_that_law_back(
    coefficient: float, exponent: float
) -> None:
    _, curve = noisy(coefficient, exponent, [0.0] * 5)
    assert curve.exponent == pytest.approx(exponent, rel=1e-9)
    assert curve.coefficient == pytest.approx(coefficient, rel=1e-9)
    assert curve.r_squared == pytest.approx(1.0, abs=1e-9)


@given(noise, scales, scales)
def test_that_the_exponent_does_not_feel_the_units(
    shares: list[float], flow_scale: float, pressure_scale: float
) -> None:
    flows, curve = noisy(0.01, 0.6, shares)
    other = fit([p * pressure_scale for p in FIVE_PA], [q * flow_scale for q in flows])
    assert other.exponent == pytest.approx(curve.exponent, rel=1e-9)
    scaled = curve.coefficient * flow_scale / pressure_scale**curve.exponent
    assert other.coefficient == pytest.approx(scaled, rel=1e-8)
    assert flow_at(other, 25.0 * pressure_scale).log_error == pytest.approx(
        flow_at(curve, 25.0).log_error, rel=1e-6, abs=1e-12
    )


@given(noise)
def test_that_depressurizing_is_read_like_pressurizing(shares: list[float]) -> None:
    flows, curve = noisy(0.01, 0.6, shares)
    assert fit([-pressure for pressure in FIVE_PA], flows) == curve


@given(noise, st.permutations(range(5)))
def test_that_the_order_of_the_readings_does_not_matter(
    shares: list[float], order: list[int]
) -> None:
    flows, curve = noisy(0.01, 0.6, shares)
    shuffled = fit([FIVE_PA[place] for place in order], [flows[place] for place in order])
    assert shuffled.exponent == pytest.approx(curve.exponent, rel=1e-9)
    assert shuffled.coefficient == pytest.approx(curve.coefficient, rel=1e-9)


@given(noise, st.floats(1.0, 200.0), st.floats(1.001, 3.0))
def test_that_more_pressure_means_more_flow(
    shares: list[float], pressure: float, more: float
) -> None:
    _, curve = noisy(0.01, 0.6, shares)
    assert flow_at(curve, pressure * more).flow > flow_at(curve, pressure).flow


@given(noise, st.floats(1.0, 200.0))
def test_that_the_flow_lies_in_its_interval_and_that_in_the_wider_one(
    shares: list[float], pressure: float
) -> None:
    _, curve = noisy(0.01, 0.6, shares)
    found = flow_at(curve, pressure)
    if isinstance(found.prediction, Interval):
        lowest, highest = ends(found.mean)
        assert found.prediction.lowest <= lowest <= found.flow <= highest
        assert highest <= found.prediction.highest


@given(st.lists(st.tuples(any_size, any_size), max_size=8))
def test_that_any_readings_give_finite_numbers_or_a_reason(
    readings: list[tuple[float, float]],
) -> None:
    try:
        curve = fit([pressure for pressure, _ in readings], [flow for _, flow in readings])
    except NoCurveError as error:
        assert error.reason in NoCurve
        return
    assert all(isfinite(number) for number in numbers_of(curve))


@given(st.lists(anything, max_size=6), st.lists(anything, max_size=6))
def test_that_nothing_but_a_named_reason_comes_of_nonsense(
    pressures: list[float], flows: list[float]
) -> None:
    try:
        curve = fit(pressures, flows)
    except NoCurveError as error:
        assert error.argument in str(error)
        return
    assert all(isfinite(number) for number in numbers_of(curve))


@pytest.mark.parametrize(
    ("pressures", "flows", "reason", "named"),
    [
        ([], [], NoCurve.TOO_FEW_POINTS, "number of pressures"),
        ([25.0], [50.0], NoCurve.TOO_FEW_POINTS, "number of pressures"),
        ([25.0, 50.0], [50.0], NoCurve.UNEQUAL_COUNTS, "number of flows"),
        ([25.0, 25.0, 25.0], [50.0, 51.0, 52.0], NoCurve.ONE_PRESSURE, "pressures"),
        ([25.0, -50.0], [50.0, 75.0], NoCurve.MIXED_SIGNS, "pressures"),
        ([25.0, 0.0], [50.0, 75.0], NoCurve.NOT_A_SIZE, "pressures[1]"),
        ([25.0, 50.0], [50.0, 0.0], NoCurve.NOT_A_SIZE, "flows[1]"),
        ([25.0, 50.0], [-50.0, 75.0], NoCurve.NOT_A_SIZE, "flows[0]"),
        ([1e308, 50.0], [50.0, 75.0], NoCurve.NOT_A_SIZE, "pressures[0]"),
        ([25.0, 50.0], [50.0, 1e308], NoCurve.NOT_A_SIZE, "flows[1]"),
        ([25.0, float("nan")], [50.0, 75.0], NoCurve.NOT_A_SIZE, "pressures[1]"),
        ([25.0, 25.1], [50.0, 99.0], NoCurve.ABSURD_EXPONENT, "flows"),
        ([25.0, 25.1], [99.0, 50.0], NoCurve.ABSURD_EXPONENT, "flows"),
    ],
)
def test_that_readings_without_a_curve_are_refused_by_name_and_reason(
    pressures: list[float], flows: list[float], reason: NoCurve, named: str
) -> None:
    with pytest.raises(NoCurveError) as caught:
        fit(pressures, flows)
    assert caught.value.reason is reason
    assert caught.value.argument == named


def test_that_an_exponent_beyond_five_is_where_a_curve_ends() -> None:
    pressures = [20.0, 25.0, 30.0]
    assert fit(pressures, [pressure**4.99 for pressure in pressures]).exponent > 4.98
    for exponent in (5.01, -5.01):
        with pytest.raises(NoCurveError, match="lies within -5 to 5") as caught:
            fit(pressures, [pressure**exponent for pressure in pressures])
        assert caught.value.reason is NoCurve.ABSURD_EXPONENT


def test_that_an_even_chance_is_the_least_confidence() -> None:
    assert fit(EIGHT_PA, EIGHT_CFM, 0.5).errors is not None
    with pytest.raises(ValueError, match="confidence"):
        fit(EIGHT_PA, EIGHT_CFM, 0.499)


@pytest.mark.parametrize("confidence", [0.0, 0.3, 1.0, float("nan")])
def test_that_a_confidence_no_interval_has_is_named(confidence: float) -> None:
    with pytest.raises(ValueError, match="confidence"):
        fit(EIGHT_PA, EIGHT_CFM, confidence)


@pytest.mark.parametrize("pressure", [0.0, -25.0, float("nan"), 1e308])
def test_that_a_pressure_without_a_flow_is_named(pressure: float) -> None:
    with pytest.raises(ValueError, match="pressure"):
        flow_at(fit(EIGHT_PA, EIGHT_CFM), pressure)
