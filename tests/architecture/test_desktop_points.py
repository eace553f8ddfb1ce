"""What the desktop owes whoever works with it is proved by tests that are there."""

from __future__ import annotations

import ast
import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

TESTS = Path(__file__).resolve().parents[1]
POINTS = tomllib.loads(Path(__file__).with_name("desktop_points.toml").read_text("utf-8"))["points"]
WITH_A_WINDOW = re.compile(r"ui/")


@cache
def _named_in(file: str) -> set[str]:
    tree = ast.parse((TESTS / file).read_text(encoding="utf-8"))
    return {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}


def test_that_there_are_forty_points_each_once() -> None:
    assert [point["number"] for point in POINTS] == list(range(1, 41))
    assert len({point["says"] for point in POINTS}) == 40


@pytest.mark.parametrize("point", POINTS, ids=lambda point: str(point["number"]))
def test_that_every_test_named_is_there(point: dict[str, object]) -> None:
    named = point["tests"]
    assert isinstance(named, list)
    assert named
    for one in named:
        file, _colons, name = str(one).partition("::")
        assert name in _named_in(file), one


@pytest.mark.parametrize("point", POINTS, ids=lambda point: str(point["number"]))
def test_that_each_kind_asked_for_is_among_them(point: dict[str, object]) -> None:
    kinds, named = str(point["kinds"]), point["tests"]
    assert isinstance(named, list)
    assert re.fullmatch("[uqsm]+", kinds)
    has_window = [bool(WITH_A_WINDOW.match(str(one))) for one in named]
    if "q" in kinds or "s" in kinds:
        assert any(has_window)
    if kinds == "u":
        assert not all(has_window)


def test_that_what_is_looked_at_by_hand_stands_in_the_guide() -> None:
    guide = (TESTS.parent / "DEVELOPERS.md").read_text(encoding="utf-8")
    assert "### By hand, once for each release" in guide
