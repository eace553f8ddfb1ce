"""The catalogs that translators edit: whole, in step with the program, and ready to be used."""

from __future__ import annotations

import ast
import re
import shutil
from collections import Counter
from gettext import GNUTranslations
from pathlib import Path
from string import Formatter

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

import deskapp
from deskapp.catalog import files
from deskapp.catalog.gather import gather, refresh
from deskapp.i18n import ENGLISH, LANGUAGES

# Texts that may still wait for a translation. Translators lower these to 0 and keep them there.
STILL_OPEN = {"es": 0, "fr_CA": 0}

TRANSLATED = [language for language in LANGUAGES if language != ENGLISH]


def read(language: str) -> Catalog:
    with files.catalog_source(language).open("rb") as file:
        return read_po(file, abort_invalid=True)


@pytest.fixture(scope="module")
def gathered() -> Catalog:
    return gather()


@pytest.fixture(scope="module", params=TRANSLATED)
def language(request) -> str:
    return request.param


@pytest.fixture(scope="module")
def pairs(language) -> list[tuple[str, str]]:
    """Each original with each translation there is of it."""
    return [
        pair
        for message in read(language)
        if message.id and not files.is_open(message)
        for pair in (
            zip(message.id, message.string, strict=True)
            if message.pluralizable
            else [(message.id, message.string)]
        )
    ]


def test_that_a_catalog_compiles_and_is_read(language, tmp_path: Path):
    target = tmp_path / "new" / "words.mo"
    files.compile_catalog(files.catalog_source(language), target)
    with target.open("rb") as file:
        assert GNUTranslations(file).info()["language"] == language


def test_that_a_catalog_is_in_step_with_the_program(language, gathered, tmp_path: Path):
    copy = tmp_path / language / "LC_MESSAGES" / "ductfolio.po"
    copy.parent.mkdir(parents=True)
    shutil.copy(files.catalog_source(language), copy)
    refresh(gathered, copy)
    stale = copy.read_bytes() != files.catalog_source(language).read_bytes()
    assert not stale, "run: python3 -m deskapp.bootstrap words"


def test_that_no_more_waits_for_translation_than_is_known(language):
    waiting = [message.id for message in read(language) if files.is_open(message)]
    assert len(waiting) <= STILL_OPEN[language], waiting[:10]


def test_that_no_translation_is_a_guess(language):
    assert [message.id for message in read(language) if message.id and message.fuzzy] == []


def places(text: str) -> Counter[str]:
    return Counter(name for _text, name, _spec, _turn in Formatter().parse(text) if name)


def places_differ(original: str, translated: str) -> bool:
    """A place may be said twice or left out of a singular, but none may be invented or lost."""
    try:
        return set(places(original)) != set(places(translated))
    except ValueError:
        return True


def test_that_places_to_fill_are_those_of_the_original(pairs):
    assert [(one, other) for one, other in pairs if places_differ(one, other)] == []


def test_that_strong_marks_access_keys_and_outer_spaces_are_kept(pairs):
    def marks(text: str) -> tuple[int, bool, str, str]:
        bare = text.strip()
        before, _bare, after = text.partition(bare) if bare else (text, "", "")
        return text.count("**"), bool(re.search(r"&\w", text)), before, after

    assert [(one, other) for one, other in pairs if marks(one) != marks(other)] == []


def test_that_french_keeps_to_its_marks(pairs, language):
    if language == "fr_CA":
        wrong = re.compile(r"[“”]|[^\s\N{NO-BREAK SPACE}«0-9] :|«[^\N{NO-BREAK SPACE}]")
        assert [other for _one, other in pairs if wrong.search(other)] == []


def test_that_a_missing_compiled_catalog_is_made_in_the_cache(tmp_path: Path, monkeypatch):
    source = tmp_path / "i18n" / "es" / "LC_MESSAGES" / "ductfolio.po"
    source.parent.mkdir(parents=True)
    source.write_text(
        'msgid ""\nmsgstr "Content-Type: text/plain; charset=utf-8\\n"\n'
        'msgid "Paper"\nmsgstr "Papel"\n',
        encoding="utf-8",
    )
    monkeypatch.setattr(files, "catalogs_folder", lambda: tmp_path / "i18n")
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.setenv("HOME", str(tmp_path))
    words = files.words_of("es")
    assert words is not None
    assert words.gettext("Paper") == "Papel"
    assert not source.with_suffix(".mo").exists()
    assert files.words_of("xx") is None


def test_that_words_are_gathered_from_code_templates_and_data(gathered):
    origins = {
        location.partition("/")[0] for message in gathered for location, _ in message.locations
    }
    assert origins == {"deskapp", "report_templates", "resources"}
    texts = {message.id for message in gathered}
    assert "Damper shaft or zone damper body" in texts
    assert not texts & {"secondary", "homeowner", "Pa", "verdict_pass", "*"}
    assert ("{file} is saved, {n} page.", "{file} is saved, {n} pages.") in texts


def test_that_no_words_stay_out_of_the_catalog(gathered):
    """The extraction does not look into a text with fields (f"..."), so words there may be lost."""
    texts = {message.id[0] if message.pluralizable else message.id for message in gathered}
    lost = [
        (file.name, call.args[0].value)
        for file in Path(deskapp.__file__).parent.rglob("*.py")
        for call in ast.walk(ast.parse(file.read_text(encoding="utf-8")))
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Name)
        and call.func.id in {"_", "N_", "ngettext"}
        and isinstance(call.args[0], ast.Constant)
        and call.args[0].value not in texts
    ]
    assert lost == []


def test_that_a_percent_sign_stands_as_each_language_writes_it(
    language: str, pairs: list[tuple[str, str]]
) -> None:
    """At the number in English; parted by a space that is never broken in Spanish and French.

    The International System of Units, SI Brochure, 5.4.7, parts them; English usage does not:
    from memory.
    """
    parted = re.compile(r"[\d})][^\S\N{NO-BREAK SPACE}]?%(?![\w(])")
    assert [text for english, _other in pairs if re.search(r"[\d})]\s%", text := english)] == []
    assert [other for _english, other in pairs if parted.search(other)] == [], language
