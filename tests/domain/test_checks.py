"""Checks of a job that need no physics. Each message names field, what was typed, and the mend."""

from __future__ import annotations

from datetime import date

import pytest

from deskapp.domain.checks import check, missing, value_as_typed
from deskapp.domain.choices import AreaSource, YesNo
from deskapp.domain.fields import FIELDS, field_at, label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.job import Compliance, Job
from deskapp.domain.leak import Leak
from deskapp.domain.measured import Day, Measured
from deskapp.domain.paths import expand
from deskapp.domain.people import Tester
from deskapp.domain.screening import Register
from deskapp.domain.site import House, Site
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import SIMULATED, Ambient, LeakageTest, Reading, SetUp
from deskapp.units.convert import from_unit


def area(value: float) -> Measured:
    return Measured(si=from_unit(value, "ft2"), unit="ft2", typed=f"{value} ft2")


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


def one(job: Job, code: str) -> Finding:
    found = [finding for finding in check(job) if finding.code == code]
    assert len(found) == 1, [finding.code for finding in check(job)]
    return found[0]


def codes(job: Job) -> set[str]:
    return {finding.code for finding in check(job)}


def house_of(total: float, *served: float) -> Job:
    return Job(
        house=House(floor_area=area(total), area_source=AreaSource.MEASURED),
        systems=tuple(
            DuctSystem(key=f"s{n}", area_served=area(value)) for n, value in enumerate(served)
        ),
    )


def test_that_every_field_exists_in_the_job() -> None:
    sample = Job(
        systems=(DuctSystem(key="s1"),),
        gauges=(Gauge(key="g1"),),
        fans=(Fan(key="f1"),),
        tests=(LeakageTest(key="t1"),),
        registers=(Register(key="p1"),),
    )
    for spec in FIELDS:
        list(expand(sample, spec.path))
    assert len({spec.path for spec in FIELDS}) == len(FIELDS)


def test_that_text_that_could_not_be_read_is_a_stop_that_repeats_it() -> None:
    finding = one(Job(house=House(floor_area=Measured(si=None, typed="many"))), "unread")
    assert finding.level is Level.STOP
    assert "Conditioned floor area" in finding.text
    assert "many" in finding.text
    assert "an area" in finding.text or "a area" in finding.text


def test_that_a_negative_area_is_a_stop_with_the_allowed_range() -> None:
    finding = one(Job(house=House(floor_area=area(-2640))), "range")
    assert finding.level is Level.STOP
    assert "2,640" in finding.what
    assert "1,000,000" in finding.allowed
    assert finding.mend


def test_that_a_huge_area_is_only_a_second_look() -> None:
    assert one(Job(house=House(floor_area=area(30_000))), "unusual").level is Level.CHECK


@pytest.mark.parametrize(
    ("served", "complains"),
    [((1520, 1120), False), ((1400, 1120), False), ((1300, 1120), True), ((1700, 1120), True)],
)
def test_that_system_areas_must_sum_to_the_house_within_5_percent(
    served: tuple[float, float], complains: bool
) -> None:
    assert ("area_sum" in codes(house_of(2640, *served))) is complains


def test_that_a_system_larger_than_the_house_is_a_stop() -> None:
    assert one(house_of(2640, 2900), "area_above_house").level is Level.STOP


def dated(on: str, **others: object) -> Job:
    return Job(
        gauges=(Gauge(key="g1", due_on=day("2026-04-30")),),
        fans=(Fan(key="f1", due_on=day("2026-12-31")),),
        tests=(LeakageTest(key="t1", tested_on=day(on), setup=SetUp()),),
        **others,  # type: ignore[arg-type]
    )


def test_that_a_calibration_out_of_date_on_the_test_day_is_a_stop() -> None:
    finding = one(dated("2026-05-20"), "calibration_overdue")
    assert finding.level is Level.STOP
    assert finding.path == "gauges.0.due_on"
    assert "Apr\N{NO-BREAK SPACE}30, 2026" in finding.what
    assert "calibration_overdue" not in codes(dated("2026-04-30"))


def test_that_an_overdue_calibration_can_be_reported_with_a_reason() -> None:
    job = dated("2026-05-20", compliance=Compliance(calibration_override="Lab backlog"))
    finding = one(job, "calibration_overdue_overridden")
    assert finding.level is Level.CHECK
    assert "Lab backlog" in finding.text


def test_that_a_test_before_the_permit_date_is_remarked() -> None:
    assert "test_before_permit" in codes(
        dated("2026-03-11", site=Site(permit_date=day("2026-03-12")))
    )
    assert "test_before_permit" not in codes(
        dated("2026-03-12", site=Site(permit_date=day("2026-03-12")))
    )


def test_that_a_permit_much_older_than_the_test_is_remarked() -> None:
    """Permits lapse within months or a few years (common practice, no source)."""
    old = dated("2026-03-11", site=Site(permit_date=day("2016-01-20")))
    assert "permit_old" in codes(old)
    assert "permit_old" not in codes(dated("2026-03-11", site=Site(permit_date=day("2022-01-20"))))


