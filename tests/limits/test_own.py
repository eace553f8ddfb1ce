"""A limit of one's own: copied, changed, written, read back. Figures are invented."""

from __future__ import annotations

import re
import tomllib
from datetime import date
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from limit_cases import RULE, case, edition, row, rule
from pydantic import BaseModel

from deskapp.domain.limit import Edition, LimitRow, NominalFlow, Verification, Waiver
from deskapp.domain.result import Verdict
from deskapp.limits.catalogue import Catalogue, load
from deskapp.limits.judge import RULES, judge
from deskapp.limits.own import (
    OwnLimitProblem,
    as_toml,
    changed,
    checked,
    copy_edition,
    copy_row,
    edition_file_name,
    edition_from,
    free_id,
    read,
    remove_row,
    slug,
    taken_over,
)


def model_code(shipped: Catalogue, edition_id: str = "iecc-2018") -> Edition:
    found = shipped.edition(edition_id)
    assert found is not None
    return found


def again(code: Edition) -> Edition:
    return Edition.model_validate(tomllib.loads(as_toml(code)))


def test_that_every_shipped_edition_reads_back_as_it_was(shipped: Catalogue) -> None:
    for code in shipped.editions:
        assert again(code) == code, code.id


@given(
    words=st.text(alphabet=st.characters(exclude_categories=("Cs",)), min_size=1, max_size=80),
    number=st.floats(min_value=1e-6, max_value=1e6),
    day=st.none() | st.dates(),
)
def test_that_any_words_number_and_day_survive_the_file(
    words: str, number: float, day: date | None
) -> None:
    only = row(
        rule("per_floor_area", rate=number),
        clause=words,
        title=words,
        note=words,
        verified_by=words,
        verified_on=day,
    )
    assert again(edition(only)) == edition(only)


def test_that_a_file_explains_itself() -> None:
    lines = as_toml(edition(row(rule("absolute", flow=25.0)))).splitlines()
    assert lines[0].startswith("# ")
    assert "pressure_pa = 25.0" in lines
    assert not any("verified_on" in line for line in lines if not line.startswith("#"))


def test_that_a_copy_is_the_users_and_names_what_it_comes_from(shipped: Catalogue) -> None:
    copy = copy_edition(model_code(shipped), "our-town", "Our town amendment")
    assert (copy.id, copy.title) == ("our-town", "Our town amendment")
    assert copy.body == f"Own limit, after {model_code(shipped).body}"
    assert len(copy.rows) == 3
    for before, after in zip(model_code(shipped).rows, copy.rows, strict=True):
        assert after.status is Verification.USER
        assert (after.verified_by, after.verified_on) == ("", None)
        assert after.rule == before.rule
        assert after.source.startswith(
            f"Copied from International Energy Conservation Code, residential 2018, {before.clause}"
        )
        assert after.source.endswith(before.source)
    assert {waiver.status for waiver in copy.waivers} == {Verification.USER}


def test_that_single_rows_can_be_copied_without_what_they_leaned_on(shipped: Catalogue) -> None:
    copy = copy_edition(model_code(shipped, "iecc-2009"), "own", row_ids=["final-outside"])
    assert [one.id for one in copy.rows] == ["final-outside"]
    assert copy.rows[0].alternative_to == ""
    checklist = model_code(shipped, "energy-star-homes-3-2")
    without = copy_edition(checklist, "own", row_ids=["final"])
    assert without.waivers == ()
    with_it = copy_edition(checklist, "own", row_ids=["final", "outside"])
    assert [waiver.rows for waiver in with_it.waivers] == [("outside",)]


def test_that_a_row_that_is_not_there_cannot_be_copied(shipped: Catalogue) -> None:
    with pytest.raises(KeyError, match="nowhere"):
        copy_edition(model_code(shipped), "own", row_ids=["nowhere"])
    with pytest.raises(KeyError, match="nowhere"):
        copy_row(model_code(shipped), "nowhere")


