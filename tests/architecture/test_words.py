"""Words kept out of what a user reads: blame, and promises that no test result can give."""

from __future__ import annotations

import ast
import re
import tomllib
from collections.abc import Iterator

import pytest

BLAME = re.compile(
    r"\b(invalid|illegal|failed|erroneous|incorrect(ly)?|user error)\b", re.IGNORECASE
)
PROMISE = re.compile(r"\b(is|are|be) (now )?safe\b(?! to\b)", re.IGNORECASE)
DENIAL = re.compile(r"\b(not?|never|cannot|nothing|nor|whether|until)\b", re.IGNORECASE)

# Callable -> how many of its leading arguments are codes, paths or typed text, not words to read.
SPEAKERS = {"_": 0, "N_": 0, "Finding": 3, "Problem": 2}
SILENT_KEYWORDS = {"code", "path", "level", "typed"}


def spoken(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and text of every string in `tree` that a user may come to read."""
    for call in ast.walk(tree):
        if not (isinstance(call, ast.Call) and isinstance(call.func, ast.Name)):
            continue
        if call.func.id in SPEAKERS:
            said = call.args[SPEAKERS[call.func.id] :]
            said += [word.value for word in call.keywords if word.arg not in SILENT_KEYWORDS]
            for argument in said:
                for node in ast.walk(argument):
                    if isinstance(node, ast.Constant) and isinstance(node.value, str):
                        yield node.lineno, node.value


def promises(text: str) -> list[str]:
    """Sentences of `text` that call something safe without denying it."""
    sentences = re.split(r"(?<=[.!?;:])\s+", text)
    return [s for s in sentences if PROMISE.search(s) and not DENIAL.search(s)]


def strings(value: object) -> Iterator[str]:
    """Every string inside a value read from TOML."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings(inner)


@pytest.fixture(scope="module")
def words_in_code(sources):
    return [
        (f"{source.place}:{line}", text)
        for source in sources
        if source.place.startswith("deskapp/")
        for line, text in spoken(source.tree)
    ]


@pytest.fixture(scope="module")
def words_in_data(root, project_files):
    files = [p for p in project_files if p.parts[0] in ("resources", "report_templates")]
    return [
        (path.as_posix(), text)
        for path in files
        if path.suffix == ".toml"
        for text in strings(tomllib.loads((root / path).read_text(encoding="utf-8")))
    ]


def test_that_messages_put_no_blame_on_the_user(words_in_code):
    assert len(words_in_code) > 30
    assert [(place, text) for place, text in words_in_code if BLAME.search(text)] == []


def test_that_nothing_promises_safety(words_in_code, words_in_data):
    said = words_in_code + words_in_data
    assert [(place, told) for place, text in said if (told := promises(text))] == []


def test_that_the_search_reads_messages_and_leaves_codes_alone():
    code = """
_("one")
Finding(Level.STOP, "invalid-date", "people.0.day", f"two {x}", mend=_("three"), code="failed")
Problem("illegal", typed, "four", allowed="five")
open("six")
"""
    words = {text for _, text in spoken(ast.parse(code))}
    assert words == {"one", "two ", "three", "four", "five"}


def test_that_a_promise_is_told_from_a_denial():
    assert promises("All seals hold. The house is safe.") == ["The house is safe."]
    assert promises("This test does not show that the house is safe.") == []
