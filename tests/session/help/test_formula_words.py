"""Formulas in other languages: their words are translated, their symbols and units are kept."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from babel.messages.pofile import read_po

from deskapp.catalog import files
from deskapp.catalog.formula_words import extract, formula_of
from deskapp.domain.data_files import resources_folder
from deskapp.i18n import ENGLISH, LANGUAGES, speaking
from deskapp.session.help.data import subjects
from deskapp.session.help.formulas import Formula, formula, formula_in_words

NAMED = sorted({name for subject in subjects() for name in subject.formulas})
OTHERS = [spoken for spoken in LANGUAGES if spoken != ENGLISH]
TOPICS = resources_folder() / "help" / "topics.toml"
# What a translation has to keep: symbols with a caret or an underscore, left sides of equations,
# names from the code, and the numbers of standards.
KEPT = re.compile(r"\w+\^\w+|[A-Za-z]+_\w+|\b[A-Za-z_]+ = |\b[A-Z]?[0-9]{3,}[0-9:-]*")


def words_of(one: Formula) -> list[str]:
    figures = [figure.text for figure in (*one.arguments, one.result)]
    return [text for text in (one.summary, *figures, one.holds, one.source) if text]


def test_that_the_words_gathered_are_those_that_help_shows() -> None:
    with TOPICS.open("rb") as file:
        gathered = {text for _line, _kind, text, _remarks in extract(file, (), (), {})}
    assert gathered == {text for name in NAMED for text in words_of(formula(name))}


@pytest.mark.parametrize("spoken", OTHERS)
@pytest.mark.parametrize("name", NAMED)
def test_that_a_formula_is_told_in_the_language_with_its_own_symbols(
    name: str, spoken: str
) -> None:
    english = formula(name)
    with speaking(spoken):
        other = formula_in_words(english)
    assert [(one.name, one.unit) for one in (*other.arguments, other.result)] == [
        (one.name, one.unit) for one in (*english.arguments, english.result)
    ]
    assert other.name == english.name
    for before, after in zip(words_of(english), words_of(other), strict=True):
        assert after != before
        missing = [part for part in KEPT.findall(before) if part.strip() not in after]
        assert missing == [], after


def test_that_english_shows_the_docstring_itself() -> None:
    for name in NAMED:
        assert formula_in_words(formula(name)) == formula(name)


def test_that_a_changed_docstring_is_open_again(tmp_path: Path) -> None:
    """A text is known to a catalog only as it stands; one word more and it waits."""
    with files.catalog_source("es").open("rb") as file:
        catalog = read_po(file)
    text = formula(NAMED[0]).summary
    assert catalog.get(text) is not None
    doc = f"{text} Always.\n\nReturns:\n    The flow [m3/s].\n\nSource: invented.\n"
    changed = formula_of("invented.one", doc)
    assert catalog.get(changed.summary) is None
    physics = tmp_path / "deskapp" / "physics"
    physics.mkdir(parents=True)
    (physics / "invented.py").write_text(f'def one():\n    """{doc}"""\n', encoding="utf-8")
    topics = tmp_path / "resources" / "help" / "topics.toml"
    topics.parent.mkdir(parents=True)
    topics.write_text('[[topics]]\nformulas = ["invented.one"]\n', encoding="utf-8")
    with topics.open("rb") as file:
        assert changed.summary in [found[2] for found in extract(file, (), (), {})]
