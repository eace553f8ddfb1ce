"""A test of the house itself with the fan in a door panel. Readings are invented.

Figures of ISO 9972:2015 and ASTM E779 are from memory or secondary sources. Expected numbers:
hand arithmetic and scipy.
"""

from __future__ import annotations

import math

import pytest
from multi import curve_test, flow_readings, found_codes, found_one, job_of, made_test, result_of
from scipy.stats import linregress
from typed import ft2, pa, typed

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Direction, FlowBasis, Metric
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.paths import put
from deskapp.domain.result import Verdict
from deskapp.domain.result_parts import EnvelopeResult
from deskapp.domain.site import House
from deskapp.domain.trial import Ambient
from deskapp.units.convert import from_unit, to_unit
from deskapp.units.kinds import Kind

PRESSURES = "10 20 30 40 50 60"
FLOWS = "110 172 224 270 312 351"
HOUSE = House(
    floor_area=ft2("1,000"),
    volume=typed("8,000 ft3", Kind.VOLUME),
    envelope_area=ft2("3,200"),
    height=typed("9 ft", Kind.LENGTH),
)


def house_job(direction: Direction = Direction.DEPRESSURIZE, **other: object) -> Job:
    sign = "-" if direction is Direction.DEPRESSURIZE else ""
    rows = flow_readings(" ".join(sign + p for p in PRESSURES.split()), FLOWS)
    facts = {"metric": Metric.ENVELOPE, "system": "", "target_pressure": pa("50"), **other}
    return job_of(curve_test(rows, direction=direction, **facts), house=HOUSE)


def tightness(job: Job) -> EnvelopeResult:
    found = result_of(job).envelope
    assert found is not None
    return found


def by_hand() -> tuple[float, float]:
    """Exponent and coefficient, in m3/s, of the readings by scipy."""
    x = [math.log(float(p)) for p in PRESSURES.split()]
    y = [math.log(from_unit(float(q), "cfm")) for q in FLOWS.split()]
    fit = linregress(x, y)
    return float(fit.slope), math.exp(float(fit.intercept))


def test_that_flow_air_changes_and_areas_follow_from_the_curve() -> None:
    n, c = by_hand()
    found = tightness(house_job())
    flow = c * 50**n
    assert found.flow_50 == pytest.approx(flow)
    assert found.exponent == pytest.approx(n)
    assert found.coefficient == pytest.approx(c)
    assert found.air_changes_50 == pytest.approx(3600 * flow / from_unit(8000, "ft3"))
    assert found.per_floor_area == pytest.approx(flow / from_unit(1000, "ft2"))
    assert found.per_envelope_area == pytest.approx(flow / from_unit(3200, "ft2"))
    # Orifice equation by hand: A = Q sqrt(rho / (2 dP)) / Cd at 1.2041 kg/m3.
    ela = c * 4**n * math.sqrt(1.2041 / 8)
    eqla = c * 10**n * math.sqrt(1.2041 / 20) / (math.pi / (math.pi + 2))
    assert found.leakage_area_4 == pytest.approx(ela)
    assert found.leakage_area_10 == pytest.approx(eqla, rel=1e-3)
    assert found.flow_50_low is not None
    assert found.flow_50_high is not None
    assert found.flow_50_low < flow < found.flow_50_high
    assert found.has_curve
    assert not found.is_standard


def test_that_a_tight_house_reads_about_two_air_changes() -> None:
    # By hand: 312 cfm * 60 / 8000 ft3 = 2.34.
    assert tightness(house_job()).air_changes_50 == pytest.approx(2.34, abs=0.01)


def test_that_it_belongs_to_no_system_and_is_judged_by_no_duct_limit() -> None:
    assessment = evaluate(house_job(system="s1"))
    assert assessment.systems[0].test == ""
    assert assessment.systems[0].outcomes == ()
    assert assessment.verdict is Verdict.NONE
    assert assessment.house.flow is None


def test_that_the_air_at_the_fan_is_carried_to_the_air_through_the_envelope() -> None:
    warm, cold = typed("20 °C", Kind.TEMPERATURE), typed("0 °C", Kind.TEMPERATURE)
    air = Ambient(indoor_temperature=warm, outdoor_temperature=cold)
    job = house_job(flow_basis=FlowBasis.ACTUAL_AIR, ambient=air)
    n, c = by_hand()
    found = tightness(job)
    assert found.is_standard
    # By hand: the fan sees 20 °C, calibrated so: factor 1; mass carries it to 0 °C by
    # 273.15 / 293.15; then (rho(0 °C) / 1.2041)^(1 - n) to standard air.
    passing = 1.2041 * 293.15 / 273.15
    by_steps = c * 50**n * (273.15 / 293.15) * (passing / 1.2041) ** (1 - n)
    assert found.flow_50 == pytest.approx(by_steps, rel=1e-4)
    assert result_of(job).flow == pytest.approx(by_steps, rel=1e-4)
    blown_in = house_job(Direction.PRESSURIZE, flow_basis=FlowBasis.ACTUAL_AIR, ambient=air)
    # The fan sees 0 °C; the envelope passes 20 °C.
    at_fan = math.sqrt(1.2041 / passing)
    by_steps = c * 50**n * at_fan * (293.15 / 273.15)
    assert tightness(blown_in).flow_50 == pytest.approx(by_steps, rel=1e-4)


