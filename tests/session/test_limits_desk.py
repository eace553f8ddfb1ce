"""Limits of one's own in files, the likeliest editions, explanations."""

from __future__ import annotations

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from deskapp.domain.finding import Finding, Level
from deskapp.domain.limit import Edition, Verification
from deskapp.session.editor import Editor
from deskapp.session.habits import country_of
from deskapp.session.limits_desk import (
    Fit,
    LimitsDesk,
    LinePart,
    OwnLimitProblem,
    explained,
    likely_limits,
)
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

OTHER = Finding(level=Level.CHECK, code="data-file", what="Something else.")
ROOT = Path(__file__).parents[2]
RESOURCES, TEMPLATES = ROOT / "resources", ROOT / "report_templates"


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(RESOURCES, TEMPLATES)


@pytest.fixture
def desk(tmp_path: Path) -> LimitsDesk:
    return LimitsDesk(RESOURCES, tmp_path / "settings" / "limits")


@pytest.fixture
def copy(desk: LimitsDesk, shelf: Shelf) -> Edition:
    code = shelf.edition("iecc-2018")
    assert code is not None
    return desk.start(code, "Our town")


def test_that_the_editions_are_put_in_order_for_the_open_job(shelf: Shelf) -> None:
    editor = open_sample("larkspur", shelf, Preferences())
    found = likely_limits(editor)
    assert len(found) == len(shelf.offered) < len(shelf.editions)
    assert [entry.edition.id for entry in found if entry.is_chosen] == ["iecc-2021"]
    assert found[-1].fits is Fit.NO


def test_that_an_outcome_of_the_open_job_is_explained(shelf: Shelf) -> None:
    editor = open_sample("larkspur", shelf, Preferences())
    system = editor.assessment.systems[0]
    lines = explained(editor, system.system, system.outcomes[0])
    assert "4.0 cfm per 100 ft² × 1,520 ft² ÷ 100 = 60.8 cfm" in [line.text for line in lines]
    assert lines[0].part is LinePart.EDITION


def test_that_a_copy_is_kept_found_and_chosen(
    desk: LimitsDesk, copy: Edition, shelf: Shelf
) -> None:
    assert copy.id == "our-town"
    path = desk.keep(copy)
    assert path == desk.own_folder / "our_town.toml"
    files, problems = desk.own_limits()
    assert [(file.path, file.edition) for file in files] == [(path, copy)]
    assert problems == ()
    wider = desk.refreshed(shelf)
    assert wider.edition("our-town") == copy
    assert wider.sample_jobs == shelf.sample_jobs
    editor = open_sample("larkspur", wider, Preferences())
    editor.choose_limit("our-town")
    assert editor.job.compliance.limits[-1].edition == copy


def test_that_keeping_again_writes_over_the_same_file(desk: LimitsDesk, copy: Edition) -> None:
    path = desk.keep(copy)
    moved = path.rename(path.with_name("renamed by hand.toml"))
    changed = copy.model_copy(update={"title": "Our town, amended"})
    assert desk.keep(changed) == moved
    (file,), _problems = desk.own_limits()
    assert file.edition.title == "Our town, amended"


def test_that_another_file_of_that_name_is_left_alone(desk: LimitsDesk, copy: Edition) -> None:
    desk.own_folder.mkdir(parents=True)
    broken = desk.own_folder / "our_town.toml"
    broken.write_text("half a ", encoding="utf-8")
    assert desk.keep(copy).name == "our_town_2.toml"
    assert broken.read_text(encoding="utf-8") == "half a "
    _files, (problem,) = desk.own_limits()
    assert "our_town.toml" in problem.what


def test_that_a_second_copy_gets_an_id_of_its_own(
    desk: LimitsDesk, copy: Edition, shelf: Shelf
) -> None:
    desk.keep(copy)
    code = shelf.edition("iecc-2018")
    assert code is not None
    assert desk.start(code, "Our town").id == "our-town-2"
    assert desk.start(code, "IECC 2018").id == "iecc-2018-2"


def test_that_a_published_id_is_never_taken(desk: LimitsDesk, copy: Edition) -> None:
    with pytest.raises(OwnLimitProblem) as caught:
        desk.keep(copy.model_copy(update={"id": "iecc-2018"}))
    assert caught.value.code == "id-published"
    assert "“iecc-2018”" in caught.value.text
    assert not desk.own_folder.exists()