def test_that_expired_certification_and_early_signature_are_remarked() -> None:
    tester = Tester(certification_expires=day("2026-03-10"), signed_on=day("2026-03-10"))
    assert {"certification_expired", "signed_before_test"} <= codes(
        dated("2026-03-11", tester=tester)
    )


def test_that_a_test_cannot_end_before_it_starts() -> None:
    job = Job(tests=(LeakageTest(key="t", start_time="10:25", end_time="08:40"),))
    assert "end_before_start" in codes(job)


def test_that_a_time_that_is_none_must_be_mended_like_any_other_text_that_cannot_be_read() -> None:
    job = Job(tests=(LeakageTest(key="t", start_time="25:99"),))
    assert one(job, "unread").level is Level.STOP


def test_that_an_exemption_needs_a_reason() -> None:
    assert "exemption_reason" in codes(Job(compliance=Compliance(exemption_claimed=YesNo.YES)))


def test_that_needed_fields_are_listed_until_filled() -> None:
    assert "site.permit_number" in missing(Job())
    assert "site.permit_number" not in missing(Job(site=Site(permit_number="PRM-1")))
    assert "site.address" not in missing(Job(site=Site(lot="Lot 14")))


def test_that_labels_name_the_row() -> None:
    assert label_of("tests.0.readings.2.fan_signal") == "Fan signal (test 1, reading 3)"
    assert field_at("systems.7.area_served").needed


def test_that_unlikely_flow_and_area_per_ton_are_remarked() -> None:
    ton = from_unit(3, "ton")
    system = DuctSystem(
        key="s",
        cooling_capacity=Measured(si=ton, unit="ton", typed="3 tons"),
        fan_flow=Measured(si=from_unit(2000, "cfm"), unit="cfm", typed="2000 cfm"),
        area_served=area(5000),
    )
    assert {"flow_per_ton", "area_per_ton"} <= codes(Job(systems=(system,)))


@pytest.mark.parametrize("unit", ["furlong", "cfm", "degF"])
def test_that_a_record_with_a_unit_of_another_kind_is_refused(unit: str) -> None:
    house = {"floor_area": {"si": 1.0, "unit": unit, "typed": "1"}}
    with pytest.raises(ValueError, match=unit):
        Job.model_validate({"house": house})


def test_that_a_zero_below_a_tiny_lowest_value_is_out_of_range() -> None:
    zero = Measured(si=0.0, unit="cfm", typed="0 cfm")
    finding = one(Job(fans=(Fan(key="f1", rings=(Ring(key="r1", coefficient=zero),)),)), "range")
    assert finding.path == "fans.0.rings.0.coefficient"
    assert "is 0 cfm." in finding.what.replace("\N{NO-BREAK SPACE}", " ")
    assert finding.allowed.startswith("Allowed: 0.000001 to ")


@pytest.mark.parametrize(
    ("value", "unit", "told"),
    [
        (25.0, "psi", "25 psi"),
        (0.0371, "psi", "0.0371 psi"),
        (1500.25, "inH2O", "1,500.25 in. w.c."),
    ],
)
def test_that_a_message_repeats_a_number_with_the_digits_it_was_typed_with(
    value: float, unit: str, told: str
) -> None:
    typed = Measured(si=from_unit(value, unit), unit=unit, typed=f"{value}")
    assert (
        value_as_typed(typed, field_at("tests.0.readings.0.duct_pressure")).replace("\xa0", " ")
        == told
    )


def test_that_the_edges_of_a_range_carry_no_zeros_that_say_nothing() -> None:
    far = Measured(si=from_unit(9, "percent"), unit="percent", typed="9 %")
    finding = one(Job(gauges=(Gauge(key="g", accuracy_percent=far),)), "unusual")
    assert finding.allowed.replace("\xa0", " ").replace(" %", "%") == "Usual: 0.1 to 3%."


def test_that_the_ends_of_a_range_belong_to_it_in_every_unit() -> None:
    for value, unit in ((100.0, "percent"), (1.0, "fraction")):
        humid = Measured(si=from_unit(value, unit), unit=unit, typed=f"{value}")
        test = LeakageTest(key="t1", ambient=Ambient(humidity=humid))
        assert "range" not in codes(Job(tests=(test,)))


def test_that_a_reading_simulated_for_training_can_never_be_reported() -> None:
    reading = Reading(note=f"{SIMULATED}; 30 s, steady")
    finding = one(Job(tests=(LeakageTest(key="t", readings=(reading,)),)), "simulated")
    assert finding.level is Level.STOP
    assert finding.path == "tests.0.readings.0.duct_pressure"
    real = Reading(note="30 s, steady")
    assert "simulated" not in codes(Job(tests=(LeakageTest(key="t", readings=(real,)),)))


def test_that_an_empty_leak_row_is_no_leak() -> None:
    blank, real = Leak(key="l1", system="s1"), Leak(key="l2", place="boot in the hall")
    assert Job(leaks=(blank, real)).leaks_found == (real,)
