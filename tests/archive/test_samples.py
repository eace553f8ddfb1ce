"""The sample jobs: invented people, places and readings; the arithmetic was done by hand.

Each expected figure below was worked out apart from the program, with ring flow K * sqrt(signal)
and conversion (target / induced) ** 0.60 (0.65 for duct sections). Invented data.
"""

from __future__ import annotations

import math
import re
import runpy
from pathlib import Path
from statistics import fmean

import pytest

from deskapp.archive import job_file
from deskapp.archive.envelope import text_of
from deskapp.assess.evaluate import evaluate
from deskapp.domain.checks import missing
from deskapp.domain.choices import YesNo
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.result import Assessment, LimitOutcome, Verdict
from deskapp.domain.walk import entries
from deskapp.units.convert import kind_of, to_unit
from deskapp.units.entry import Quantity, parse
from deskapp.units.numbers import NumberStyle

BUILDER = runpy.run_path(str(Path(__file__).with_name("build_samples.py")))
SAMPLES = Path(__file__).parents[2] / "resources" / "sample_jobs"
IDS = ("clinic", "crossover", "larkspur", "maple")
LARGEST_PICTURE = 150_000


def opened(sample_id: str) -> job_file.JobFile:
    return job_file.read(SAMPLES / sample_id)


def assessed(sample_id: str) -> Assessment:
    return evaluate(opened(sample_id).job)


def cfm(assessment: Assessment, test: str) -> float:
    result = assessment.test(test)
    assert result is not None
    assert result.flow is not None
    return to_unit(result.flow, "cfm")


def only_outcome(assessment: Assessment, system: str = "s1") -> LimitOutcome:
    result = assessment.of_system(system)
    assert result is not None
    [outcome] = result.outcomes
    return outcome


def up_to(job: Job, tests: int) -> Assessment:
    """Return the assessment as it stood when only the first tests had been made."""
    return evaluate(job.model_copy(update={"tests": job.tests[:tests]}))


def test_that_the_shipped_samples_are_the_four_built_here() -> None:
    shipped = sorted(path.name for path in SAMPLES.iterdir() if path.is_dir())
    assert tuple(shipped) == IDS == tuple(BUILDER["sample_ids"]())


@pytest.mark.parametrize("sample_id", IDS)
def test_that_a_shipped_sample_is_what_its_typed_entries_make(sample_id: str) -> None:
    stored = (SAMPLES / sample_id / "job.json").read_bytes()
    hint = "run tests/archive/build_samples.py after changing entries or limits"
    assert stored == text_of(BUILDER["built"](sample_id)), hint


@pytest.mark.parametrize("sample_id", IDS)
def test_that_a_sample_opens_whole_and_lacks_no_needed_field(sample_id: str) -> None:
    found = opened(sample_id)
    assert found.notices == ()
    assert set(found.photos) == found.job.photo_digests
    assert missing(found.job) == ()


@pytest.mark.parametrize("sample_id", IDS)
def test_that_value_unit_and_typed_text_of_every_quantity_agree(sample_id: str) -> None:
    for path, value in entries(opened(sample_id).job):
        if isinstance(value, Day):
            assert value.value is not None, path
            assert value.typed == value.value.isoformat(), path
        elif isinstance(value, Measured):
            again = parse(value.typed, kind_of(value.unit), value.unit, NumberStyle.POINT)
            assert isinstance(again, Quantity), path
            assert (again.si, again.unit) == (value.si, value.unit), path


def test_that_a_pass_of_the_house_does_not_hide_a_system_that_fails() -> None:
    job = opened("larkspur").job
    first = up_to(job, 2)
    assert [round(cfm(first, key), 1) for key in ("t1", "t2")] == [54.2, 39.0]
    assert [system.verdict for system in first.systems] == [Verdict.PASS, Verdict.FAIL]
    assert first.verdict is Verdict.FAIL
    assert first.house.flow is not None
    assert to_unit(first.house.flow, "cfm") == pytest.approx(93.1, abs=0.05)
    assert first.house.would_hide
    assert only_outcome(first, "s1").limit_value == pytest.approx(60.8, abs=1e-9)
    assert only_outcome(first, "s2").limit_value == pytest.approx(33.6, abs=1e-9)


