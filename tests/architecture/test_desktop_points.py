"""What the desktop owes whoever works with it is proved by tests that are there and do it."""

from __future__ import annotations

import re
import sys
import tomllib
from pathlib import Path
from typing import NotRequired, TypedDict

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from kinds_of_test import TESTS, functions_of, kinds_of


class Elsewhere(TypedDict):
    """A part that cannot be proved here, and the line of the guide by which a person does."""

    what: str
    needs: str
    by_hand: str


class Point(TypedDict):
    """One row of the table."""

    number: int
    says: str
    kinds: str
    tests: dict[str, list[str]]
    by_hand: NotRequired[list[str]]
    elsewhere: NotRequired[list[Elsewhere]]


POINTS: list[Point] = tomllib.loads(
    Path(__file__).with_name("desktop_points.toml").read_text("utf-8")
)["points"]
EACH = pytest.mark.parametrize("point", POINTS, ids=[str(one["number"]) for one in POINTS])
NEEDS = {"another operating system", "a screen reader", "a screen and eyes"}
"""What no test has: the only reasons to leave something to a person."""
LINE = re.compile(r"^- \*\*(H\d+)\*\* ", re.MULTILINE)


def lines_by_hand() -> list[str]:
    """Return the marks of the lines in the list of what is done by hand."""
    guide = (TESTS.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    part = guide.partition("### By hand, once for each release")[2].partition("\n#")[0]
    listed = part.count("\n- ")
    marks = LINE.findall(part)
    assert len(marks) == listed > 0, "each line has its mark"
    return marks


def by_hand(point: Point) -> list[str]:
    """Return the marks that a point names."""
    return [*point.get("by_hand", []), *(one["by_hand"] for one in point.get("elsewhere", []))]


def test_that_there_are_forty_points_each_once() -> None:
    assert [point["number"] for point in POINTS] == list(range(1, 41))
    assert len({point["says"] for point in POINTS}) == 40
    for point in POINTS:
        assert point.keys() <= Point.__annotations__.keys()
        assert re.fullmatch("u?q?s?m?", point["kinds"])
        assert point["kinds"]


@EACH
def test_that_every_test_named_is_there_and_of_its_kind(point: Point) -> None:
    for kind, tests in point["tests"].items():
        assert tests
        for one in tests:
            file, _colons, name = one.partition("::")
            assert name.startswith("test_"), one
            assert name in functions_of(TESTS / file), one
            assert kind in kinds_of(TESTS / file, name), f"{one} is no test of kind {kind}"


@EACH
def test_that_no_test_is_named_twice(point: Point) -> None:
    every = [one for tests in point["tests"].values() for one in tests]
    assert len(set(every)) == len(every)


@EACH
def test_that_each_kind_asked_for_is_proved_so(point: Point) -> None:
    proved = {*point["tests"], *("m" for _line in point.get("by_hand", []))}
    assert set(point["kinds"]) <= proved
    assert proved <= set("uqsm")


@EACH
def test_that_only_what_cannot_be_had_here_is_left_to_a_person(point: Point) -> None:
    for one in point.get("elsewhere", []):
        assert one.keys() == Elsewhere.__annotations__.keys()
        assert one["needs"] in NEEDS
        assert len(one["what"].split()) > 3


def test_that_the_guide_and_the_points_name_the_same_lines_of_what_is_done_by_hand() -> None:
    marks = lines_by_hand()
    assert len(set(marks)) == len(marks)
    assert {mark for point in POINTS for mark in by_hand(point)} == set(marks)


# The search for kinds itself


NONE: set[str] = set()


def written(folder: Path, text: str) -> Path:
    file = folder / "test_made_up.py"
    file.write_text(text, encoding="utf-8")
    return file


@pytest.mark.parametrize(
    ("text", "kinds"),
    [
        ("def test_a(tmp_path): assert tmp_path", {"u"}),
        ("import deskapp.session.editor\ndef test_a(): pass", {"u"}),
        ("import deskapp.ui.theme\ndef test_a(): pass", NONE),
        ("import PySide6\ndef test_a(): pass", NONE),
        ("def test_a(qapp): pass", NONE),
        ("def test_a(qtbot): pass", {"q"}),
        ("@pytest.fixture\ndef box(qtbot): pass\ndef test_a(box): pass", {"q"}),
        ("@pytest.mark.usefixtures('qtbot')\ndef test_a(): pass", {"q"}),
        ("pytestmark = pytest.mark.usefixtures('qtbot')\ndef test_a(): pass", {"q"}),
        ("def test_a(qtbot, w): assert w.grab().toImage()", {"q", "s"}),
        ("def look(w): return w.pixelColor(0, 0)\ndef test_a(w): assert look(w)", {"u", "s"}),
        ("def look(w): return w.pixelColor(0, 0)\ndef test_a(w): assert w", {"u"}),
    ],
)
def test_that_a_kind_is_told_by_what_a_test_does(
    tmp_path: Path, text: str, kinds: set[str]
) -> None:
    assert kinds_of(written(tmp_path, text), "test_a") == kinds
