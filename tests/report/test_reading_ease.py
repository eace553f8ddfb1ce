"""The homeowner's report reads easily in French too.

The measure is the reading ease of Flesch as Kandel and Moles carried it to French, as the library
textstat counts it: 207 - 1.015 words per sentence - 73.6 syllables per word. Source: L. Kandel and
A. Moles, Application de l'indice de Flesch à la langue française, 1958; from memory, not checked
against the text. From 60 on a text is plain, from 70 on fairly easy. It holds for a whole text.
"""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from report_jobs import report_input, shelf_parts
from test_reading_grade import JOBS, sentences_of, textstat

from deskapp.domain.vocabulary import Audience
from deskapp.i18n import _, speaking
from deskapp.report.build.document import build
from deskapp.report.template import in_words_of_the_language

LEAST_EASE = 75.0

FRENCH = type(textstat)()
FRENCH.set_lang("fr")


@pytest.fixture(autouse=True)
def french() -> Iterator[None]:
    with speaking("fr_CA"):
        yield


def ease(text: str) -> float:
    return FRENCH.flesch_reading_ease(text.replace("’", "'").replace("\N{NO-BREAK SPACE}", " "))


def test_that_the_ease_of_a_known_text_is_right():
    # Counted by hand: 2 sentences, 12 words, 13 syllables.
    # 207 - 1.015 * 6 - 73.6 * 13 / 12 = 121.2. The library rounds syllables per word to a tenth.
    text = "Le chat dort sur le lit. Le chien est sur le tapis."
    assert ease(text) == pytest.approx(121.2, abs=3.7)


@pytest.mark.parametrize("job", JOBS)
def test_that_the_homeowner_report_is_easy_in_french(homeowner, job):
    text = sentences_of(build(in_words_of_the_language(homeowner), report_input(job)))
    assert len(text.split()) > 150
    assert "conduits" in text
    assert ease(text) >= LEAST_EASE


def test_that_the_cautions_of_the_owner_are_easy_in_french():
    told = [
        _(one.text) for one in shelf_parts()["cautions"] if one.audience is not Audience.COMPLIANCE
    ]
    assert len(told) > 20
    assert ease(" ".join(told)) >= LEAST_EASE
