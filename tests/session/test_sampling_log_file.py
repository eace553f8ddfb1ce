"""The log of a sampling plan as text and as a table. The project is invented."""

from __future__ import annotations

import csv
from datetime import date
from pathlib import Path

import pytest

from deskapp.domain.sampling import SamplingPlan
from deskapp.session import sampling_desk as desk
from deskapp.session.sampling_log_file import log_text, save_log
from deskapp.session.settings import Preferences

PLAIN = Preferences()
DAY = date(2026, 3, 2)


@pytest.fixture
def plan() -> SamplingPlan:
    rules, _problems = desk.rules(Path(__file__).parents[2] / "resources")
    rule = next(rule for rule in rules if rule.id == "resnet-2025")
    units = desk.read_units("\n".join(f"Unit {n}; type {n % 3}; {n} Court" for n in range(1, 21)))
    drawn = desk.draw(desk.start(rule, units, "Court", "Ducts", "at most 40 cfm"), DAY, seed=11)
    first, second = desk.next_step(drawn).units[:2]
    for unit, met in ((first, True), (second, False), (second, True)):
        drawn = desk.enter_check(
            drawn,
            unit,
            met=met,
            day="2026-03-03",
            preferences=PLAIN,
            measured="31 cfm",
            checked_by='Tester "A", rater',
        )
    return drawn


def test_that_the_text_tells_rule_draws_checks_and_the_next_step(plan: SamplingPlan) -> None:
    text = log_text(plan, PLAIN.formatter)
    found = desk.log(plan)
    for fact in found.facts:
        assert fact.label in text
        assert fact.text in text
    assert "Seed: 11" in text
    assert ", ".join(found.draws[0].pool) in text
    assert text.count("31 cfm") == 3
    assert "not met" in text
    assert "checked again" in text
    assert found.next in text
    assert "other units" not in text


def test_that_a_draw_that_does_not_follow_from_its_seed_is_told(plan: SamplingPlan) -> None:
    forged = plan.draws[0].model_copy(update={"seed": 12})
    text = log_text(plan.model_copy(update={"draws": (forged,)}), PLAIN.formatter)
    assert "other units than those recorded" in text


def test_that_the_table_reads_back(plan: SamplingPlan, tmp_path: Path) -> None:
    path = save_log(plan, tmp_path / "log.csv", PLAIN.formatter)
    with path.open(encoding="utf-8-sig", newline="") as lines:
        head, *rows = list(csv.reader(lines))
    found = desk.log(plan).checks
    assert len(rows) == len(found) == 3
    assert [row[head.index("Unit")] for row in rows] == [check.unit for check in found]
    assert [row[head.index("Outcome")] for row in rows] == ["met", "not met", "met"]
    assert {row[head.index("Checked by")] for row in rows} == {'Tester "A", rater'}
    assert rows[0][head.index("Day")] == "2026-03-03"


def test_that_text_is_written_where_no_ending_is_given(plan: SamplingPlan, tmp_path: Path) -> None:
    path = save_log(plan, tmp_path / "log", PLAIN.formatter)
    assert path.name == "log.txt"
    assert path.read_text(encoding="utf-8") == log_text(plan, PLAIN.formatter)


def test_that_a_place_that_takes_no_file_is_told(plan: SamplingPlan, tmp_path: Path) -> None:
    with pytest.raises(desk.SamplingProblem, match="could not be written"):
        save_log(plan, tmp_path / "no such folder" / "x", PLAIN.formatter)
