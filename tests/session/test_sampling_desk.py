"""Sampling as the window asks for it: lists, draws, checks, files. Projects are invented."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.domain.sampling import SamplingPlan, UnitList
from deskapp.session import sampling_desk as desk
from deskapp.session.sampling_desk import SamplingProblem, StepKind
from deskapp.session.settings import Preferences
from deskapp.units.numbers import NumberStyle

RULES, PROBLEMS = desk.rules(Path(__file__).parents[2] / "resources")
DAY = date(2026, 3, 2)
PLAIN = Preferences()
TEXT = "Unit 1; two rooms; 1 Sample Court\n\nUnit 2\tthree rooms\t2 Sample Court\n Unit 3 \n"


def plan(count: int = 20) -> SamplingPlan:
    units = desk.read_units("\n".join(f"Unit {n}; type {n % 3}" for n in range(1, count + 1)))
    rule = next(rule for rule in RULES if rule.id == "resnet-2025")
    return desk.start(rule, units, "Invented court", "Duct leakage", "at most 40 cfm")


def test_that_the_rules_of_the_program_are_found() -> None:
    assert PROBLEMS == ()
    assert len(RULES) == 3


def test_that_a_pasted_list_is_read_line_by_line() -> None:
    units = desk.read_units(TEXT).units
    assert [(unit.key, unit.name, unit.kind, unit.address) for unit in units] == [
        ("u1", "Unit 1", "two rooms", "1 Sample Court"),
        ("u2", "Unit 2", "three rooms", "2 Sample Court"),
        ("u3", "Unit 3", "", ""),
    ]
    assert desk.read_units("  \n\n").units == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Unit 1\nUnit 2\nunit 1", "Line 3 repeats “unit 1” of line 1"),
        ("Unit 1\n ; two rooms", "Line 2"),
        ("\n".join(f"u {n}" for n in range(10_002)), "more than 10,000"),
    ],
)
def test_that_a_list_that_cannot_be_names_the_line(text: str, told: str) -> None:
    with pytest.raises(SamplingProblem, match=told):
        desk.read_units(text)


@given(st.text(max_size=200))
def test_that_no_text_breaks_the_reading_of_a_list(text: str) -> None:
    try:
        assert isinstance(desk.read_units(text), UnitList)
    except SamplingProblem as problem:
        assert problem.text


def test_that_a_draw_records_its_seed_and_can_be_repeated() -> None:
    first = desk.draw(plan(), DAY, seed=11)
    assert first.draws[0].seed == 11
    assert desk.draw(plan(), DAY, seed=11) == first
    seeds = {desk.new_seed() for _ in range(50)}
    assert len(seeds) > 45
    assert desk.draw(plan(), DAY).draws[0].seed >= 0


def test_that_a_check_is_entered_with_a_typed_day() -> None:
    drawn = desk.draw(plan(), DAY, seed=11)
    unit = desk.next_step(drawn).units[0]
    of = desk.enter_check(
        drawn, unit, met=True, day="2 Mar 2026", preferences=PLAIN, measured="31 cfm"
    )
    assert of.checks[0].checked_on == DAY
    assert desk.log(of).checks[0].measured == "31 cfm"
    assert desk.progress(of).not_met == ()


@pytest.mark.parametrize("day", ["", "soon", "2026-02-30", "1 Mar 2026"])
def test_that_a_check_on_a_day_that_cannot_be_is_refused(day: str) -> None:
    drawn = desk.draw(plan(), DAY, seed=11)
    unit = desk.next_step(drawn).units[0]
    with pytest.raises(SamplingProblem) as caught:
        desk.enter_check(drawn, unit, met=True, day=day, preferences=PLAIN)
    assert caught.value.text


def test_that_a_plan_goes_on_where_it_was_saved(tmp_path: Path) -> None:
    drawn = desk.draw(plan(), DAY, seed=11)
    path = desk.save_plan(drawn, tmp_path / "court")
    assert path.name == "court.ductsample"
    again = desk.open_plan(path)
    assert again == drawn
    assert desk.next_step(again) == desk.next_step(drawn)
    assert desk.next_step(again).kind is StepKind.CHECK
    assert desk.save_plan(drawn, path) == path


def test_that_a_place_that_takes_no_file_is_told(tmp_path: Path) -> None:
    with pytest.raises(SamplingProblem, match="could not be written"):
        desk.save_plan(plan(), tmp_path / "no such folder" / "x")


GOOD = {"format": "ductfolio-sampling", "version": 1}
BAD_FILES = {
    "empty": (b"", "damaged"),
    "not text": (b"\xff\xfe\x00", "damaged"),
    "deep": (b"[" * 100_000, "damaged"),
    "a list": (b"[1]", "no-plan"),
    "another format": (b'{"format": "x"}', "no-plan"),
    "a later version": (json.dumps({**GOOD, "version": 2}).encode(), "version"),
    "no plan": (json.dumps(GOOD).encode(), "damaged"),
    "half a plan": (json.dumps({**GOOD, "plan": {"draws": []}}).encode(), "damaged"),
}


@pytest.mark.parametrize("name", BAD_FILES)
def test_that_a_file_that_is_no_plan_is_named(tmp_path: Path, name: str) -> None:
    content, code = BAD_FILES[name]
    path = tmp_path / "bad.ductsample"
    path.write_bytes(content)
    with pytest.raises(SamplingProblem, match=r"bad\.ductsample") as caught:
        desk.open_plan(path)
    assert caught.value.code == code


def test_that_a_file_that_is_not_there_is_named(tmp_path: Path) -> None:
    with pytest.raises(SamplingProblem, match="gone"):
        desk.open_plan(tmp_path / "gone.ductsample")


@pytest.mark.parametrize(
    ("style", "written"),
    [(NumberStyle.POINT, "10,000"), (NumberStyle.COMMA, "10\N{NO-BREAK SPACE}000")],
)
def test_that_the_most_units_are_written_as_preferred(style: NumberStyle, written: str) -> None:
    """The marks are those of Unicode CLDR for English and Canadian French."""
    with pytest.raises(SamplingProblem) as problem:
        desk.read_units("\n".join(f"u {n}" for n in range(10_002)), style)
    assert f"more than {written} units" in problem.value.text