def test_that_the_retest_after_sealing_passes_and_the_first_run_stays() -> None:
    after = assessed("larkspur")
    assert cfm(after, "t3") == pytest.approx(29.7, abs=0.05)
    assert cfm(after, "t2") == pytest.approx(39.0, abs=0.05)
    assert after.verdict is Verdict.PASS
    second = after.of_system("s2")
    assert second is not None
    assert (second.test, second.earlier) == ("t3", ("t2",))
    assert not after.house.would_hide


def test_that_the_mean_of_the_first_sample_is_the_mean_worked_out_by_hand() -> None:
    induced, signals = (25.0, 24.7, 24.9), (32.4, 31.9, 32.6)
    by_hand = fmean(
        9.5 * math.sqrt(signal) * (25 / held) ** 0.6
        for held, signal in zip(induced, signals, strict=True)
    )
    assert cfm(assessed("larkspur"), "t1") == pytest.approx(by_hand, rel=1e-9)
    assert by_hand == pytest.approx(54.2, abs=0.05)


def test_that_an_air_handler_wrongly_ticked_would_turn_the_failing_run_into_a_pass() -> None:
    job = opened("larkspur").job
    ticked = job.systems[1].model_copy(update={"air_handler_installed": YesNo.YES})
    wrong = up_to(job.model_copy(update={"systems": (job.systems[0], ticked)}), 2)
    assert only_outcome(wrong, "s2").limit_value == pytest.approx(44.8, abs=1e-9)
    assert wrong.verdict is Verdict.PASS


def test_that_the_retrofit_is_extrapolated_before_and_passes_both_ways_after() -> None:
    after = assessed("maple")
    before = after.test("t1")
    assert before is not None
    assert before.extrapolated
    assert cfm(after, "t1") == pytest.approx(617.4, abs=0.1)
    assert before.flow_low is not None
    assert before.flow_high is not None
    assert round(to_unit(before.flow_low, "cfm")) == 600
    assert round(to_unit(before.flow_high, "cfm")) == 636
    assert cfm(after, "t2") == pytest.approx(167.9, abs=0.05)
    assert after.verdict is Verdict.PASS
    lines = " ".join(only_outcome(after).lines)
    assert "180.0 cfm" in lines
    assert "72.8%" in lines


def test_that_before_the_repair_the_retrofit_has_no_verdict_yet() -> None:
    first = up_to(opened("maple").job, 1)
    assert first.verdict is Verdict.NONE
    assert "earlier test" in first.systems[0].reason


def test_that_the_share_of_fan_flow_falls_as_worked_out_by_hand() -> None:
    after = assessed("maple")
    shares = [result.fan_fraction for result in after.tests]
    assert [round(100 * share, 1) for share in shares if share] == [51.5, 14.0]
    per_area = [to_unit(result.flow_per_area or 0, "cfm/100ft2") for result in after.tests]
    assert per_area == pytest.approx([33.2, 9.03], abs=0.01)


def test_that_the_hole_equivalent_of_the_retrofit_shrinks_as_worked_out_by_hand() -> None:
    holes = [to_unit(result.hole_area or 0, "in2") for result in assessed("maple").tests]
    assert [round(hole) for hole in holes] == [117, 32]


def test_that_the_manufactured_home_is_judged_at_fifty_pascal() -> None:
    after = assessed("crossover")
    assert cfm(after, "t1") == pytest.approx(312.0, abs=0.05)
    assert cfm(after, "t2") == pytest.approx(121.3, abs=0.05)
    assert after.verdict is Verdict.PASS
    lines = " ".join(only_outcome(after).lines)
    assert "145.6 cfm" in lines
    assert "61.1%" in lines


def test_that_the_curve_of_the_manufactured_home_is_the_one_fitted_by_hand() -> None:
    # ln Q on ln P by hand: Sxy 0.76074, Sxx 1.23226, means 3.4977 and 4.5425.
    after = assessed("crossover").test("t2")
    assert after is not None
    curve = after.curve
    assert curve is not None
    assert curve.exponent == pytest.approx(0.76074 / 1.23226, abs=5e-4)
    by_hand = math.exp(4.5425 - curve.exponent * 3.4977)
    assert to_unit(curve.coefficient, "cfm") == pytest.approx(by_hand, abs=0.02)
    assert curve.r_squared == pytest.approx(0.99997, abs=1e-5)
    assert to_unit(curve.coefficient, "cfm") * 25**curve.exponent == pytest.approx(79.1, abs=0.05)
    assert [point.is_off for point in curve.points] == [False] * 5


