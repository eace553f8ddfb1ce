"""The log of a sampling plan as a PDF, read back. The project is invented."""

from __future__ import annotations

import re
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from deskapp.domain.branding import Branding
from deskapp.domain.sampling import SamplingPlan
from deskapp.session import sampling_desk as desk
from deskapp.session.branding import BrandingFile
from deskapp.session.sampling_log_pdf import log_pdf, save_log_pdf
from deskapp.session.settings import Preferences

PLAIN = Preferences()
DAY = date(2026, 3, 2)
LOOK = BrandingFile(Branding(company="Example Duct Works"))


def empty_plan() -> SamplingPlan:
    rules, _problems = desk.rules(Path(__file__).parents[2] / "resources")
    rule = next(rule for rule in rules if rule.id == "resnet-2025")
    units = desk.read_units("\n".join(f"Unit {n}; type {n % 3}; {n} Court" for n in range(1, 61)))
    return desk.start(rule, units, "Court", "Ducts", "at most 40 cfm")


@pytest.fixture
def plan() -> SamplingPlan:
    drawn = desk.draw(empty_plan(), DAY, seed=11)
    first, second = desk.next_step(drawn).units[:2]
    for unit, met in ((first, True), (second, False), (second, True)):
        drawn = desk.enter_check(
            drawn,
            unit,
            met=met,
            day="2026-03-03",
            preferences=PLAIN,
            measured="31 cfm",
            checked_by='Tester "A" & son',
        )
    return drawn


def text_of(data: bytes) -> str:
    text = "".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)
    return re.sub(r"\s", "", text)


def test_that_every_fact_draw_and_check_stands_on_paper(plan: SamplingPlan) -> None:
    text = text_of(log_pdf(plan, LOOK, PLAIN, DAY))
    found = desk.log(plan)

    def stands(words: str) -> bool:
        return re.sub(r"\s", "", words) in text

    assert stands("Example Duct Works")
    due = [plan.unit_list.unit(key).name for key in desk.next_step(plan).units]
    assert due
    assert stands(f"{found.next}{', '.join(due)}")
    for fact in found.facts:
        assert stands(fact.text), fact
    for draw in found.draws:
        assert stands(", ".join(draw.drawn))
        assert stands(", ".join(draw.pool))
    assert text.count("31cfm") == len(found.checks) == 3
    assert stands('Tester "A" & son')
    assert stands("not met")
    assert stands("checked again")
    assert not stands("leads to other units than")


def test_that_a_forged_seed_is_told(plan: SamplingPlan) -> None:
    forged = plan.draws[0].model_copy(update={"seed": 12})
    changed = plan.model_copy(update={"draws": (forged,)})
    assert "otherunitsthanthoserecorded" in text_of(log_pdf(changed, LOOK, PLAIN, DAY))


def test_that_a_plan_without_a_draw_says_so() -> None:
    text = text_of(log_pdf(empty_plan(), BrandingFile(), PLAIN, DAY))
    assert "Nothinghasbeendrawnyet." in text
    assert "Nothinghasbeencheckedyet." in text


def test_that_the_same_plan_gives_the_same_bytes(plan: SamplingPlan) -> None:
    assert log_pdf(plan, LOOK, PLAIN, DAY) == log_pdf(plan, LOOK, PLAIN, DAY)


def test_that_the_ending_is_added_and_the_file_reads(plan: SamplingPlan, tmp_path: Path) -> None:
    path = save_log_pdf(plan, tmp_path / "court.log", LOOK, PLAIN, DAY)
    assert path.name == "court.log.pdf"
    assert len(PdfReader(path).pages) >= 1


def test_that_a_folder_that_is_not_there_is_told(plan: SamplingPlan, tmp_path: Path) -> None:
    with pytest.raises(desk.SamplingProblem) as caught:
        save_log_pdf(plan, tmp_path / "nowhere" / "log.pdf", LOOK, PLAIN, DAY)
    assert "log.pdf" in caught.value.text


def test_that_the_log_carries_the_plan_itself(plan: SamplingPlan, tmp_path: Path) -> None:
    reader = PdfReader(BytesIO(log_pdf(plan, LOOK, PLAIN, DAY)))
    [data] = reader.attachments["plan.ductsample"]
    (tmp_path / "plan.ductsample").write_bytes(data)
    assert desk.open_plan(tmp_path / "plan.ductsample") == plan