def test_that_a_changed_number_changes_the_verdict(shipped: Catalogue) -> None:
    copy = copy_edition(model_code(shipped), "own")
    stricter = changed(copy, "rows.0.rule.rate", 3.5)
    of = case(54.0, area=(1520.0, "ft2"))
    assert judge(copy, copy.rows[0], of).verdict is Verdict.PASS
    assert judge(stricter, stricter.rows[0], of).verdict is Verdict.FAIL
    assert again(stricter) == stricter


def test_that_a_row_is_copied_under_an_id_of_its_own(shipped: Catalogue) -> None:
    copy = copy_edition(model_code(shipped), "own")
    longer = copy_row(copy, "final")
    assert [one.id for one in longer.rows][-1] == "final-2"
    assert [one.id for one in copy_row(longer, "final").rows][-1] == "final-3"
    from_other = copy_row(copy, "altered-outside", model_code(shipped, "california-2008"))
    assert from_other.rows[-1].alternative_to == ""
    assert remove_row(longer, "final-2") == copy


FAULTS: dict[str, tuple[str, Any, str]] = {
    # name: (path, value, what is told)
    "zero": ("rows.0.rule.rate", 0.0, "above 0"),
    "minus": ("rows.0.rule.rate", -4.0, "above 0"),
    "not a number": ("rows.0.rule.rate", float("nan"), "finite"),
    "endless": ("rows.0.rule.rate", float("inf"), "finite"),
    "words": ("rows.0.rule.rate", "four", "should be a number"),
    "no clause": ("rows.0.clause", "", "may not be empty"),
    "no source": ("rows.0.source", "", "may not be empty"),
    "no pressure": ("rows.0.pressure_pa", None, "pressure_pa"),
    "no rows": ("rows", (), "at least 1"),
    "no flow unit": ("unit", "Pa", "not a unit of air flow"),
    "no id": ("id", "", "may not be empty"),
    "a day that is none": ("rows.0.verified_on", "soon", "should be a date"),
    "an unknown stage": ("rows.0.stages", ("someday",), "one of"),
    "part of a return": ("rows.0.returns_max", 2.5, "whole number"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_that_a_change_that_cannot_be_is_told_with_row_and_entry(
    shipped: Catalogue, name: str
) -> None:
    path, value, told = FAULTS[name]
    copy = copy_edition(model_code(shipped), "own")
    with pytest.raises(OwnLimitProblem) as caught:
        changed(copy, path, value)
    assert caught.value.code == "not-an-edition"
    assert told in caught.value.text
    assert "invalid" not in caught.value.text.lower()
    if path.startswith("rows.0."):
        assert 'row 1 ("rough-in-with-air-handler")' in caught.value.text.lower()
        last = path.split(".")[-1]
        assert any(last in fault.path for fault in caught.value.faults) or name == "no pressure"


def test_that_several_faults_are_all_told() -> None:
    data = {"id": "", "body": "B", "title": "T", "unit": "cfm", "rows": [{"id": "a"}]}
    with pytest.raises(OwnLimitProblem) as caught:
        edition_from(data)
    assert len(caught.value.faults) >= 5
    assert {"id", "rows.0.clause"} <= {fault.path for fault in caught.value.faults}


def test_that_a_row_others_lean_on_is_not_taken_away(shipped: Catalogue) -> None:
    copy = copy_edition(model_code(shipped, "iecc-2009"), "own")
    with pytest.raises(OwnLimitProblem, match="final-total"):
        remove_row(copy, "final-total")


def test_that_a_place_that_is_not_there_is_a_key_error(shipped: Catalogue) -> None:
    with pytest.raises(KeyError):
        changed(model_code(shipped), "rows.9.clause", "x")
    with pytest.raises(KeyError):
        changed(model_code(shipped), "colour", "x")


@pytest.mark.parametrize(
    ("text", "name"),
    [
        ("Our Town 2026", "our-town-2026"),
        ("../../etc/x", "etc-x"),
        ("", "limit"),
        ("???", "limit"),
        ("Ä" * 5, "limit"),
        ("a" * 100, "a" * 60),
    ],
)
def test_that_an_id_makes_a_plain_file_name(text: str, name: str) -> None:
    assert slug(text) == name
    made = edition_file_name(
        edition(row(rule("absolute", flow=1.0))).model_copy(update={"id": text})
    )
    assert made == name.replace("-", "_") + ".toml"
    assert Path(made).name == made


@given(st.text(max_size=80))
def test_that_no_id_leads_out_of_its_folder(text: str) -> None:
    assert set(slug(text)) <= set("abcdefghijklmnopqrstuvwxyz0123456789-")


def test_that_a_taken_id_gets_the_next_number() -> None:
    assert free_id("Our Town", []) == "our-town"
    assert free_id("our-town", ["our-town"]) == "our-town-2"
    assert free_id("our-town", ["our-town", "our-town-2"]) == "our-town-3"


def test_that_a_name_clash_is_refused_or_renamed() -> None:
    theirs = edition(row(rule("absolute", flow=25.0), status=Verification.CODE_TEXT))
    with pytest.raises(OwnLimitProblem) as caught:
        taken_over(theirs, ["invented"])
    assert caught.value.code == "id-taken"
    assert '"invented"' in caught.value.text
    assert taken_over(theirs, ["invented"], rename=True).id == "invented-2"


def test_that_what_others_hand_over_never_looks_official() -> None:
    theirs = edition(
        row(
            rule("absolute", flow=25.0),
            status=Verification.CODE_TEXT,
            verified_by="A. Tester",
            verified_on=date(2026, 1, 2),
        )
    )
    mine = taken_over(theirs, [])
    assert mine.rows[0].status is Verification.USER
    assert mine.rows[0].verified_by == "A. Tester"


def test_that_a_file_that_cannot_be_read_names_file_row_and_entry(tmp_path: Path) -> None:
    good = as_toml(edition(row(rule("absolute", flow=25.0))))
    (tmp_path / "broken.toml").write_text(good.replace("flow = 25.0", "flow = -1.0"))
    with pytest.raises(OwnLimitProblem) as caught:
        read(tmp_path / "broken.toml")
    assert "broken.toml" in caught.value.text
    assert 'row 1 ("only"), rule.absolute.flow: it should be above 0' in caught.value.text
    (tmp_path / "line.toml").write_text(good + "\nflow = \n")
    with pytest.raises(OwnLimitProblem, match="line"):
        read(tmp_path / "line.toml")
    with pytest.raises(OwnLimitProblem, match=r"gone\.toml"):
        read(tmp_path / "gone.toml")


def test_that_a_written_copy_is_found_among_the_editions(
    shipped: Catalogue, shipped_folder: Path, tmp_path: Path
) -> None:
    copy = copy_edition(model_code(shipped), "our-town")
    (tmp_path / edition_file_name(copy)).write_text(as_toml(copy), encoding="utf-8")
    both = load(shipped_folder, tmp_path)
    assert both.problems == ()
    assert both.edition("our-town") == copy == checked(copy)


README = (Path(__file__).parents[2] / "resources" / "limits" / "README.md").read_text("utf-8")


@pytest.mark.parametrize("record", [Edition, LimitRow, NominalFlow, Waiver])
def test_that_the_description_of_the_file_names_every_entry(record: type[BaseModel]) -> None:
    missing = [name for name in record.model_fields if name not in README]
    assert missing == []


def test_that_the_description_shows_every_rule_and_condition() -> None:
    shown = set(re.findall(r'kind = "(\w+)"', README))
    assert shown == {
        *RULES,
        "either_of",
        "answer",
        "below",
        "total_within",
        "tight_house",
        "stated",
    }


def test_that_the_rules_of_the_description_can_be_read() -> None:
    lines = [line for line in README.splitlines() if line.startswith("rule = ")]
    read_back = [tomllib.loads(line)["rule"] for line in lines if "[ ... ]" not in line]
    assert len(read_back) == len(RULES)
    for data in read_back:
        assert RULE.validate_python(data).kind in RULES


def test_that_the_waiver_of_the_description_can_be_read() -> None:
    text = README[README.rindex("[[waivers]]") :].split("```")[0]
    (data,) = tomllib.loads(text)["waivers"]
    assert len(Waiver.model_validate(data).ways) == 5
