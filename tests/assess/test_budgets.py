"""The budget of uncertainty of results, through the whole assessment.

Invented readings. Expected: the `uncertainties` library, a Monte Carlo run, and hand arithmetic.
"""

from __future__ import annotations

import math
import random
from math import sqrt
from statistics import stdev

import numpy as np
import pytest
from multi import (
    EIGHT_FLOWS,
    EIGHT_PRESSURES,
    curve_test,
    flow_readings,
    found_one,
    job_of,
    made_test,
    result_of,
)
from scipy import stats
from typed import FAN, GAUGE, cfm, ft2, pa, readings, typed
from uncertainties import ufloat

from deskapp.assess.evaluate import evaluate
from deskapp.catalog.files import PSEUDO
from deskapp.catalog.pseudo import pseudo
from deskapp.domain.choices import AreaSource, FanFlowMethod, Metric
from deskapp.domain.job import Job
from deskapp.domain.paths import put
from deskapp.domain.result import TestResult
from deskapp.domain.result_parts import BudgetResult, BudgetRow
from deskapp.domain.site import House
from deskapp.i18n import speaking
from deskapp.units.convert import from_unit, to_unit
from deskapp.units.kinds import Kind

ROOT_THREE = sqrt(3.0)


def row_of(budget: BudgetResult | None, row_id: str) -> BudgetRow:
    assert budget is not None
    return next(row for row in budget.rows if row.id == row_id)


def worked_case() -> Job:
    """98 cfm within 5 %, read at 24.2 Pa within 0.25 Pa; 2,000 ft2 within 20 ft2."""
    rows = flow_readings("24.2", "98")
    test = made_test(rows, exponent_uncertainty=typed("0.05", Kind.NUMBER), baseline="0")
    house = House(floor_area=ft2("2,000"), area_source=AreaSource.MEASURED)
    return job_of(test, house=house)


def test_that_a_worked_case_gives_its_parts_and_their_sum() -> None:
    # Source: the `uncertainties` library on the same inputs; parts in percent of the result.
    result = result_of(worked_case())
    budget = result.area_budget
    assert budget is not None
    assert to_unit(budget.value, "cfm/100ft2") == pytest.approx(4.99656, abs=1e-5)
    parts = {row.id: 100 * row.contribution / budget.value for row in budget.rows}
    assert parts["fan_calibration"] == pytest.approx(2.887, abs=1e-3)
    assert parts["duct_pressure"] == pytest.approx(0.358, abs=1e-3)
    assert parts["exponent"] == pytest.approx(0.094, abs=1e-3)
    assert parts["area"] == pytest.approx(0.577, abs=1e-3)
    # Here one reading adds 1 % for not being repeated: a house rule, not in the worked case.
    without = sqrt(sum(part**2 for name, part in parts.items() if name != "repeats"))
    assert without == pytest.approx(2.967, abs=1e-3)
    assert parts["repeats"] == pytest.approx(1.0, abs=1e-9)


def with_library(result: TestResult, rows: dict[str, float]) -> float:
    """Standard uncertainty of three repeats at one pressure by the `uncertainties` library."""
    held = result.mean_induced_pressure or 0.0
    exponent = ufloat(0.6, rows["exponent"])
    pressure = ufloat(held, rows["duct_pressure"]) - ufloat(0.0, rows["baseline"])
    flow_at_held = (result.flow or 0.0) / (25.0 / held) ** 0.6
    signal = ufloat(1.0, rows["fan_signal"]) ** 0.5
    flow = flow_at_held * ufloat(1.0, rows["fan_calibration"]) * signal
    flow = flow + ufloat(0.0, rows["repeats"])
    return (flow * (25.0 / pressure) ** exponent).std_dev


def repeats_job() -> Job:
    test = made_test(
        readings("22.1 21.8 22.0", "30.2 29.5 30.0"),
        ring="medium",
        baseline="0.1",
        baseline_after=pa("0.5"),
    )
    return job_of(test)


def test_that_the_budget_agrees_with_another_library() -> None:
    result = result_of(repeats_job())
    assert result.budget is not None
    signal = row_of(result.budget, "fan_signal")
    rows = {row.id: row.standard_uncertainty for row in result.budget.rows}
    rows["fan_signal"] = signal.standard_uncertainty / signal.value
    assert result.budget.combined == pytest.approx(with_library(result, rows), rel=1e-6)
    assert result.budget.expanded == pytest.approx(2 * result.budget.combined)
    assert result.budget.value == pytest.approx(result.flow)