def test_that_both_directions_are_averaged() -> None:
    minus = " ".join(f"-{p}" for p in PRESSURES.split())
    doubled = " ".join(str(1.1 * float(q)) for q in FLOWS.split())
    rows = flow_readings(f"{PRESSURES} {minus}", f"{FLOWS} {doubled}")
    test = curve_test(
        rows, metric=Metric.ENVELOPE, system="", target_pressure=pa("50"), direction=Direction.BOTH
    )
    found = tightness(job_of(test, house=HOUSE))
    assert found.flow_50 == pytest.approx(1.05 * tightness(house_job()).flow_50)
    assert found.coefficient is None


def test_that_the_figures_at_fifty_hold_for_another_target_too() -> None:
    found = tightness(house_job(target_pressure=pa("25")))
    assert found.flow_50 == pytest.approx(tightness(house_job()).flow_50)
    assert found.flow_50_low == pytest.approx(tightness(house_job()).flow_50_low)


def test_that_one_pressure_takes_an_exponent_and_says_so() -> None:
    test = made_test(
        flow_readings("-48 -50 -52", "300 308 316"),
        metric=Metric.ENVELOPE,
        system="",
        target_pressure=pa("50"),
        direction=Direction.DEPRESSURIZE,
    )
    job = job_of(test, house=HOUSE)
    found = tightness(job)
    assert found.exponent == 0.65
    assert not found.has_curve
    assert found.flow_50 == pytest.approx(result_of(job).flow)
    assert found_one(job, "house_one_pressure").level is Level.NOTE


def test_that_without_a_volume_there_are_no_air_changes_and_that_is_told() -> None:
    job = put(house_job(), "house.volume", None)
    assert tightness(job).air_changes_50 is None
    assert found_one(job, "house_volume_missing").path == "house.volume"


@pytest.mark.parametrize(
    ("pressures", "code"),
    [
        ("-8 -20 -30 -40 -50 -60", "house_lowest_pressure"),
        ("-10 -20 -30 -40 -45 -48", "house_pressure_reached"),
        ("-10 -20 -30 -40 -60 -75", "house_highest_pressure"),
        ("-10 -30 -35 -40 -50 -60", "house_largest_step"),
    ],
)
def test_that_what_the_standards_ask_of_pressures_is_told(pressures: str, code: str) -> None:
    rows = flow_readings(pressures, FLOWS)
    job = put(house_job(), "tests.0.readings", rows)
    finding = found_one(job, code)
    assert finding.level is Level.CHECK
    assert "ISO 9972" in finding.what or "E779" in finding.what
    assert result_of(job).flow is not None


def test_that_wind_cold_and_baseline_are_told() -> None:
    air = Ambient(
        indoor_temperature=typed("70 °F", Kind.TEMPERATURE),
        outdoor_temperature=typed("-30 °F", Kind.TEMPERATURE),
        wind=typed("20 mph", Kind.SPEED),
    )
    job = house_job(ambient=air, baseline="-6")
    job = put(job, "house.height", typed("30 ft", Kind.LENGTH))
    codes = found_codes(job)
    assert {
        "house_largest_wind_speed",
        "house_largest_height_times_difference",
        "house_largest_baseline",
    } <= codes


def test_that_an_exponent_no_opening_has_voids_the_test() -> None:
    flows = " ".join(str(round(300 * (float(p) / 50) ** 0.46, 1)) for p in PRESSURES.split())
    rows = flow_readings(" ".join(f"-{p}" for p in PRESSURES.split()), flows)
    job = put(house_job(), "tests.0.readings", rows)
    assert "curve_exponent_low" in found_codes(job, Level.STOP)
    assert result_of(job).flow is None


def test_that_air_changes_typed_otherwise_are_told() -> None:
    job = put(house_job(), "house.air_changes_50", typed("3.0", Kind.NUMBER))
    assert "2.34" in found_one(job, "air_changes_differ").what
    same = put(house_job(), "house.air_changes_50", typed("2.4", Kind.NUMBER))
    assert "air_changes_differ" not in found_codes(same)


def test_that_the_house_is_told_in_its_steps() -> None:
    labels = [step.label for step in result_of(house_job()).steps]
    assert any("Air changes per hour" in label for label in labels)
    assert to_unit(tightness(house_job()).leakage_area_4 or 0, "in2") > 0
