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
