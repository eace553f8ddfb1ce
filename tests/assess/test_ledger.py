"""The ledger of a repair: what quick readings between repairs gained, and how sure that is.

All readings are invented. Flows by hand: 24 * sqrt(signal) and 9.5 * sqrt(signal) in cfm, carried
to 25 Pa by (25 / P) ** 0.60. Uncertainties: the `uncertainties` library with shared inputs.
"""

from __future__ import annotations

from math import sqrt
from typing import Any

import pytest
from multi import found_codes, found_one, job_of, made_test
from typed import cfm, pa, readings
from uncertainties import ufloat

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import Direction, Method
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.measured import Measured
from deskapp.domain.paths import put
from deskapp.domain.repair import Rereading
from deskapp.domain.repair_result import RepairLedger
from deskapp.domain.trial import LeakageTest
from deskapp.units.convert import to_unit

ROOT_THREE = sqrt(3.0)


def reread(key: str, pressure: str, signal: str, **other: Any) -> Rereading:
    """One quick reading that follows the first test."""
    return Rereading(key=key, test="t1", duct_pressure=pa(pressure), fan_signal=pa(signal), **other)


def repaired_job(*rows: Rereading, test: LeakageTest | None = None, **facts: Any) -> Job:
    """192 cfm before the repair, in a system that may leak 80 cfm; four leaks."""
    first = test or made_test(readings("25 25 25", "64 64 64"), ring="medium", gauge="g1")
    job = job_of(first, **facts)
    closed = {"l1": "q1", "l2": "q2", "l3": "q3", "l4": ""}
    leaks = tuple(
        Leak(key=key, system="s1", location="boot_gap", place=key, reread=row)
        for key, row in closed.items()
    )
    return job.model_copy(update={"leaks": leaks, "rereadings": rows})


THREE = (
    reread("q1", "25.0", "49", read_time="10:05"),
    reread("q2", "25.0", "48.5", read_time="10:20"),
    reread("q3", "24.0", "100", read_time="10:40", ring="small"),
)


def ledger_of(job: Job) -> RepairLedger:
    [ledger] = evaluate(job).ledgers
    return ledger


def in_cfm(flow: float | None) -> float:
    assert flow is not None
    return to_unit(flow, "cfm")


def test_that_gains_are_the_differences_from_reading_to_reading() -> None:
    # By hand: 24 * 8 = 192; 24 * 7 = 168; 24 * sqrt(48.5) = 167.14;
    # 9.5 * 10 * (25 / 24) ** 0.6 = 97.36 cfm.
    ledger = ledger_of(repaired_job(*THREE))
    assert in_cfm(ledger.start) == pytest.approx(192.0, abs=0.01)
    assert [in_cfm(row.flow) for row in ledger.rows] == pytest.approx(
        [168.0, 167.14, 97.36], abs=0.01
    )
    assert [in_cfm(row.gain) for row in ledger.rows] == pytest.approx([24.0, 0.86, 69.78], abs=0.01)
    assert in_cfm(ledger.gain) == pytest.approx(94.64, abs=0.01)


def test_that_a_gain_goes_to_the_leaks_closed_since_the_reading_before() -> None:
    rows = ledger_of(repaired_job(*THREE)).rows
    assert [row.leaks for row in rows] == [("l1",), ("l2",), ("l3",)]
    assert [row.read_time for row in rows] == ["10:05", "10:20", "10:40"]


def test_that_a_small_gain_is_not_told_apart_from_zero() -> None:
    rows = ledger_of(repaired_job(*THREE)).rows
    assert [row.told_apart for row in rows] == [True, False, True]


def test_that_what_is_left_is_measured_against_the_limit() -> None:
    # By hand: 4 cfm per 100 ft2 of 2,000 ft2 is 80 cfm; 97.36 - 80.
    ledger = ledger_of(repaired_job(*THREE))
    assert in_cfm(ledger.limit_flow) == pytest.approx(80.0, abs=0.01)
    assert in_cfm(ledger.excess) == pytest.approx(17.36, abs=0.01)


def test_that_only_what_two_readings_do_not_share_makes_a_gain_unsure() -> None:
    # Shared: fan within 5 %, gauge within 1 % or 0.25 Pa (rectangular). Own: 1 % of one reading;
    # the three readings of the test are alike and scatter by nothing.
    fan = ufloat(1.0, 0.05 / ROOT_THREE)
    signal = ufloat(1.0, 0.01 / ROOT_THREE)
    pressure = ufloat(25.0, 0.25 / ROOT_THREE)

    def flow(signal_pa: float, own: float) -> Any:
        at_target = 24.0 * signal_pa**0.5 * fan * signal**0.5 * (25.0 / pressure) ** 0.6
        return at_target + ufloat(0.0, own) if own else at_target

    start, first, second = flow(64.0, 0.0), flow(49.0, 1.68), flow(48.5, 1.6714)
    rows = ledger_of(repaired_job(*THREE)).rows
    assert in_cfm(rows[0].uncertainty) == pytest.approx(2.0 * (start - first).s, rel=1e-3)
    assert in_cfm(rows[1].uncertainty) == pytest.approx(2.0 * (first - second).s, rel=1e-3)
    # Far less than as if nothing were shared.
    apart = sqrt(start.s**2 + first.s**2)
    assert in_cfm(rows[0].uncertainty) < 0.35 * 2.0 * apart


