"""Records of sampling refuse what cannot be."""

from __future__ import annotations

from datetime import date
from typing import Any

import pytest
from pydantic import ValidationError

from deskapp.domain.sampling import (
    PURPOSE_LABELS,
    Draw,
    Purpose,
    SampleUnit,
    SamplingPlan,
    SamplingRule,
    UnitCheck,
    UnitList,
)

RULE: dict[str, Any] = {
    "id": "r",
    "body": "Invented",
    "title": "Rule",
    "clause": "1",
    "scheme": {"kind": "one_per_set", "set_size": 7},
    "status": "user",
    "source": "invented",
}
DAY = date(2026, 3, 2)


def unit(key: str, name: str = "") -> SampleUnit:
    return SampleUnit(key=key, name=name or key)


@pytest.mark.parametrize(
    ("units", "told"),
    [
        ((unit("a"), unit("a", "b")), "two units have the key"),
        ((unit("a", "Unit 1"), unit("b", "unit 1")), "two units have the name"),
    ],
)
def test_that_units_are_told_apart(units: tuple[SampleUnit, ...], told: str) -> None:
    with pytest.raises(ValidationError, match=told):
        UnitList(units=units)


@pytest.mark.parametrize(
    "scheme",
    [
        {"kind": "share_of_rest", "qualify": 5, "share": 0.0, "requalify": 3},
        {"kind": "share_of_rest", "qualify": 5, "share": 1.5, "requalify": 3},
        {"kind": "share_of_rest", "qualify": -1, "share": 0.2, "requalify": 3},
        {"kind": "one_per_set", "set_size": 0},
        {"kind": "one_per_set", "set_size": 7, "further": -2},
        {"kind": "by_feeling"},
    ],
)
def test_that_a_scheme_that_cannot_be_is_refused(scheme: dict[str, Any]) -> None:
    with pytest.raises(ValidationError):
        SamplingRule.model_validate({**RULE, "scheme": scheme})


def test_that_a_rule_needs_clause_and_source() -> None:
    for name in ("clause", "source"):
        with pytest.raises(ValidationError):
            SamplingRule.model_validate({**RULE, name: ""})


def test_that_a_plan_knows_every_unit_it_names() -> None:
    rule = SamplingRule.model_validate(RULE)
    units = UnitList(units=(unit("a"),))
    stranger = UnitCheck(unit="z", met=True, checked_on=DAY)
    with pytest.raises(ValidationError, match="z: no such unit"):
        SamplingPlan(rule=rule, unit_list=units, checks=(stranger,))
    draw = Draw(purpose=Purpose.SAMPLE, seed=1, pool=("z",), count=1, drawn=("z",), drawn_on=DAY)
    with pytest.raises(ValidationError, match="z: no such unit"):
        SamplingPlan(rule=rule, unit_list=units, draws=(draw,))


def test_that_every_purpose_has_its_words() -> None:
    assert set(PURPOSE_LABELS) == set(Purpose)
