"""The homeowner's report reads easily.

The grade is that of Flesch and Kincaid, as the library textstat counts it: 0.39 words per sentence
+ 11.8 syllables per word - 15.59. Source: Kincaid, Fishburne, Rogers and Chissom, Derivation of new
readability formulas for Navy enlisted personnel, 1975; from memory, not checked against the text.
The grade holds for a whole text, not for one sentence.

In Spanish the measure is that of Fernández Huerta, as the same library counts it: 206.84 - 60
syllables per word - 1.02 words per sentence, where 70 to 80 is "fairly easy". Source: José
Fernández Huerta, Medidas sencillas de lecturabilidad, Consigna 214, 1959; from memory, not checked
against the text.
"""

from __future__ import annotations

import warnings
from collections import defaultdict

import pytest
from report_jobs import report_input, retrofit, rough_in, sample, shelf_parts, with_leaks

from deskapp.domain.vocabulary import Audience
from deskapp.i18n import _, speaking
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.template import in_words_of_the_language

with warnings.catch_warnings():
    warnings.simplefilter("ignore")
    from textstat import textstat

HIGHEST_GRADE = 8.0
LOWEST_EASE_IN_SPANISH = 70.0

# Words that its word list does not know are parted by its hyphenation instead.
textstat.cmu_dict = defaultdict(list, textstat.cmu_dict)

SPANISH = type(textstat)()
SPANISH.set_lang("es")


def grade(text: str) -> float:
    return textstat.flesch_kincaid_grade(text)


def ease_in_spanish(text: str) -> float:
    return SPANISH.fernandez_huerta(text)


def sentences_of(document: b.Document) -> str:
    """The running text of a report: what is read, not the small print that is looked up."""
    parts: list[str] = []
    for block in document.blocks:
        match block:
            case b.Paragraph(role=b.TextRole.FINE):
                pass
            case b.Paragraph(text=text):
                parts.append("".join(span.text for span in text))
            case b.Banner(word=word, texts=texts):
                parts += [word + ".", *("".join(span.text for span in text) for text in texts)]
            case b.Numbered(items=items):
                parts += ["".join(span.text for span in item) for item in items]
            case b.SignedLines(lines=lines):
                parts += ["".join(span.text for span in line.text) for line in lines]
            case b.Notices(items=items):
                parts += ["".join(span.text for span in item.text) for item in items]
            case _:
                pass
    return " ".join(parts)


def test_that_the_grade_of_a_known_text_is_right():
    # Counted by hand: 2 sentences, 10 words, 11 syllables: 0.39 * 5 + 11.8 * 1.1 - 15.59 = -0.66.
    # The library rounds the syllables of a word to a tenth.
    assert grade("The cat sat on the mat. It was a sunny.") == pytest.approx(-0.66, abs=0.15)


JOBS = [rough_in(), rough_in(retested=True), retrofit()[0], with_leaks(0), sample("maple")]


@pytest.mark.parametrize("job", JOBS)
def test_that_the_homeowner_report_needs_no_more_than_eight_grades(homeowner, job):
    text = sentences_of(build(homeowner, report_input(job)))
    assert len(text.split()) > 150
    assert grade(text) <= HIGHEST_GRADE


def test_that_the_cautions_of_the_owner_need_no_more_than_eight_grades():
    told = [
        one.text for one in shelf_parts()["cautions"] if one.audience is not Audience.COMPLIANCE
    ]
    assert len(told) > 20
    assert grade(" ".join(told)) <= HIGHEST_GRADE


def test_that_the_ease_of_a_known_spanish_text_is_right():
    # Counted by hand: 2 sentences, 8 words, 12 syllables: 206.84 - 60 * 1.5 - 1.02 * 4 = 112.76.
    assert ease_in_spanish("El gato come pan. La casa es blanca.") == pytest.approx(112.76, abs=0.5)


@pytest.mark.parametrize("job", JOBS)
def test_that_the_homeowner_report_reads_easily_in_spanish(homeowner, job):
    with speaking("es"):
        text = sentences_of(build(in_words_of_the_language(homeowner), report_input(job)))
    assert len(text.split()) > 150
    assert ease_in_spanish(text) >= LOWEST_EASE_IN_SPANISH


def test_that_the_cautions_of_the_owner_read_easily_in_spanish():
    with speaking("es"):
        told = [
            _(one.text)
            for one in shelf_parts()["cautions"]
            if one.audience is not Audience.COMPLIANCE
        ]
    assert len(told) > 20
    assert ease_in_spanish(" ".join(told)) >= LOWEST_EASE_IN_SPANISH