def test_that_each_input_is_the_one_entered_or_the_stated_default() -> None:
    budget = result_of(repeats_job()).budget
    # By hand: 5 % / sqrt 3; 1 % of 21.7 Pa is below 0.25 Pa; 1 % of 30 Pa; half of 0.4 Pa.
    assert row_of(budget, "fan_calibration").standard_uncertainty == pytest.approx(
        0.05 / ROOT_THREE
    )
    assert row_of(budget, "duct_pressure").standard_uncertainty == pytest.approx(0.25 / ROOT_THREE)
    signal = row_of(budget, "fan_signal")
    assert signal.value == pytest.approx(29.9, abs=0.1)
    assert signal.standard_uncertainty == pytest.approx(0.01 * signal.value / ROOT_THREE)
    assert row_of(budget, "baseline").standard_uncertainty == pytest.approx(0.2 / ROOT_THREE)
    assert row_of(budget, "exponent").standard_uncertainty == pytest.approx(0.05 / ROOT_THREE)
    assert row_of(budget, "fan_calibration").is_assumed
    assert "380" in row_of(budget, "fan_calibration").basis
    assert not row_of(budget, "baseline").is_assumed


def test_that_entered_accuracies_take_the_place_of_the_defaults() -> None:
    job = repeats_job()
    gauge = GAUGE.model_copy(
        update={
            "accuracy_percent": typed("2 %", Kind.FRACTION),
            "accuracy_absolute": pa("0.1"),
        }
    )
    ring = FAN.rings[1].model_copy(update={"accuracy": typed("3 %", Kind.FRACTION)})
    fan = FAN.model_copy(update={"rings": (FAN.rings[0], ring, *FAN.rings[2:])})
    job = job.model_copy(update={"gauges": (gauge,), "fans": (fan,)})
    budget = result_of(job).budget
    held = result_of(job).mean_induced_pressure or 0.0
    assert row_of(budget, "fan_calibration").standard_uncertainty == pytest.approx(
        0.03 / ROOT_THREE
    )
    assert row_of(budget, "duct_pressure").standard_uncertainty == pytest.approx(
        0.02 * held / ROOT_THREE
    )
    assert not row_of(budget, "fan_calibration").is_assumed
    assert not row_of(budget, "duct_pressure").is_assumed


def test_that_a_monte_carlo_run_agrees_with_the_budget() -> None:
    result = result_of(repeats_job())
    budget = result.budget
    assert budget is not None
    chance = random.Random(20261)

    def even(half_width: float) -> float:
        return chance.uniform(-half_width, half_width)

    def scatter(row_id: str) -> float:
        return row_of(budget, row_id).standard_uncertainty

    held = result.mean_induced_pressure or 0.0
    at_held = (result.flow or 0.0) / (25.0 / held) ** 0.6
    signal = row_of(budget, "fan_signal")
    drawn = [
        (
            at_held
            * (1 + even(0.05))
            * (1 + even(scatter("fan_signal") * ROOT_THREE) / signal.value) ** 0.5
            + chance.gauss(0.0, scatter("repeats"))
        )
        * (25.0 / (held + even(0.25) + even(0.2))) ** (0.6 + even(0.05))
        for _run in range(40_000)
    ]
    assert stdev(drawn) == pytest.approx(budget.combined, rel=0.02)


@pytest.mark.parametrize("job", [worked_case(), repeats_job()])
def test_that_the_shares_of_every_budget_sum_to_one(job: Job) -> None:
    job = put(job, "systems.0.fan_flow", cfm("1,200"))
    job = put(job, "systems.0.fan_flow_method", FanFlowMethod.MEASURED)
    job = put(job, "systems.0.duct_surface", ft2("400"))
    result = result_of(job)
    for budget in (
        result.budget,
        result.area_budget,
        result.fan_budget,
        result.surface_budget,
    ):
        assert budget is not None
        assert sum(row.share for row in budget.rows) == pytest.approx(1.0)
        assert budget.combined == pytest.approx(
            sqrt(sum(row.contribution**2 for row in budget.rows))
        )
        assert all(row.label and row.basis for row in budget.rows)


def test_that_the_budget_per_area_is_that_of_the_quotient() -> None:
    # Source: the `uncertainties` library, on the flow and the area of the worked case.
    result = result_of(worked_case())
    area = from_unit(2000.0, "ft2")
    assert result.budget is not None
    flow = ufloat(result.budget.value, result.budget.combined)
    whole = flow / ufloat(area, 0.01 * area / ROOT_THREE)
    assert result.area_budget is not None
    assert result.area_budget.value == pytest.approx(whole.nominal_value, rel=1e-12)
    assert result.area_budget.combined == pytest.approx(whole.std_dev, rel=1e-9)