def test_that_another_ring_shares_no_calibration() -> None:
    pressure = ufloat(0.0, 0.25 / ROOT_THREE)

    def flow(at_25: float, held: float, own: float) -> Any:
        fan, signal = ufloat(1.0, 0.05 / ROOT_THREE), ufloat(1.0, 0.01 / ROOT_THREE)
        exponent = ufloat(0.6, 0.05 / ROOT_THREE)
        carried = (25.0 / (held + pressure)) ** exponent / (25.0 / held) ** 0.6
        return at_25 * fan * signal**0.5 * carried + ufloat(0.0, own)

    second, third = flow(167.14, 25.0, 1.6714), flow(97.36, 24.0, 0.9736)
    row = ledger_of(repaired_job(*THREE)).rows[2]
    assert in_cfm(row.uncertainty) == pytest.approx(2.0 * (second - third).s, rel=2e-3)


def test_that_a_reading_without_a_flow_hands_its_leaks_to_the_next() -> None:
    blank = reread("q2", "25.0", "48.5").model_copy(update={"fan_signal": None})
    job = repaired_job(THREE[0], blank, THREE[2])
    rows = ledger_of(job).rows
    assert rows[1].flow is None
    assert rows[2].leaks == ("l2", "l3")
    assert in_cfm(rows[2].gain) == pytest.approx(168.0 - 97.36, abs=0.01)
    assert found_one(job, "reading_incomplete").path == "rereadings.1.fan_signal"


def test_that_text_that_cannot_be_read_gives_no_flow_and_is_told_once() -> None:
    job = put(repaired_job(*THREE), "rereadings.1.fan_signal", Measured(si=None, typed="4x"))
    assert ledger_of(job).rows[1].flow is None
    told = [one for one in evaluate(job).findings if one.path == "rereadings.1.fan_signal"]
    assert [one.code for one in told] == ["unread"]


def test_that_a_rise_beyond_the_scatter_is_told() -> None:
    job = repaired_job(reread("q1", "25", "49"), reread("q2", "25", "64"))
    assert found_one(job, "reread_risen").path == "rereadings.1.duct_pressure"
    still = repaired_job(reread("q1", "25", "49"), reread("q2", "25", "49.5"))
    assert "reread_risen" not in found_codes(still)


def test_that_quick_readings_without_a_test_are_told_and_empty_rows_are_not() -> None:
    lost = THREE[0].model_copy(update={"test": "gone"})
    job = repaired_job(lost, Rereading(key="q9"))
    assert evaluate(job).ledgers == ()
    assert found_one(job, "reread_without_test").path == "rereadings.0.test"


@pytest.mark.parametrize(("pressure", "signal"), [("25", "49"), ("-25", "49")])
def test_that_readings_after_a_test_in_both_directions_go_by_their_sign(
    pressure: str, signal: str
) -> None:
    both = made_test(
        readings("25 -25", "64 64"), ring="medium", gauge="g1", direction=Direction.BOTH
    )
    [row] = ledger_of(repaired_job(reread("q1", pressure, signal), test=both)).rows
    assert in_cfm(row.flow) == pytest.approx(168.0, abs=0.01)


def test_that_after_a_curve_its_exponent_carries_the_readings() -> None:
    # By hand: flows of 30 * P ** 0.5, so the exponent is 0.5: 24 * 6 * sqrt(25 / 16) = 180 cfm.
    signals = " ".join(f"{(30.0 * p**0.5 / 24.0) ** 2:.6f}" for p in (16, 25, 36, 49, 64))
    curve = made_test(
        readings("16 25 36 49 64", signals),
        ring="medium",
        gauge="g1",
        method=Method.SEVERAL_PRESSURES,
    )
    job = repaired_job(reread("q1", "16", "36"), test=curve)
    assert in_cfm(ledger_of(job).rows[0].flow) == pytest.approx(180.0, rel=1e-3)


def test_that_a_reading_of_a_flow_needs_no_ring() -> None:
    row = Rereading(key="q1", test="t1", duct_pressure=pa("25"), indicated_flow=cfm("150"))
    assert in_cfm(ledger_of(repaired_job(row)).rows[0].flow) == pytest.approx(150.0, abs=0.01)


def test_that_the_verdict_never_rests_on_a_quick_reading() -> None:
    without = evaluate(repaired_job())
    with_rows = evaluate(repaired_job(reread("q1", "25", "25")))
    assert with_rows.systems == without.systems
    assert found_codes(repaired_job(*THREE), Level.STOP) == set()