def test_that_what_is_no_edition_is_not_kept(desk: LimitsDesk, copy: Edition) -> None:
    with pytest.raises(OwnLimitProblem, match="empty"):
        desk.keep(copy.model_copy(update={"id": ""}))


def test_that_a_limit_is_dropped_once(desk: LimitsDesk, copy: Edition) -> None:
    path = desk.keep(copy)
    desk.drop("our-town")
    assert not path.exists()
    with pytest.raises(OwnLimitProblem, match="our-town"):
        desk.drop("our-town")


def test_that_a_dropped_limit_stays_in_its_jobs(
    desk: LimitsDesk, copy: Edition, shelf: Shelf
) -> None:
    desk.keep(copy)
    editor = open_sample("larkspur", desk.refreshed(shelf), Preferences())
    key = editor.choose_limit("our-town")
    before = editor.assessment
    desk.drop("our-town")
    editor.shelf = desk.refreshed(shelf)
    assert editor.shelf.edition("our-town") is None
    again = Editor(editor.job, editor.shelf, Preferences())
    assert key in {limit.key for limit in again.job.compliance.limits}
    assert again.assessment == before


def test_that_a_limit_travels_to_a_colleague(
    desk: LimitsDesk, copy: Edition, tmp_path: Path
) -> None:
    handed = desk.export(copy, tmp_path / "for a colleague")
    assert handed.name == "for a colleague.toml"
    theirs = LimitsDesk(RESOURCES, tmp_path / "theirs")
    assert theirs.take_over(handed) == copy
    (file,), _problems = theirs.own_limits()
    assert file.edition == copy


def test_that_a_clash_is_refused_or_renamed(
    desk: LimitsDesk, copy: Edition, tmp_path: Path
) -> None:
    desk.keep(copy)
    handed = desk.export(copy, tmp_path / "again.toml")
    with pytest.raises(OwnLimitProblem) as caught:
        desk.take_over(handed)
    assert caught.value.code == "id-taken"
    assert desk.take_over(handed, rename=True).id == "our-town-2"
    assert len(desk.own_limits()[0]) == 2


def test_that_a_published_file_handed_over_becomes_the_users(
    desk: LimitsDesk, tmp_path: Path
) -> None:
    handed = tmp_path / "published.toml"
    shutil.copy(RESOURCES / "limits" / "washington_2012.toml", handed)
    with pytest.raises(OwnLimitProblem, match="washington-2012"):
        desk.take_over(handed)
    mine = desk.take_over(handed, rename=True)
    assert {row.status for row in mine.rows} == {Verification.USER}


@pytest.mark.parametrize("content", [b"", b"\xff\xfe\x00", b"id = 1", b"[[rows]]\n", b"id = "])
def test_that_a_file_that_is_no_limit_is_named(
    desk: LimitsDesk, tmp_path: Path, content: bytes
) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_bytes(content)
    with pytest.raises(OwnLimitProblem, match=r"bad\.toml"):
        desk.take_over(bad)
    with pytest.raises(OwnLimitProblem, match=r"gone\.toml"):
        desk.take_over(tmp_path / "gone.toml")
    assert desk.own_limits() == ((), ())


def test_that_a_place_that_takes_no_file_is_told(
    desk: LimitsDesk, copy: Edition, tmp_path: Path
) -> None:
    with pytest.raises(OwnLimitProblem, match="could not be written"):
        desk.export(copy, tmp_path / "no such folder" / "x.toml")
    (tmp_path / "file").write_text("", encoding="utf-8")
    blocked = LimitsDesk(RESOURCES, tmp_path / "file" / "limits")
    with pytest.raises(OwnLimitProblem, match="could not be written"):
        blocked.keep(copy)
    assert blocked.own_limits() == ((), ())


def test_that_problems_of_other_data_outlast_a_refresh(
    desk: LimitsDesk, shelf: Shelf, copy: Edition
) -> None:
    desk.keep(copy)
    (desk.own_folder / "bad.toml").write_text("[[", encoding="utf-8")
    stale = replace(shelf, problems=(*shelf.problems, OTHER))
    fresh = desk.refreshed(desk.refreshed(stale))
    assert OTHER in fresh.problems
    assert sum("bad.toml" in problem.what for problem in fresh.problems) == 1


def test_that_the_country_is_read_from_the_name_of_a_locale() -> None:
    names = ("en_US", "es-ES", "fr_CA.UTF-8", "zh_Hant_TW", "en", "C", "", "nonsense here")
    assert [country_of(name) for name in names] == ["US", "ES", "CA", "TW", "", "", "", ""]