@pytest.mark.parametrize(
    ("source", "share"),
    [
        (AreaSource.MEASURED, 0.01),
        (AreaSource.PLANS, 0.02),
        (AreaSource.ESTIMATED, 0.10),
        (None, 0.10),
    ],
)
def test_that_the_area_is_as_sure_as_its_source(source: AreaSource | None, share: float) -> None:
    job = put(worked_case(), "house.area_source", source)
    row = row_of(result_of(job).area_budget, "area")
    assert row.standard_uncertainty == pytest.approx(share * row.value / ROOT_THREE)
    job = put(job, "house.area_uncertainty", typed("5 %", Kind.FRACTION))
    row = row_of(result_of(job).area_budget, "area")
    assert row.standard_uncertainty == pytest.approx(0.05 * row.value / ROOT_THREE)
    assert not row.is_assumed


@pytest.mark.parametrize(
    ("method", "share"),
    [
        (FanFlowMethod.MEASURED, 0.07),
        (FanFlowMethod.DESIGN, 0.10),
        (FanFlowMethod.NOMINAL_COOLING, 0.0),
        (None, 0.10),
    ],
)
def test_that_the_fan_flow_is_as_sure_as_its_method(
    method: FanFlowMethod | None, share: float
) -> None:
    job = put(worked_case(), "systems.0.fan_flow", cfm("1,200"))
    job = put(job, "systems.0.fan_flow_method", method)
    row = row_of(result_of(job).fan_budget, "fan_flow")
    assert row.standard_uncertainty == pytest.approx(share * row.value / ROOT_THREE)


@pytest.mark.parametrize(
    ("flows", "share"),
    [
        # Student's quantiles by scipy.stats.t.ppf(0.975, n - 1): 12.706, 4.303, 2.776, 2.262.
        ("99.9 100.1", 12.706 * 0.1 / 2),
        ("99.7 100 100.3", 4.303 * 0.3 / 3**0.5 / 2),
        ("99 99.5 100 100.5 101", 2.776 * 0.790569 / 5**0.5 / 2),
        ("98 98 98 100 100 100 100 102 102 102", 2.262 * 1.632993 / 10**0.5 / 2),
        # Never less sure than one reading alone, 1 % by the house rule ...
        ("99.5 100.5", 1.0),
        # ... unless the readings themselves say so: 5 * 2^0.5 / 2^0.5.
        ("95 105", 5.0),
    ],
)
def test_that_few_repeats_are_widened_by_the_quantile_of_student(flows: str, share: float) -> None:
    pressures = " ".join("25" for _one in flows.split())
    result = result_of(job_of(made_test(flow_readings(pressures, flows))))
    row = row_of(result.budget, "repeats")
    assert 100 * row.contribution / (result.flow or 0) == pytest.approx(share, rel=1e-3)


def test_that_a_curve_brings_its_own_scatter_and_no_exponent() -> None:
    result = result_of(job_of(curve_test(flow_readings(EIGHT_PRESSURES, EIGHT_FLOWS))))
    assert result.curve is not None
    assert result.curve.log_error is not None
    repeats, exponent = row_of(result.budget, "repeats"), row_of(result.budget, "exponent")
    # Twice this is the upper end of the 95 % interval; quantile by scipy, six degrees of freedom.
    widened = math.expm1(stats.t.ppf(0.975, 6) * result.curve.log_error) / 2.0
    assert repeats.contribution == pytest.approx((result.flow or 0) * widened, rel=1e-6)
    assert exponent.contribution == 0.0
    pressure = row_of(result.budget, "duct_pressure")
    # By hand: n * u(P) / P of the flow, with 0.25 Pa at the target of 25 Pa.
    by_hand = 0.60558836 * 0.25 / ROOT_THREE / 25.0 * (result.flow or 0)
    assert pressure.contribution == pytest.approx(by_hand, rel=1e-6)


def test_that_a_curve_of_few_points_claims_no_more_than_its_own_interval() -> None:
    # Three invented points: scipy fits the line and its interval at 25 Pa.
    pressures, flows = "15 25 50", "74 104 150"
    result = result_of(job_of(curve_test(flow_readings(pressures, flows))))
    x, y = (np.log([float(one) for one in text.split()]) for text in (pressures, flows))
    line = stats.linregress(x, y)
    scatter = math.sqrt(((y - line.intercept - line.slope * x) ** 2).sum() / (len(x) - 2))
    off_center = (math.log(25.0) - x.mean()) ** 2 / ((x - x.mean()) ** 2).sum()
    log_half = stats.t.ppf(0.975, 1) * scatter * math.sqrt(1.0 / len(x) + off_center)
    repeats = row_of(result.budget, "repeats")
    assert 2.0 * repeats.contribution == pytest.approx(
        (result.flow or 0) * math.expm1(log_half), rel=1e-6
    )
    assert result.budget is not None
    assert result.curve is not None
    assert result.budget.value + result.budget.expanded >= (result.curve.flow_high or 0)
    assert result.budget.value - result.budget.expanded <= (result.curve.flow_low or 0)


