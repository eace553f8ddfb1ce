"""What stands beside a verdict: tests that wait for a result, instruments overdue."""

from __future__ import annotations

from datetime import date

import pytest
from typed import leakage_test, pa, two_systems

from deskapp.assess.evaluate import evaluate
from deskapp.domain.finding import Level
from deskapp.domain.measured import Day
from deskapp.domain.paths import put
from deskapp.domain.result import Verdict
from deskapp.domain.trial import LeakageTest, Reading


def waiting_test(*rows: Reading) -> LeakageTest:
    return leakage_test("t9", "s2", "tiny", rows, "0.0").model_copy(update={"tested_on": None})


@pytest.mark.parametrize("rows", [(), (Reading(),), (Reading(duct_pressure=pa("-25.0")),)])
def test_that_a_test_without_a_result_takes_no_fail_away(rows: tuple[Reading, ...]) -> None:
    """A rule of ours: what failed has failed until a test says otherwise (common practice)."""
    job = two_systems(retested=False)
    with_one_more = job.model_copy(update={"tests": (*job.tests, waiting_test(*rows))})
    assessment = evaluate(with_one_more)
    system = assessment.of_system("s2")
    assert system is not None
    assert (system.verdict, assessment.verdict) == (Verdict.FAIL, Verdict.FAIL)
    assert (system.test, system.earlier) == ("t2", ())
    assert any("Test 3" in remark for remark in system.remarks)
    told = [one for one in assessment.findings if one.code == "test_waiting"]
    assert [(one.level, one.path) for one in told] == [
        (Level.CHECK, "tests.2.readings.0.duct_pressure")
    ]


def test_that_a_pass_stands_until_something_is_read_and_then_waits_for_the_result() -> None:
    job = two_systems(retested=True)
    verdicts: list[Verdict] = []
    for rows in ((), (Reading(duct_pressure=pa("-25.0")),)):
        tests = (*job.tests, waiting_test(*rows))
        system = evaluate(job.model_copy(update={"tests": tests})).of_system("s2")
        assert system is not None
        verdicts.append(system.verdict)
    assert verdicts == [Verdict.PASS, Verdict.NONE]


def test_that_an_overdue_calibration_stands_beside_the_verdict() -> None:
    job = put(two_systems(retested=True), "fans.0.due_on", Day(value=date(2026, 1, 5)))
    job = put(job, "tests.2.setup.fan", "f1")
    system = evaluate(job).of_system("s2")
    assert system is not None
    assert system.verdict is Verdict.PASS
    assert [remark[:6] for remark in system.remarks] == ["Test 3"]
    assert "calibration of the fan ran out" in system.remarks[0]
    in_time = put(job, "fans.0.due_on", Day(value=date(2026, 3, 11)))
    assert evaluate(in_time).of_system("s2").remarks == ()  # type: ignore[union-attr]
