"""Reading editions from files: a broken one is named and left out, the rest still loads."""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.finding import Level
from deskapp.limits.catalogue import load

GOOD = """
id = "{id}"
body = "Invented"
title = "Invented rules"
unit = "cfm"

[[rows]]
id = "only"
title = "Only row"
clause = "1"
metric = "total"
pressure_pa = 25.0
rule = {{ kind = "per_floor_area", rate = 4.0 }}
status = "user"
source = "invented"
"""
SECOND_ROW = """
[[rows]]
id = "{id}"
title = "Second row"
clause = "{clause}"
metric = "total"
{pressure}
rule = {rule}
status = "{status}"
source = "{source}"
"""


def second(**changes: str) -> str:
    fields = {
        "id": "second",
        "clause": "2",
        "pressure": "pressure_pa = 25.0",
        "rule": '{ kind = "absolute", flow = 40.0 }',
        "status": "user",
        "source": "invented",
    }
    return GOOD.format(id="bad") + SECOND_ROW.format(**(fields | changes))


def write(folder: Path, name: str, text: str) -> None:
    folder.mkdir(exist_ok=True)
    (folder / name).write_text(text, encoding="utf-8")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    write(tmp_path / "limits", "good.toml", GOOD.format(id="good"))
    return tmp_path / "limits"


BROKEN = {
    "not TOML": ("id = ", "well-formed"),
    "a missing clause": (second(clause=""), 'row 2 ("second"), clause'),
    "a missing source": (second(source=""), 'row 2 ("second"), source'),
    "an unknown status": (second(status="certain"), 'row 2 ("second"), status'),
    "an unknown rule": (second(rule='{ kind = "guess" }'), 'row 2 ("second"), rule'),
    "a rate of zero": (
        second(rule='{ kind = "per_floor_area", rate = 0.0 }'),
        'row 2 ("second"), rule.per_floor_area.rate',
    ),
    "a number that is none": (
        second(rule='{ kind = "per_floor_area", rate = nan }'),
        'row 2 ("second"), rule.per_floor_area.rate',
    ),
    "an entry nobody knows": (second(pressure="pressure = 25.0"), 'row 2 ("second"), pressure'),
    "a missing pressure": (second(pressure=""), "pressure_pa"),
    "a repeated row id": (second(id="only"), "two rows have the id 'only'"),
    "an alternative to nothing": (
        second(pressure='pressure_pa = 25.0\nalternative_to = "nowhere"'),
        "'nowhere'",
    ),
    "a unit that is no flow": (GOOD.format(id="bad").replace('"cfm"', '"Pa"'), "'Pa'"),
    "no rows": (GOOD.format(id="bad").split("[[rows]]")[0], "rows"),
    "rows that are no table": (
        'id = "bad"\nbody = ""\ntitle = ""\nunit = "cfm"\nrows = [1]\n',
        "row 1: ",
    ),
}


@pytest.mark.parametrize("fault", BROKEN)
def test_that_a_broken_file_is_named_and_the_rest_still_loads(folder: Path, fault: str) -> None:
    text, told = BROKEN[fault]
    write(folder, "bad.toml", text)
    catalogue = load(folder)
    assert [edition.id for edition in catalogue.editions] == ["good"]
    (problem,) = catalogue.problems
    assert problem.level is Level.CHECK
    assert "bad.toml" in problem.what
    assert told in problem.what
    assert problem.mend


def test_that_a_file_in_another_encoding_is_named(folder: Path) -> None:
    (folder / "bad.toml").write_bytes(GOOD.format(id="böse").encode("latin-1"))
    (problem,) = load(folder).problems
    assert "bad.toml" in problem.what
    assert "UTF-8" in problem.what


def test_that_a_folder_named_like_a_file_is_named(folder: Path) -> None:
    (folder / "bad.toml").mkdir()
    catalogue = load(folder)
    assert "bad.toml" in catalogue.problems[0].what
    assert catalogue.edition("good") is not None


def test_that_a_repeated_edition_id_names_both_files(folder: Path) -> None:
    write(folder, "later.toml", GOOD.format(id="good").replace("Only row", "Another row"))
    catalogue = load(folder)
    (problem,) = catalogue.problems
    assert "later.toml" in problem.what
    assert "good.toml" in problem.what
    (edition,) = catalogue.editions
    assert edition.rows[0].title == "Only row"


def test_that_the_users_folder_adds_editions_and_never_replaces_one(
    folder: Path, tmp_path: Path
) -> None:
    extra = tmp_path / "own"
    write(extra, "own.toml", GOOD.format(id="own"))
    write(extra, "copy.toml", GOOD.format(id="good").replace("4.0", "400.0"))
    write(extra, "broken.toml", "[[")
    catalogue = load(folder, extra)
    assert [edition.id for edition in catalogue.editions] == ["good", "own"]
    assert catalogue.edition("good") == load(folder).edition("good")
    assert {problem.code for problem in catalogue.problems} == {
        "limit-file-unreadable",
        "limit-id-repeated",
    }


def test_that_a_missing_users_folder_is_no_matter(folder: Path, tmp_path: Path) -> None:
    assert load(folder, tmp_path / "nothing").problems == ()


def test_that_a_missing_folder_of_published_limits_is_told(tmp_path: Path) -> None:
    catalogue = load(tmp_path / "nothing")
    assert catalogue.editions == ()
    assert [problem.code for problem in catalogue.problems] == ["limit-folder-missing"]


def test_that_an_unknown_edition_is_none(folder: Path) -> None:
    assert load(folder).edition("unknown") is None
