"""Rings fitted from certificate pairs, against scipy. The certificates are invented."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import stats
from scipy.constants import foot, minute

from deskapp.domain.finding import Level
from deskapp.domain.instrument import Ring
from deskapp.domain.measured import Measured, si_of
from deskapp.session.instruments.ring_fit import (
    PairText,
    RingFitting,
    fill_ring,
    fit_ring,
    pairs_from_text,
    pairs_of,
    parted_from_pairs,
)
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Preferences()
SI = Preferences(unit_system=UnitSystem.SI, number_style=NumberStyle.COMMA)
CFM = foot**3 / minute
SIGNALS = [12.0, 25.0, 50.0, 100.0, 180.0, 300.0]
# Flows with a scatter of about 0.3 % around 11.3 cfm at 1 Pa and an exponent of 0.5.
FLOWS = [39.05, 56.61, 79.79, 113.3, 151.2, 196.0]
TYPED = [PairText(f"{signal:g}", f"{flow}") for signal, flow in zip(SIGNALS, FLOWS, strict=True)]


def law(coefficient: float, exponent: float, signals: list[float] = SIGNALS) -> list[PairText]:
    return [PairText(f"{p!r} Pa", f"{coefficient * p**exponent!r} cfm") for p in signals]


def codes(fitting: RingFitting) -> list[str]:
    return [finding.code for finding in fitting.findings]


@settings(deadline=None)
@given(st.floats(0.5, 500.0), st.floats(0.46, 0.54))
def test_that_an_exact_power_law_is_recovered(coefficient: float, exponent: float):
    fitting = fit_ring(law(coefficient, exponent), IP)
    assert fitting.fit is not None
    assert fitting.findings == ()
    assert fitting.fit.coefficient / CFM == pytest.approx(coefficient, rel=1e-9)
    assert fitting.fit.exponent == pytest.approx(exponent, abs=1e-9)
    assert max(abs(pair.residual_percent) for pair in fitting.fit.pairs) < 1e-7


def test_that_the_fit_is_that_of_scipy_on_logarithms():
    fit = fit_ring(TYPED, IP).fit
    assert fit is not None
    wanted = stats.linregress([math.log(p) for p in SIGNALS], [math.log(q) for q in FLOWS])
    assert fit.exponent == pytest.approx(wanted.slope, rel=1e-9)
    assert fit.coefficient / CFM == pytest.approx(math.exp(wanted.intercept), rel=1e-9)
    assert fit.r_squared == pytest.approx(wanted.rvalue**2, rel=1e-9)
    for pair, signal, flow in zip(fit.pairs, SIGNALS, FLOWS, strict=True):
        line = math.exp(wanted.intercept) * signal**wanted.slope
        assert pair.flow_on_line / CFM == pytest.approx(line, rel=1e-9)
        assert pair.residual_percent == pytest.approx(100 * (flow / line - 1), abs=1e-7)


def test_that_units_typed_with_the_numbers_count():
    mixed = [PairText("0.1 in. w.c.", "66.7 L/s"), *TYPED[1:]]
    plain = [PairText("24.908891 Pa", f"{66.7e-3 / CFM!r} cfm"), *TYPED[1:]]
    one, other = fit_ring(mixed, IP).fit, fit_ring(plain, IP).fit
    assert one is not None
    assert other is not None
    assert one.coefficient == pytest.approx(other.coefficient, rel=1e-9)


def test_that_the_usable_range_is_that_of_the_pairs_in_whatever_order():
    fit = fit_ring([TYPED[3], TYPED[5], TYPED[0], TYPED[1], TYPED[4]], IP).fit
    assert fit is not None
    assert (fit.lowest.signal.si, fit.highest.signal.si) == (12.0, 300.0)
    assert (fit.lowest.number, fit.highest.number) == (3, 2)


def test_that_a_pair_off_the_line_is_named_by_its_number_and_still_counts():
    typed = [*TYPED[:3], PairText("100", "131.3"), *TYPED[4:]]
    fitting = fit_ring(typed, IP)
    assert fitting.fit is not None
    assert len(fitting.fit.pairs) == 6
    [named] = [finding for finding in fitting.findings if finding.code == "pair-off-line"]
    assert named.level is Level.CHECK
    assert named.path == "pairs.3"
    assert "Pair 4 (100, 131.3)" in named.what
    assert "above the line" in named.what
    assert fitting.can_fill


def test_that_empty_rows_are_passed_over_and_numbers_stay_those_of_the_rows():
    typed = [PairText("", " "), *TYPED[:3], PairText("", ""), PairText("100", "99"), *TYPED[4:]]
    fitting = fit_ring(typed, IP)
    assert fitting.fit is not None
    assert [pair.number for pair in fitting.fit.pairs] == [2, 3, 4, 6, 7, 8]
    [named] = [finding for finding in fitting.findings if finding.code == "pair-off-line"]
    assert "Pair 6" in named.what
    assert "below the line" in named.what


def test_that_a_pair_within_half_a_percent_is_not_worth_a_question():
    typed = law(11.3, 0.5)
    typed[2] = PairText("50 Pa", f"{11.3 * 50**0.5 * 1.004!r} cfm")
    assert "pair-off-line" not in codes(fit_ring(typed, IP))


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        (TYPED[:3], "3 given"),
        ([PairText(f"{p}", f"{11.3 * p**0.5}") for p in (50, 60, 70, 80, 90)], "times the lowest"),
        (law(11.3, 0.57), "exponent of 0.570"),
        (law(11.3, 0.43), "exponent of 0.430"),
        (
            [*TYPED[:2], PairText("50", "70"), PairText("100", "125"), *TYPED[4:]],
            "scatter about the line",
        ),
    ],
)
def test_that_weak_pairs_are_fitted_and_asked_about(pairs: list[PairText], words: str):
    fitting = fit_ring(pairs, IP)
    assert fitting.can_fill
    [about] = [finding for finding in fitting.findings if words in finding.what]
    assert about.level is Level.CHECK
    assert about.allowed
    assert about.mend


@pytest.mark.parametrize(
    ("pairs", "words"),
    [
        ([], "0 given"),
        (TYPED[:1], "1 given"),
        ([PairText("50", "80"), PairText("50", "81")], "same fan signal"),
        ([PairText(f"{q}", f"{p}") for p, q in zip(SIGNALS, FLOWS, strict=True)], "exponent of"),
        ([PairText("10", "0.1"), PairText("11", "1000")], "changes far too much"),
        (law(11.3, -0.5), "exponent of"),
        ([PairText("10", "80"), PairText("100", "80")], "exponent of 0.000"),
    ],
)
def test_that_pairs_without_a_law_fill_no_ring_and_say_why(pairs: list[PairText], words: str):
    fitting = fit_ring(pairs, IP)
    assert not fitting.can_fill
    stop = next(finding for finding in fitting.findings if finding.level is Level.STOP)
    assert words in stop.what
    assert stop.allowed
    assert stop.mend
    with pytest.raises(ValueError, match="cannot fill"):
        fill_ring(Ring(key="r1"), fitting, IP)


BAD = ["twelve-ish", "-", "NaN", "inf", "1e999", "0x10", "?" * 300, "3,5", "50 ft", "0", "-25"]


@pytest.mark.parametrize("text", [*BAD, "1e308", "9e9", "1e-9", "30 cfm"])
def test_that_a_signal_that_cannot_be_used_is_named_with_its_pair(text: str):
    fitting = fit_ring([*TYPED[:2], PairText(text, "80"), *TYPED[3:]], IP)
    assert fitting.fit is None
    [finding] = fitting.findings
    assert finding.path == "pairs.2.signal"
    assert finding.level is Level.STOP
    assert finding.what.startswith("Fan signal (pair 3)")
    assert finding.allowed
    assert finding.mend


@pytest.mark.parametrize("text", [*BAD, "1e308", "9e9", "1e-9", "30 Pa"])
def test_that_a_flow_that_cannot_be_used_is_named_with_its_pair(text: str):
    fitting = fit_ring([*TYPED[:2], PairText("50", text), *TYPED[3:]], IP)
    assert fitting.fit is None
    [finding] = fitting.findings
    assert finding.path == "pairs.2.flow"
    assert finding.what.startswith("Flow (pair 3)")
    assert finding.allowed
    assert finding.mend


def test_that_half_a_pair_is_asked_about():
    [one] = fit_ring([*TYPED, PairText("50", "")], IP).findings
    assert one.path == "pairs.6.flow"
    assert "Flow (pair 7)" in one.what
    [other] = fit_ring([*TYPED, PairText(" ", "50")], IP).findings
    assert other.path == "pairs.6.signal"


@settings(deadline=None)
@given(st.lists(st.tuples(st.text(max_size=8), st.text("0123456789.,-e Pacfm", max_size=8))))
def test_that_no_typed_table_makes_it_raise(rows: list[tuple[str, str]]):
    fitting = fit_ring([PairText(*row) for row in rows], IP)
    assert fitting.fit is not None or fitting.findings


def test_that_a_fit_fills_a_ring_and_the_pairs_are_kept():
    fitting = fit_ring(TYPED, IP)
    assert fitting.fit is not None
    ring = fill_ring(Ring(key="r1"), fitting, IP)
    assert si_of(ring.coefficient) == pytest.approx(fitting.fit.coefficient, rel=1e-6)
    assert si_of(ring.exponent) == pytest.approx(fitting.fit.exponent, rel=1e-6)
    assert (si_of(ring.signal_low), si_of(ring.signal_high)) == (12.0, 300.0)
    assert si_of(ring.flow_low) == pytest.approx(39.05 * CFM)
    assert si_of(ring.flow_high) == pytest.approx(196.0 * CFM)
    assert [pair.signal.typed for pair in ring.certificate_pairs] == [t.signal for t in TYPED]
    assert pairs_of(ring, IP) == tuple(TYPED)
    assert parted_from_pairs(ring) is None


def test_that_the_name_of_a_ring_stays_as_it_was_typed():
    named = Ring(
        key="r1",
        flow_low=Measured(si=40 * CFM, unit="cfm", typed="40"),
        flow_high=Measured(si=200 * CFM, unit="cfm", typed="200"),
    )
    ring = fill_ring(named, fit_ring(TYPED, IP), IP)
    assert (ring.key, ring.flow_low, ring.flow_high) == ("r1", named.flow_low, named.flow_high)


def test_that_numbers_are_written_in_the_units_and_style_preferred():
    typed = [PairText(f"{p:.0f}", f"{q * CFM * 1000:.4f}".replace(".", ",")) for p, q in law_rows()]
    ring = fill_ring(Ring(key="r1"), fit_ring(typed, SI), SI)
    assert ring.coefficient is not None
    assert ring.coefficient.unit == "L/s"
    assert "," in ring.coefficient.typed
    assert ring.coefficient.si == pytest.approx(11.3 * CFM, rel=1e-5)
    assert ring.exponent is not None
    assert ring.exponent.si == pytest.approx(0.5, abs=1e-5)
    assert [pair.signal for pair in pairs_of(ring, IP)] == [f"{p:.0f}" for p, _q in law_rows()]
    assert all(pair.flow.endswith("L/s") for pair in pairs_of(ring, IP))


def law_rows() -> list[tuple[float, float]]:
    return [(p, 11.3 * p**0.5) for p in SIGNALS]


def test_that_a_law_changed_by_hand_parts_from_its_pairs():
    ring = fill_ring(Ring(key="r1"), fit_ring(TYPED, IP), IP)
    assert ring.coefficient is not None
    assert ring.coefficient.si is not None
    higher = Measured(si=ring.coefficient.si * 1.02, unit="cfm", typed="11.5")
    parted = parted_from_pairs(ring.model_copy(update={"coefficient": higher}))
    assert parted == pytest.approx(0.02, abs=1e-5)
    assert parted_from_pairs(Ring(key="r1")) is None
    assert parted_from_pairs(ring.model_copy(update={"exponent": None})) is None


@pytest.mark.parametrize(
    ("block", "pairs"),
    [
        ("25\t56.6\n50\t79.8\n", [("25", "56.6"), ("50", "79.8")]),
        ("Signal [Pa]; Flow [cfm]\n25 ; 56.6\n\n50;79.8", [("25", "56.6"), ("50", "79.8")]),
        ("25 Pa   56.6 cfm", [("25 Pa", "56.6 cfm")]),
        ("25 56.6\r\n50 79.8", [("25", "56.6"), ("50", "79.8")]),
        ("25 Pa 56.6 cfm", [("25 Pa 56.6 cfm", "")]),
        ("25\t56.6\t3 %", [("25\t56.6\t3 %", "")]),
        ("", []),
    ],
)
def test_that_a_pasted_block_parts_into_pairs(block: str, pairs: list[tuple[str, str]]):
    assert pairs_from_text(block) == tuple(PairText(*pair) for pair in pairs)
