"""Results typed for units against the threshold of their plan. All of it is invented."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.session.sampling_desk import SamplingProblem
from deskapp.session.sampling_numbers import refuse_contradiction
from deskapp.units.numbers import NumberStyle

POINT = NumberStyle.POINT


@pytest.mark.parametrize(
    ("threshold", "measured"),
    [
        ("at most 40 cfm", "99 cfm"),
        ("40", "99"),
        ("40 cfm", "99"),
        ("40", "99 cfm"),
        ("at most 40 cfm at 25 Pa", "99 cfm at 25 Pa"),
        ("≤ 40 cfm (tested at 25 Pa)", "41 cfm, second try"),
        # By hand: 20 L/s are 42.4 cfm.
        ("40 cfm", "20 L/s"),
        ("at most 4 cfm per 100 ft2", "4.2 cfm/100 ft2"),
    ],
)
def test_that_a_result_above_the_threshold_cannot_meet_it(threshold: str, measured: str) -> None:
    with pytest.raises(SamplingProblem, match="does not meet") as problem:
        refuse_contradiction(threshold, measured, POINT)
    assert measured in problem.value.text
    assert problem.value.code == "contradicts"


@pytest.mark.parametrize(
    ("threshold", "measured"),
    [
        ("at most 40 cfm", "40 cfm"),
        ("at most 40 cfm", "12"),
        ("40 cfm", "18 L/s"),
        ("", "99 cfm"),
        ("at most 40 cfm", ""),
        ("at most 40 cfm", "looks fine"),
        ("4 cfm per 100 ft2, or 40 cfm", "45 cfm"),
        ("at least 300 cfm", "350 cfm"),
        ("au moins 300 cfm", "350 cfm"),
        ("4 cfm/100 ft2", "45 cfm"),
        ("sealed as in code 403.2", "99 cfm"),
        ("at most 40 cfm", "before 99 cfm, after sealing 30 cfm"),
    ],
)
def test_that_whatever_cannot_be_compared_is_left_to_who_typed_it(
    threshold: str, measured: str
) -> None:
    refuse_contradiction(threshold, measured, POINT)


@given(st.text(max_size=60), st.text(max_size=60))
def test_that_no_text_breaks_the_comparison(threshold: str, measured: str) -> None:
    try:
        refuse_contradiction(threshold, measured, POINT)
    except SamplingProblem as problem:
        assert problem.text
