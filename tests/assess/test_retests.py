"""Retests held against the tests they repeat.

Readings are invented. Flows by hand: 24 * sqrt(signal) in cfm at 25 Pa. The uncertainty of the
change: a Monte Carlo run over shared and separate inputs.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

import numpy as np
import pytest
from multi import flow_readings, found_codes, found_one, job_of, made_test
from scipy.stats import t
from typed import pa, readings, typed

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Direction, FlowBasis, Metric, Stage, YesNo
from deskapp.domain.field_spec import Compared
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.repair_result import RetestResult
from deskapp.domain.trial import Ambient
from deskapp.units.convert import to_unit
from deskapp.units.kinds import Kind

ALIKE = {"ring": "medium", "gauge": "g1", "fan": "f1", "tap_location": "Supply plenum"}


def pair(now: str = "49 49 49", **changed: Any) -> Job:
    """192 cfm before, 168 cfm after unless told otherwise; `changed` is set-up of the retest."""
    pressures = changed.pop("pressures", "25 25 25")
    first = made_test(readings("25 25 25", "63 64 65"), "t1", **ALIKE)
    again = made_test(readings(pressures, now), "t2", **{**ALIKE, **changed})
    return job_of(first, again.model_copy(update={"retest_of": "t1"}))


def held(job: Job) -> RetestResult:
    found = evaluate(job).retest("t2")
    assert found is not None
    return found


def test_that_a_retest_stands_beside_the_test_it_repeats() -> None:
    # By hand: 24 * (sqrt(63) + 8 + sqrt(65)) / 3 = 191.995 cfm; 24 * 7 = 168 cfm.
    one = held(pair())
    assert (one.test, one.retest_of) == ("t2", "t1")
    assert to_unit(one.before, "cfm") == pytest.approx(191.995, abs=0.005)
    assert to_unit(one.now, "cfm") == pytest.approx(168.0, abs=0.005)
    assert to_unit(one.reduction, "cfm") == pytest.approx(23.995, abs=0.005)
    assert one.share == pytest.approx(23.995 / 191.995, abs=1e-5)
    assert one.told_apart
    assert one.is_comparable
    assert one.differences == ()
    assert [test.flow is not None for test in evaluate(pair()).tests] == [True, True]


@pytest.mark.parametrize("same_ring", [True, False])
def test_that_the_uncertainty_of_a_change_is_that_of_a_monte_carlo_run(
    same_ring: bool,
) -> None:
    random = np.random.default_rng(20260411)
    draws = 400_000

    def rectangular(half_width: float) -> Any:
        return random.uniform(-half_width, half_width, draws)

    fan, signal, pressure = rectangular(0.05), rectangular(0.01), rectangular(0.25)
    other_fan = fan if same_ring else rectangular(0.05)
    other_signal = signal if same_ring else rectangular(0.01)

    def flow(mean: float, fan: Any, signal: Any, scatter: float) -> Any:
        own = random.normal(0.0, scatter, draws)
        carried = (25.0 / (25.0 + pressure)) ** 0.6
        return mean * (1.0 + fan) * (1.0 + signal) ** 0.5 * carried + own

    # By hand: standard error of the mean of 24 * sqrt(63, 64, 65) cfm, widened as there are three:
    # Student's quantile by scipy over the coverage factor.
    first = [24.0 * sqrt(one) for one in (63.0, 64.0, 65.0)]
    error = float(np.std(first, ddof=1)) / sqrt(3.0) * float(t.ppf(0.975, 2)) / 2.0
    before = flow(float(np.mean(first)), fan, signal, error)
    mean_now = 168.0 if same_ring else 9.5 * 15.0
    now = flow(mean_now, other_fan, other_signal, 0.0)
    job = pair() if same_ring else pair("225 225 225", ring="small")
    one = held(job)
    assert to_unit(one.uncertainty, "cfm") == pytest.approx(2.0 * np.std(before - now), rel=0.01)
    assert one.share_uncertainty == pytest.approx(2.0 * np.std(1.0 - now / before), rel=0.02)


def test_that_a_change_within_its_uncertainty_is_told() -> None:
    job = pair("63.9 64 64.1")
    assert not held(job).told_apart
    assert found_one(job, "retest_no_change").level is Level.NOTE


@pytest.mark.parametrize(
    ("changed", "path"),
    [
        ({"direction": Direction.DEPRESSURIZE, "pressures": "-25 -25 -25"}, "direction"),
        ({"tap_location": "Far register"}, "tap_location"),
        ({"filter_removed": YesNo.YES}, "filter_removed"),
        ({"metric": Metric.OUTSIDE, "house_pressure": pa("25")}, "metric"),
        ({"target_pressure": pa("50")}, "target_pressure"),
        ({"stage": Stage.FINAL}, "stage"),
    ],
)
def test_that_a_set_up_that_measures_something_else_is_told(
    changed: dict[str, Any], path: str
) -> None:
    job = pair(**changed)
    finding = found_one(job, "retest_differs")
    assert finding.level is Level.CHECK
    assert finding.path == f"tests.1.setup.{path}"
    found = evaluate(job).retest("t2")
    assert found is None or not found.is_comparable


def test_that_the_repair_itself_is_no_other_set_up() -> None:
    job = pair(stage=Stage.AFTER_REPAIR)
    first = job.tests[0]
    setup = first.setup.model_copy(update={"stage": Stage.BEFORE_REPAIR})
    tests = (first.model_copy(update={"setup": setup}), job.tests[1])
    job = job.model_copy(update={"tests": tests})
    assert "retest_differs" not in found_codes(job)
    assert held(job).is_comparable


def test_that_results_of_unlike_measurements_are_not_subtracted() -> None:
    assert evaluate(pair(metric=Metric.OUTSIDE)).retests == ()
    assert evaluate(pair(target_pressure=pa("50"))).retests == ()


def test_that_another_ring_is_a_note_and_leaves_the_tests_comparable() -> None:
    job = pair("225 225 225", ring="small")
    assert found_one(job, "retest_shares_less").path == "tests.1.setup.ring"
    assert "retest_differs" not in found_codes(job)
    assert held(job).is_comparable
    assert set(held(job).in_common) == {"duct_pressure"}


def test_that_instruments_nobody_named_cancel_nothing() -> None:
    # Two gauges and two fans in the job, none of them chosen: each test may have had its own, and
    # independent errors add up in squares (ISO/IEC Guide 98-3:2008, 5.1.2; from memory). By hand
    # for the fan alone: 2 * 0.05 / sqrt 3 * sqrt(191.995^2 + 168^2) = 14.73 cfm.
    rows = (flow_readings("25 25 25", "191 192 193"), flow_readings("25 25 25", "168 168 168"))
    first, again = (made_test(one, key) for one, key in zip(rows, ("t1", "t2"), strict=True))
    job = job_of(first, again.model_copy(update={"retest_of": "t1"}))
    alone = held(job)
    assert alone.in_common == ("duct_pressure",), "one gauge; a fan with four rings, none named"
    other = {
        "gauges": (*job.gauges, job.gauges[0].model_copy(update={"key": "g2"})),
        "fans": (*job.fans, job.fans[0].model_copy(update={"key": "f2"})),
    }
    unknown = held(job.model_copy(update=other))
    assert unknown.in_common == ()
    more = "and a little for pressure and scatter"
    assert 14.73 < to_unit(unknown.uncertainty, "cfm") < 15.1, more


def test_that_writing_makes_no_difference() -> None:
    assert "retest_differs" not in found_codes(pair(tap_location=" supply  PLENUM. "))


def test_that_a_test_can_only_repeat_an_earlier_one() -> None:
    job = pair()
    first, again = job.tests
    for broken in ("t2", "t9"):
        tests = (first, again.model_copy(update={"retest_of": broken}))
        assert evaluate(job.model_copy(update={"tests": tests})).retests == ()


def test_that_the_field_table_says_what_a_retest_has_to_repeat() -> None:
    # Common practice, no source: same tap, direction, target, opening; ring and gauge if possible.
    breaks = {one.path for one in FIELDS if one.compared is Compared.BREAKS}
    wanted = ("metric", "direction", "target_pressure", "fan_attachment", "tap_location")
    assert {f"tests.*.setup.{name}" for name in wanted} <= breaks
    less = {one.path for one in FIELDS if one.compared is Compared.LESS_IN_COMMON}
    assert {f"tests.*.setup.{name}" for name in ("ring", "fan", "gauge")} <= less


def test_that_density_corrected_in_one_test_only_is_told_as_another_set_up() -> None:
    alike = pair(flow_basis=FlowBasis.ACTUAL_AIR)
    first, again = alike.tests
    air = Ambient(
        indoor_temperature=typed("90 °F", Kind.TEMPERATURE),
        barometer=typed("25 in. Hg", Kind.PRESSURE),
    )
    first = first.model_copy(update={"ambient": air, "setup": again.setup})
    one_only = alike.model_copy(update={"tests": (first, again)})
    assert [one.path for one in held(one_only).differences] == [
        "tests.1.ambient.indoor_temperature"
    ]
    told = [one.what for one in evaluate(one_only).findings if one.code == "retest_differs"]
    assert told == [
        "Test 2, “Air density”: not corrected, as the air was not read, "
        "but corrected in the test it repeats."
    ]
    both = alike.model_copy(update={"tests": (first, again.model_copy(update={"ambient": air}))})
    assert held(both).differences == ()
