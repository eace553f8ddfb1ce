"""Work that may be given up, up to the point where files are written."""

from __future__ import annotations

from datetime import date
from pathlib import Path

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session import reports
from deskapp.session.branding import BrandingFile, load
from deskapp.session.editor import Editor
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import (
    DrawnReport,
    MadeReport,
    ReportOrder,
    kinds_possible,
    make_reports,
    order_reports,
)
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def editor(shelf: Shelf) -> Editor:
    return open_sample("", shelf, Preferences())


@pytest.fixture
def look(tmp_path: Path) -> BrandingFile:
    return load(tmp_path / "none.toml")


def test_that_steps_are_told_and_the_end_is_asked_for_between_them() -> None:
    told: list[tuple[int, int, str]] = []
    work = LongWork(lambda *step: told.append(step))
    work.step(1, 2, "one")
    assert work.give_up()
    with pytest.raises(GivenUp):
        work.step(2, 2, "two")
    with pytest.raises(GivenUp):
        work.settle()
    assert told == [(1, 2, "one")]


def test_that_work_whose_files_are_being_written_is_brought_to_its_end() -> None:
    work = LongWork()
    work.settle()
    assert not work.give_up()
    work.step(1, 1, "on")


@pytest.mark.parametrize("given_up_at", [1, 2, 3])
def test_that_papers_given_up_at_any_step_leave_no_file(
    editor: Editor, look: BrandingFile, tmp_path: Path, given_up_at: int
) -> None:
    def tell(number: int, count: int, _name: str) -> None:
        assert count >= 3
        if number == given_up_at:
            assert work.give_up()

    work = LongWork(tell)
    order = order_reports(editor, look, date(2026, 3, 12))
    folder, kinds = tmp_path / "papers", kinds_possible(order)
    with pytest.raises(GivenUp):
        make_reports(order, kinds, folder, work)
    assert not folder.exists()


def test_that_papers_given_up_when_the_last_is_drawn_leave_no_file_and_later_it_is_too_late(
    editor: Editor, look: BrandingFile, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    order, work = order_reports(editor, look, date(2026, 3, 12)), LongWork()
    kinds, folder = kinds_possible(order), tmp_path / "papers"
    draw, write = reports.drawn_report, reports.write_report
    answers: list[bool] = []

    def drawn_and_given_up(order: ReportOrder, kind: ReportKind) -> DrawnReport:
        drawn = draw(order, kind)
        if kind is kinds[-1]:
            answers.append(work.give_up())
        return drawn

    with monkeypatch.context() as patched, pytest.raises(GivenUp):
        patched.setattr(reports, "drawn_report", drawn_and_given_up)
        make_reports(order, kinds, folder, work)
    assert answers == [True]
    assert not folder.exists()

    late = LongWork()

    def written_and_given_up(drawn: DrawnReport, target: Path) -> MadeReport:
        answers.append(late.give_up())
        return write(drawn, target)

    monkeypatch.setattr(reports, "write_report", written_and_given_up)
    made = make_reports(order, kinds, folder, late)
    assert answers[1:] == [False] * len(kinds)
    assert {one.path for one in made} == set(folder.iterdir())
