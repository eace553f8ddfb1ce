"""Words of the window: translatable, without blame."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

import deskapp.ui

FILES = sorted(Path(deskapp.ui.__file__).parent.rglob("*.py"))
SENTENCE = re.compile(r"[A-Za-z]{2,} [A-Za-z]{2,}")
BLAME = re.compile(r"\b(invalid|illegal|failed|failure|wrong input|bad input)\b", re.IGNORECASE)
MARKERS = ("_", "N_", "ngettext", "pgettext")


def strings(tree: ast.Module) -> Iterator[tuple[str, bool]]:
    """Yield each text of a module that is no docstring, with whether it is marked as words."""
    skipped: set[ast.AST] = set()
    marked: set[ast.AST] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr):
            skipped.add(node.value)
        if isinstance(node, ast.Raise):
            skipped.update(ast.walk(node))
        called = node.func if isinstance(node, ast.Call) else None
        if isinstance(called, ast.Name) and called.id in MARKERS:
            marked.update(ast.walk(node))
    for node in ast.walk(tree):
        if not isinstance(node, ast.Constant) or not isinstance(node.value, str):
            continue
        if node not in skipped:
            yield node.value, node in marked


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_that_every_sentence_shown_can_be_translated(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    bare = [text for text, is_marked in strings(tree) if not is_marked]
    assert [text for text in bare if SENTENCE.search(text)] == []


@pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
def test_that_no_words_blame_the_person(file: Path) -> None:
    tree = ast.parse(file.read_text(encoding="utf-8"))
    assert [text for text, _marked in strings(tree) if BLAME.search(text)] == []