def test_that_the_owner_of_the_retrofit_sees_shares_and_a_range_of_money() -> None:
    system = assessed("maple").of_system("s1")
    assert system is not None
    owner = system.owner
    assert owner is not None
    assert owner.before is not None
    assert owner.now is not None
    assert owner.before.heating is not None
    assert owner.now.heating is not None
    assert owner.before.heating < owner.now.heating < 1.0
    assert owner.saved_low is not None
    assert owner.saved_high is not None
    # By hand for shares of 0.69 and 0.83: 1850 * (1 - 0.69 / 0.83) = 312 a year.
    assert owner.saved_low < 312 < owner.saved_high
    assert owner.currency == "$"


def test_that_taking_fifty_for_twenty_five_pascal_gives_no_verdict() -> None:
    job = opened("crossover").job
    quarter = Measured(si=25.0, unit="Pa", typed="25 Pa")
    tests = tuple(
        test.model_copy(
            update={"setup": test.setup.model_copy(update={"target_pressure": quarter})}
        )
        for test in job.tests
    )
    mixed = evaluate(job.model_copy(update={"tests": tests}))
    assert mixed.verdict is Verdict.NONE


def test_that_the_clinic_section_meets_its_class_at_the_density_of_the_day() -> None:
    assessment = assessed("clinic")
    result = assessment.test("t1")
    assert result is not None
    assert result.air_density == pytest.approx(1.1713, abs=5e-4)
    assert to_unit(result.flow or 0, "L/s") == pytest.approx(61.5, abs=0.05)
    outcome = only_outcome(assessment)
    assert outcome.measured == pytest.approx(0.331, abs=5e-4)
    assert outcome.limit_value == pytest.approx(0.442, abs=5e-4)
    assert outcome.verdict is Verdict.PASS


def test_that_the_clinic_does_not_meet_the_next_class_but_meets_the_one_before() -> None:
    job = opened("clinic").job
    verdicts: dict[str, Verdict] = {}
    for row in ("atc-3", "atc-4", "atc-5"):
        chosen = job.compliance.limits[0].model_copy(update={"row": row})
        compliance = job.compliance.model_copy(update={"limits": (chosen,)})
        verdicts[row] = evaluate(job.model_copy(update={"compliance": compliance})).verdict
    assert verdicts == {"atc-3": Verdict.FAIL, "atc-4": Verdict.PASS, "atc-5": Verdict.PASS}


def test_that_only_the_clinic_is_stopped_by_a_calibration_that_ran_out() -> None:
    for sample_id in IDS:
        stops = [f.code for f in assessed(sample_id).findings if f.level is Level.STOP]
        wanted = ["calibration_overdue", "calibration_overdue"] if sample_id == "clinic" else []
        assert stops == wanted, sample_id


@pytest.mark.parametrize("sample_id", IDS)
def test_that_pictures_are_small_and_say_that_they_are_drawings(sample_id: str) -> None:
    found = opened(sample_id)
    for data in found.photos.values():
        assert len(data) < LARGEST_PICTURE
    for leak in found.job.leaks:
        for photo in leak.photos:
            assert "(drawing)" in photo.caption
            assert (photo.width, photo.height) == (1200, 900)


@pytest.mark.parametrize("sample_id", IDS)
def test_that_a_sample_names_no_real_person_number_or_mail_domain(sample_id: str) -> None:
    text = (SAMPLES / sample_id / "job.json").read_text(encoding="utf-8")
    job = opened(sample_id).job
    for name in (job.client.name, job.tester.name):
        assert "Example" in name
    assert "Example" in job.tester.company or "Sample" in job.tester.company
    # Numbers 555-0100 to 555-0199 are kept for fiction (North American Numbering Plan), and
    # example.com and example.org for documentation (RFC 2606).
    phones = re.findall(r"\b\d{3}-\d{4}\b", text)
    assert phones
    assert all(phone.startswith("555-01") for phone in phones)
    assert all(m.startswith("example.") for m in re.findall(r"@([\w.]+)", text))
