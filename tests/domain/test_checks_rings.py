"""A range of a ring that was typed the wrong way round is named as such."""

from __future__ import annotations

import pytest

from deskapp.domain.checks import check
from deskapp.domain.finding import Level
from deskapp.domain.instrument import Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.units.convert import from_unit


def entry(text: str) -> Measured:
    number, unit = text.split()
    return Measured(si=from_unit(float(number), unit), unit=unit, typed=text)


@pytest.mark.parametrize(
    ("low", "high", "first", "then"),
    [
        ("flow_low", "flow_high", "380 cfm", "120 cfm"),
        ("signal_low", "signal_high", "250 Pa", "25 Pa"),
    ],
)
def test_that_a_range_the_wrong_way_round_is_named(
    low: str, high: str, first: str, then: str
) -> None:
    turned = Job(
        fans=(Fan(key="f", rings=(Ring(key="r", **{low: entry(first), high: entry(then)}),)),)
    )
    [found] = [one for one in check(turned) if one.code == "range_turned"]
    assert (found.level, found.path) == (Level.STOP, f"fans.0.rings.0.{low}")
    assert first in found.what
    assert then in found.what
    assert "at most" in found.allowed
    assert "Exchange the two" in found.mend
    right = Job(
        fans=(Fan(key="f", rings=(Ring(key="r", **{low: entry(then), high: entry(first)}),)),)
    )
    assert not [one for one in check(right) if one.code == "range_turned"]
    same = Job(
        fans=(Fan(key="f", rings=(Ring(key="r", **{low: entry(then), high: entry(then)}),)),)
    )
    assert not [one for one in check(same) if one.code == "range_turned"]


def law(low: str, high: str, coefficient: str = "25 cfm", exponent: float = 0.5) -> Job:
    ring = Ring(
        key="r",
        flow_low=entry(low),
        flow_high=entry(high),
        coefficient=entry(coefficient),
        exponent=Measured(si=exponent, unit="1", typed=str(exponent)),
        signal_low=entry("10 Pa"),
        signal_high=entry("400 Pa"),
    )
    return Job(fans=(Fan(key="f", rings=(ring,)),))


def test_that_a_flow_range_unlike_the_law_of_the_ring_is_named_with_both_figures() -> None:
    # 25 cfm x 10^0.5 = 79.06 cfm and 25 cfm x 400^0.5 = 500 cfm, by hand.
    low, high = (one for one in check(law("30 cfm", "300 cfm")) if one.code == "ring_law_range")
    assert {low.level, high.level} == {Level.CHECK}
    assert (low.path, high.path) == ("fans.0.rings.0.flow_low", "fans.0.rings.0.flow_high")
    for words in ("30 cfm", "79.1 cfm", "10 Pa"):
        assert words in low.what.replace("\N{NO-BREAK SPACE}", " ")
    for words in ("300 cfm", "500.0 cfm", "400 Pa"):
        assert words in high.what.replace("\N{NO-BREAK SPACE}", " ")
    assert "10" in low.allowed
    assert "calibration certificate" in low.mend


@pytest.mark.parametrize(
    ("low", "high", "told"),
    [
        ("79 cfm", "500 cfm", 0),
        ("72 cfm", "456 cfm", 0),  # 79.06 and 500 are 9.8 % and 9.6 % above
        ("71 cfm", "456 cfm", 1),  # 11.4 % above
        ("79 cfm", "560 cfm", 1),  # 10.7 % below
    ],
)
def test_that_a_tenth_is_let_pass(low: str, high: str, told: int) -> None:
    found = [one for one in check(law(low, high)) if one.code == "ring_law_range"]
    assert len(found) == told


@pytest.mark.parametrize(("coefficient", "exponent"), [("0 cfm", 0.5), ("25 cfm", 1e9)])
def test_that_a_law_that_is_none_is_not_compared(coefficient: str, exponent: float) -> None:
    found = check(law("30 cfm", "300 cfm", coefficient, exponent))
    assert not [one for one in found if one.code == "ring_law_range"]


def test_that_a_bare_number_is_told_with_the_unit_it_was_taken_in() -> None:
    job = law("30 cfm", "300 cfm")
    [ring] = job.fans[0].rings
    bare = ring.model_copy(update={"signal_low": Measured(si=10.0, unit="Pa", typed="10")})
    fan = job.fans[0].model_copy(update={"rings": (bare,)})
    told = check(job.model_copy(update={"fans": (fan,)}))
    [low] = (one for one in told if one.code == "ring_law_range" and one.path.endswith("flow_low"))
    assert low.what.replace("\N{NO-BREAK SPACE}", " ").endswith("79.1 cfm at 10 Pa.")
