"""A limit of one's own as a form. Figures are invented."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from deskapp.domain.choices import Metric, Stage
from deskapp.domain.finding import Finding
from deskapp.domain.limit import Edition, EditionRole, EitherOf, PerFloorArea
from deskapp.limits.catalogue import load
from deskapp.limits.own import copy_edition
from deskapp.session.own_limit_form import (
    LimitInput,
    OwnField,
    choose_own,
    enter_own,
    own_form,
)
from deskapp.session.settings import Preferences
from deskapp.units.numbers import NumberStyle

CATALOGUE = load(Path(__file__).parents[2] / "resources" / "limits")
PLAIN = Preferences()
COMMA = Preferences(number_style=NumberStyle.COMMA)


def copied(edition_id: str) -> Edition:
    found = CATALOGUE.edition(edition_id)
    assert found is not None
    return copy_edition(found, "own")


def fields(edition: Edition, preferences: Preferences = PLAIN) -> dict[str, OwnField]:
    return {field.path: field for part in own_form(edition, preferences) for field in part.fields}


def entered(edition: Edition, path: str, text: str, preferences: Preferences = PLAIN) -> Edition:
    made = enter_own(edition, path, text, preferences)
    assert isinstance(made, Edition), made
    return made


def refused(edition: Edition, path: str, text: str) -> Finding:
    made = enter_own(edition, path, text, PLAIN)
    assert isinstance(made, Finding), made
    return made


CODE = copied("iecc-2018")


def test_that_the_form_has_the_edition_and_each_row() -> None:
    form = own_form(CODE, PLAIN)
    assert [part.row_id for part in form] == ["", *(row.id for row in CODE.rows)]
    assert all(field.label for part in form for field in part.fields)
    rate = fields(CODE)["rows.0.rule.rate"]
    assert (rate.text, rate.unit, rate.entry, rate.needed) == (
        "4",
        "cfm/100 ft²",
        LimitInput.NUMBER,
        True,
    )


@pytest.mark.parametrize("edition", CATALOGUE.editions, ids=lambda edition: edition.id)
def test_that_what_the_form_shows_can_be_typed_back_unchanged(edition: Edition) -> None:
    for preferences in (PLAIN, COMMA):
        for field in fields(edition, preferences).values():
            if field.options:
                again = choose_own(edition, field.path, field.chosen, preferences)
            else:
                again = enter_own(edition, field.path, field.text + " ", preferences)
            if field.entry is LimitInput.PARAGRAPH:
                continue
            assert again == edition, field.path


def test_that_each_way_of_an_either_or_rule_has_its_numbers() -> None:
    retrofit = copied("sample-retrofit-program")
    form = fields(retrofit)
    assert form["rows.0.rule.rules.0.percent"].label.startswith("Alternative 1: at most 15%")
    changed = entered(retrofit, "rows.0.rule.rules.1.percent", "55")
    rule = changed.rows[0].rule
    assert isinstance(rule, EitherOf)
    assert [getattr(part, "percent", None) for part in rule.rules] == [15.0, 55.0]


@pytest.mark.parametrize(
    ("text", "preferences", "value"),
    [("3.5", PLAIN, 3.5), ("3,5", COMMA, 3.5), (" 6 ", PLAIN, 6.0), ("1e1", PLAIN, 10.0)],
)
def test_that_a_number_is_read_in_the_users_style(
    text: str, preferences: Preferences, value: float
) -> None:
    rule = entered(CODE, "rows.0.rule.rate", text, preferences).rows[0].rule
    assert isinstance(rule, PerFloorArea)
    assert rule.rate == value


@pytest.mark.parametrize("text", ["", "  ", "four", "3,5", "0", "-4", "nan", "4 cfm", "1e999"])
def test_that_a_number_that_cannot_be_is_told_and_changes_nothing(text: str) -> None:
    finding = refused(CODE, "rows.0.rule.rate", text)
    assert finding.path == "rows.0.rule.rate"
    assert finding.what.startswith("Rate")
    assert "invalid" not in finding.text.lower()


def test_that_texts_days_and_counts_are_taken() -> None:
    made = entered(CODE, "rows.0.clause", " Ordinance 12, section 3 ")
    made = entered(made, "rows.0.verified_by", "A. Tester")
    made = entered(made, "rows.0.verified_on", "11 Mar 2026")
    made = entered(made, "rows.0.returns_max", "2")
    made = entered(made, "in_force_from", "2026-01-01")
    row = made.rows[0]
    assert (row.clause, row.verified_by, row.returns_max) == (
        "Ordinance 12, section 3",
        "A. Tester",
        2,
    )
    assert row.verified_on == date(2026, 3, 11)
    assert made.in_force_from == date(2026, 1, 1)
    cleared = entered(entered(made, "rows.0.verified_on", ""), "rows.0.returns_max", "")
    assert (cleared.rows[0].verified_on, cleared.rows[0].returns_max) == (None, None)


def test_that_needed_texts_cannot_be_emptied() -> None:
    assert "may not be empty" in refused(CODE, "rows.0.clause", "  ").what
    assert 'Row 1 ("rough-in-with-air-handler")' in refused(CODE, "rows.0.source", "").what


@pytest.mark.parametrize("text", ["soon", "2026-13-01", "11/03"])
def test_that_a_day_that_is_none_is_told(text: str) -> None:
    assert refused(CODE, "in_force_from", text).path == "in_force_from"


def test_that_an_end_before_the_start_is_told() -> None:
    made = entered(CODE, "in_force_from", "2026-01-01")
    assert "before" in refused(made, "in_force_to", "2025-12-31").what


def chosen(edition: Edition, path: str, *answers: str) -> Edition:
    made = choose_own(edition, path, answers, PLAIN)
    assert isinstance(made, Edition), made
    return made


def test_that_answers_are_taken_and_cleared() -> None:
    made = chosen(CODE, "rows.0.stages", "rough_in", "final")
    assert made.rows[0].stages == (Stage.ROUGH_IN, Stage.FINAL)
    assert chosen(made, "rows.0.stages").rows[0].stages == ()
    assert chosen(CODE, "rows.0.metric", "outside").rows[0].metric is Metric.OUTSIDE
    assert chosen(CODE, "rows.0.air_handler_installed", "no").rows[0].air_handler_installed is False
    assert chosen(CODE, "rows.0.air_handler_installed", "").rows[0].air_handler_installed is None
    assert chosen(CODE, "role", "program").role is EditionRole.PROGRAM
    assert chosen(chosen(CODE, "role", "program"), "role").role is None


def test_that_a_needed_answer_cannot_be_cleared() -> None:
    assert isinstance(choose_own(CODE, "rows.0.metric", (), PLAIN), Finding)


def test_that_mistakes_of_the_caller_are_errors() -> None:
    with pytest.raises(ValueError, match="no answer"):
        choose_own(CODE, "rows.0.metric", ("both",), PLAIN)
    with pytest.raises(KeyError, match="typed"):
        choose_own(CODE, "rows.0.clause", ("x",), PLAIN)
    with pytest.raises(KeyError, match="chosen"):
        enter_own(CODE, "rows.0.metric", "total", PLAIN)
    for path in ("rows.9.clause", "id", "rows.0.rule.kind", "nowhere"):
        with pytest.raises(KeyError):
            enter_own(CODE, path, "x", PLAIN)
