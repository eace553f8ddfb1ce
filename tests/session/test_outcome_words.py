"""What is said beside the uncertainty of an outcome. Jobs and outcomes are invented."""

from __future__ import annotations

import pytest

from deskapp.domain.result import LimitOutcome, Verdict
from deskapp.domain.result_parts import BudgetOf
from deskapp.session.outcome_words import outcome_words
from deskapp.units.display import in_sentences


def outcome(alone: float | None, of: BudgetOf | None = BudgetOf.FAN_SHARE) -> LimitOutcome:
    return LimitOutcome(
        limit="k1",
        edition="Example",
        body="Example",
        verdict=Verdict.PASS,
        measured=167.9,
        limit_value=180.0,
        margin=12.1,
        unit="cfm",
        uncertainty=9.8,
        uncertainty_of=of,
        flow_uncertainty=alone,
    )


def covers(told: LimitOutcome) -> str:
    words = outcome_words(told, in_sentences())
    assert words is not None
    assert words.unsure == "± 9.8\N{NO-BREAK SPACE}cfm"
    return words.covers


@pytest.mark.parametrize("alone", [None, 9.8, 9.8001])
def test_that_nothing_is_said_to_count_where_it_adds_nothing_that_shows(
    alone: float | None,
) -> None:
    """Two figures that print alike tell nobody what the difference is: common sense, no source."""
    assert covers(outcome(alone)) == ""


def test_that_what_counts_is_named_with_the_flow_alone_as_on_the_certificate() -> None:
    assert covers(outcome(5.1)) == (
        "The ± counts the air handler's flow too; "
        "for the flow alone it is ± 5.1\N{NO-BREAK SPACE}cfm."
    )
    assert covers(outcome(None, BudgetOf.FLOW)) == ""
