"""Rings of the invented training fan: Q = K signal^0.5, K 62, 24 and 9.5 cfm, 25 to 250 Pa."""

from __future__ import annotations

import pytest

from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.measured import Measured
from deskapp.session.live.ring_fit import RingFault, RingLaw, judge_ring, ring_laws
from deskapp.units.convert import from_unit

LARGE, MIDDLE, SMALL = "r1", "r2", "r3"


@pytest.fixture(scope="module")
def laws(training, formatter) -> tuple[RingLaw, ...]:
    return ring_laws(training.fan, formatter)


def cfm(flow: float) -> float:
    return from_unit(flow, "cfm")


def measured(si: float | None) -> Measured:
    return Measured(si=si, unit="Pa", typed="typed")


def test_that_rings_are_named_by_their_flow_range(laws):
    words = [law.words.replace("\N{NO-BREAK SPACE}", " ") for law in laws]
    assert words == ["310 to 980 cfm", "120 to 380 cfm", "48 to 150 cfm"]


def test_that_the_flow_range_follows_from_law_and_signal_range(laws):
    # 24 * 25^0.5 = 120 cfm, 24 * 250^0.5 = 379.5 cfm
    assert laws[1].flow_low == pytest.approx(cfm(120.0))
    assert laws[1].flow_high == pytest.approx(cfm(379.473), rel=1e-5)


def test_that_a_signal_in_range_gives_the_flow_and_no_words(laws, formatter):
    fit = judge_ring(laws, MIDDLE, 100.0, formatter)
    assert fit is not None
    assert fit.flow == pytest.approx(cfm(240.0))
    assert (fit.fault, fit.better, fit.text) == (None, (), "")


@pytest.mark.parametrize("signal", [25.0, 250.0])
def test_that_the_ends_of_the_range_belong_to_it(laws, formatter, signal):
    fit = judge_ring(laws, MIDDLE, signal, formatter)
    assert fit is not None
    assert fit.fault is None


def test_that_a_low_signal_names_the_smaller_ring(laws, formatter):
    # 24 * 9^0.5 = 72 cfm lies in 47.5 to 150 cfm.
    fit = judge_ring(laws, MIDDLE, 9.0, formatter)
    assert fit is not None
    assert (fit.fault, fit.better) == (RingFault.SIGNAL_LOW, (SMALL,))
    assert fit.text == (
        "The fan signal of 9.0 Pa is below 25.0 Pa, where the range of the ring for 120 to 380 cfm"
        " begins. About 72.0 cfm would suit the ring for 48 to 150 cfm."
        " Make sure as well that the ring entered is the one fitted."
    ).replace(" Pa", "\N{NO-BREAK SPACE}Pa").replace(" cfm", "\N{NO-BREAK SPACE}cfm")


def test_that_a_high_signal_names_the_larger_ring(laws, formatter):
    # 24 * 400^0.5 = 480 cfm lies in 310 to 980 cfm.
    fit = judge_ring(laws, MIDDLE, 400.0, formatter)
    assert fit is not None
    assert (fit.fault, fit.better) == (RingFault.SIGNAL_HIGH, (LARGE,))
    assert "above" in fit.text


def test_that_it_says_so_when_no_ring_holds_the_flow(laws, formatter):
    for ring, signal in ((LARGE, 900.0), (SMALL, 4.0)):
        fit = judge_ring(laws, ring, signal, formatter)
        assert fit is not None
        assert fit.better == ()
        assert "No other ring" in fit.text


def test_that_the_roomiest_ring_comes_first(laws, formatter):
    narrow = RingLaw("narrow", "400 to 500 cfm", 0.01, 0.5, 10.0, 90.0, cfm(400.0), cfm(500.0))
    fit = judge_ring((narrow, *laws), MIDDLE, 400.0, formatter)
    assert fit is not None
    assert fit.better == (LARGE, "narrow")


def test_that_a_signal_below_zero_points_to_the_hoses(laws, formatter):
    fit = judge_ring(laws, MIDDLE, -60.0, formatter)
    assert fit is not None
    assert (fit.fault, fit.flow, fit.better) == (RingFault.BELOW_ZERO, 0.0, ())
    assert "hoses" in fit.text


def test_that_a_ring_nobody_knows_is_not_judged(laws, formatter):
    assert judge_ring(laws, "other", 50.0, formatter) is None
    assert judge_ring((), "", 50.0, formatter) is None


@pytest.mark.parametrize(
    ("coefficient", "exponent"),
    [(None, 0.5), (0.01, None), (-0.01, 0.5), (0.01, 3.0), (0.0, 0.5)],
)
def test_that_a_ring_without_a_usable_law_is_left_out(formatter, coefficient, exponent):
    ring = Ring(key="r1", coefficient=measured(coefficient), exponent=measured(exponent))
    assert ring_laws(Fan(key="f", rings=(ring,)), formatter) == ()


def test_that_ends_of_the_signal_range_in_the_wrong_order_leave_the_ring_out(formatter):
    ring = Ring(
        key="r1",
        coefficient=measured(0.01),
        exponent=measured(0.5),
        signal_low=measured(250.0),
        signal_high=measured(25.0),
    )
    assert ring_laws(Fan(key="f", rings=(ring,)), formatter) == ()


def test_that_a_ring_known_by_its_law_alone_fits_every_signal(formatter):
    ring = Ring(key="r1", coefficient=measured(0.01), exponent=measured(0.5))
    (law,) = ring_laws(Fan(key="f", rings=(ring,)), formatter)
    fit = judge_ring((law,), "r1", 5000.0, formatter)
    assert fit is not None
    assert (fit.fault, law.words) == (None, "")