def test_that_an_extrapolated_result_says_what_that_adds() -> None:
    rows = readings("18.4", "70")
    job = job_of(made_test(rows, ring="large", baseline="-0.3"))
    result = result_of(job)
    assert result.extrapolated
    # By hand: 2 * Q * ln(25 / 18.7) * 0.05 / sqrt 3, of 617.4 cfm.
    assert to_unit(result.extrapolation_uncertainty or 0, "cfm") == pytest.approx(10.35, abs=0.01)
    assert "± 10.4" in found_one(job, "extrapolated").allowed.replace("\N{NO-BREAK SPACE}", " ")


def test_that_pressure_left_between_ducts_and_house_widens_a_test_to_outside() -> None:
    total = made_test(flow_readings("25 25", "100 100"), "t1")
    outside = made_test(
        flow_readings("25 25", "60 60"),
        "t2",
        metric=Metric.OUTSIDE,
        house_pressure=pa("25"),
        duct_to_house_pressure=pa("0.5"),
    )
    result = result_of(job_of(total, outside), "t2")
    row = row_of(result.budget, "residual_flow")
    # By hand: 40 cfm leak into the house; (0.5 / 25)^0.6 of it, over sqrt 3.
    by_hand = 40.0 * (0.5 / 25.0) ** 0.6 / ROOT_THREE
    assert to_unit(row.contribution, "cfm") == pytest.approx(by_hand, rel=1e-6)
    # What may flow at most is the whole half-width, of which the budget takes 1 / sqrt 3 (GUM
    # 4.3.7): by hand 40 * (0.5 / 25)^0.6 = 3.826 cfm, 6.4 % of 60 cfm.
    assert result.residual_share == pytest.approx(0.0638, abs=5e-5)
    assert not row.is_assumed
    alone = result_of(job_of(outside), "t2")
    assert row_of(alone.budget, "residual_flow").is_assumed
    assert "residual_flow" not in {one.id for one in result_of(job_of(total)).budget.rows}  # type: ignore[union-attr]


def test_that_a_larger_residual_pressure_never_makes_a_result_surer() -> None:
    def width(pressure: str) -> float:
        test = made_test(
            flow_readings("25 25", "60 60"),
            metric=Metric.OUTSIDE,
            duct_to_house_pressure=pa(pressure),
        )
        budget = result_of(job_of(test)).budget
        assert budget is not None
        return budget.combined

    widths = [width(pressure) for pressure in ("0", "0.2", "0.5", "1", "3")]
    assert widths == sorted(widths)
    assert widths[0] == widths[1]


def test_that_a_baseline_that_was_not_read_widens_the_result() -> None:
    job = repeats_job()
    read_twice = row_of(result_of(job).budget, "baseline")
    once = row_of(result_of(put(job, "tests.0.baseline_after", None)).budget, "baseline")
    none = put(put(job, "tests.0.baseline_after", None), "tests.0.baseline_before", None)
    never = row_of(result_of(none).budget, "baseline")
    assert (once.standard_uncertainty, never.standard_uncertainty) == pytest.approx(
        (0.25 / ROOT_THREE, 1.0 / ROOT_THREE)
    )
    assert read_twice.standard_uncertainty < once.standard_uncertainty
    assert once.is_assumed
    assert never.is_assumed


def test_that_leakage_of_nothing_has_a_budget_without_a_share_of_it() -> None:
    result = result_of(job_of(made_test(flow_readings("25", "0"))))
    assert result.flow == 0.0
    assert result.budget is None or result.budget.relative is None


def test_that_the_same_job_gives_the_same_budget_twice() -> None:
    job = repeats_job()
    assert evaluate(job) == evaluate(job)


def test_that_words_kept_with_a_budget_follow_the_language() -> None:
    english = result_of(repeats_job()).budget
    with speaking(PSEUDO):
        other = result_of(repeats_job()).budget
    assert english is not None
    assert other is not None
    assert [row.label for row in other.rows] == [pseudo(row.label) for row in english.rows]
    assert other.combined == english.combined
