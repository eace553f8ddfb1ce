"""What is worked out again in another language is told as if it had never been told in one before.

A program that has spoken English all along is compared with one that is started in the language.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.i18n import ENGLISH, LANGUAGES, speaking, use_language
from deskapp.limits.likeliest import candidates
from deskapp.session.editor import Editor
from deskapp.session.help.topics import HelpBook
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.session.verdict_words import verdict_text

PROJECT = Path(__file__).parents[2]
SAMPLES = ("larkspur", "maple", "crossover", "clinic")


def opened() -> tuple[Shelf, list[Editor]]:
    shelf = load_shelf(resources_folder(), templates_folder())
    return shelf, [open_sample(name, shelf, Preferences()) for name in SAMPLES]


def all_told(shelf: Shelf, editors: list[Editor]) -> list[str]:
    """Everything worked out of the samples, as text, and all that help has to say."""
    found: list[str] = []
    for editor in editors:
        found.append(editor.assessment.model_dump_json())
        found += [finding.text for finding in editor.findings]
        found.append(verdict_text(editor.assessment, Preferences().formatter, editor.findings))
        for one in candidates(shelf.editions, editor.job):
            found += [point.why for point in one.points]
    book = HelpBook(shelf, Preferences())
    return [*found, *(repr(book.topic(entry.id)) for entry in book.entries())]


@pytest.mark.parametrize("spoken", [one for one in LANGUAGES if one != ENGLISH])
def test_that_nothing_is_kept_of_the_language_before(spoken: str) -> None:
    shelf, editors = opened()
    english = all_told(shelf, editors)
    with speaking(spoken):
        other = all_told(shelf, editors)
    assert all_told(shelf, editors) == english
    ran = subprocess.run(
        [sys.executable, __file__, spoken],
        capture_output=True,
        text=True,
        check=True,
        encoding="utf-8",
        env={**os.environ, "PYTHONPATH": str(PROJECT), "PYTHONIOENCODING": "utf-8"},
    )
    fresh = json.loads(ran.stdout)
    assert [pair for pair in zip(other, fresh, strict=True) if pair[0] != pair[1]] == []
    assert len(set(english) & set(other)) < len(english) / 10


if __name__ == "__main__":
    use_language(sys.argv[1])
    print(json.dumps(all_told(*opened())))
