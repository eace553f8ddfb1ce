"""The library that reads the command line says its own words in the language in use.

What it can say is read from its source; that is what ours are checked against.
"""

from __future__ import annotations

import argparse
import ast
import inspect
from collections.abc import Callable
from typing import Any

import pytest

from deskapp.app.argparse_words import WORDS
from deskapp.i18n import ENGLISH, LANGUAGES, speaking

Run = Callable[..., Any]

# Said to whoever writes a program with that library, or by parts of it that are not used here.
TO_PROGRAMMERS = (
    ".__call__() not defined",
    "conflicting",
    'argument "-" with mode %r',
    "can't open",
    "cannot merge actions",
    "'required' is an",
    "invalid option string",
    "dest= is required",
    "invalid conflict_resolution",
    "mutually exclusive arguments must",
    "cannot have multiple subparser",
    "%r is not callable",
    "subcommands",
    "show program's version number",
    "is deprecated",
    "command '%(parser_name)s'",
    "option '%(option)s'",
    "argument '%(argument_name)s'",
)


def said() -> set[str]:
    """What the library hands to the function that looks words up."""
    tree = ast.parse(inspect.getsource(argparse))
    return {
        text.value
        for call in ast.walk(tree)
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "_"
        for text in call.args
        if isinstance(text, ast.Constant) and isinstance(text.value, str)
    }


def test_that_we_have_words_for_all_it_tells_a_user() -> None:
    rest = [text for text in said() if text not in WORDS]
    assert [text for text in rest if not any(known in text for known in TO_PROGRAMMERS)] == []


def test_that_places_to_fill_stay_the_same_in_each_language() -> None:
    from deskapp.app import argparse_words

    values = {"prog": "p", "message": "m", "argument_name": "a", "option": "o", "matches": "x"}
    values |= {"type": "t", "value": "v", "choices": "c", "suggestion": "s", "parser_name": "n"}
    for language in LANGUAGES:
        with speaking(language):
            for text in WORDS:
                ours = argparse_words._said(text)
                if "%(" in text:
                    assert ours % values
                elif "%" in text:
                    assert ours % "one"
            for count in (1, 2):
                ours = argparse_words._counted(
                    "expected %s argument", "expected %s arguments", count
                )
                assert str(count) in ours % count


@pytest.mark.parametrize("language", [one for one in LANGUAGES if one != ENGLISH])
def test_that_help_and_mistakes_are_told_in_one_language(
    language: str, run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("DUCTFOLIO_LANGUAGE", language)
    told = [
        run("report", "--help").out,
        run("--help").out,
        run("report", "x", "--kind", "short").err,
        run("verdict").err,
        run("report", "--paper").err,
        run("batch", "x", "--workers", "two").err,
        run("limits", "a", "b").err,
        run("one.ductjob", "two.ductjob").err,
    ]
    for text in told:
        for english in ("usage", "positional", "argument", "invalid", "expected", "choose from"):
            assert english not in text
    assert ("options:" in told[0]) is (language == "fr_CA")  # the same word in French
