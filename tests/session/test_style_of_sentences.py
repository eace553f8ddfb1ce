"""Sentences in the window write numbers as the fields beside them do; papers as their language."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.i18n import speaking
from deskapp.session.branding import BrandingFile
from deskapp.session.editor import Editor
from deskapp.session.limit_words import row_words
from deskapp.session.limits_desk import likely_limits, likely_limits_in_steps
from deskapp.session.report_order import order_reports
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.units.display import in_sentences, words_key, writing
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

COMMA, POINT = NumberStyle.COMMA, NumberStyle.POINT


def lines(editor: Editor) -> str:
    outcomes = [one for system in editor.assessment.systems for one in system.outcomes]
    return " ".join(line for one in outcomes for line in (one.rule_text, *one.lines))


def test_that_a_sentence_is_written_as_its_language_or_as_wanted() -> None:
    # CLDR: a decimal point in the Spanish of the United States, a comma in Canadian French.
    for language, usual in (("en", "1.5"), ("es", "1.5"), ("fr_CA", "1,5")):
        with speaking(language):
            key = words_key()
            assert in_sentences().number(1.5, 1) == usual
            with writing(COMMA):
                assert in_sentences().number(1.5, 1) == "1,5"
            assert words_key() == key


@pytest.mark.parametrize("language", ["en", "es"])
def test_that_sentences_of_limits_follow_the_preference_and_papers_do_not(
    language: str,
) -> None:
    with speaking(language):
        shelf = load_shelf(resources_folder(), templates_folder())
        editor = open_sample("larkspur", shelf, Preferences(number_style=POINT))
        with_points = lines(editor)
        steps = [step.formula for test in editor.assessment.tests for step in test.steps]
        editor.prefer(Preferences(number_style=COMMA))
        with_commas = lines(editor)
        assert with_points != with_commas
        assert "." in with_points
        assert not [word for word in with_commas.split() if word[0].isdigit() and "." in word[:-1]]
        again = [step.formula for test in editor.assessment.tests for step in test.steps]
        assert any("0.6" in formula for formula in steps)
        assert any("0,6" in formula for formula in again)
        order = order_reports(editor, BrandingFile(), date(2026, 3, 12))
        on_paper = replace(order).in_its_language().assessment
        told = [line for one in on_paper.systems for o in one.outcomes for line in o.lines]
        assert all(line in with_points for line in told)
        assert order.source.formatter.show(Kind.NUMBER, 1.5) == "1.5"


def test_that_what_is_offered_is_written_as_preferred_too() -> None:
    shelf = load_shelf(resources_folder(), templates_folder())
    editor = open_sample("larkspur", shelf, Preferences(number_style=COMMA))
    steps = likely_limits_in_steps(editor)
    before = words_key()
    while True:
        try:
            next(steps)
        except StopIteration as end:
            found = end.value
            break
        assert words_key() == before
    assert found == likely_limits(editor)
    rows = [row_words(row, COMMA).rule for one in found for row in one.edition.rows]
    assert any("4,0" in rule for rule in rows)
