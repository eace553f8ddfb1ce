"""The papers of many jobs: whatever happens to one, the others are made, and none by halves."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterator
from concurrent.futures import Future
from datetime import date
from pathlib import Path
from threading import Timer
from time import monotonic, sleep

import pytest
from pypdf import PdfReader

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.batch import awaited, make_all
from deskapp.session.batch_papers import Batch, DrawnPapers
from deskapp.session.branding import BrandingFile
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.report_kinds import ReportKind
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences


@pytest.fixture(scope="module")
def batch() -> Batch:
    shelf = load_shelf(resources_folder(), templates_folder())
    day = date(2026, 6, 1)
    return Batch(shelf, Preferences(), BrandingFile(), day, (ReportKind.HOMEOWNER,))


@pytest.fixture
def jobs(tmp_path: Path) -> list[Path]:
    """Three copies of an invented job, all with one number."""
    read = job_file.read(resources_folder() / "sample_jobs" / "crossover")
    paths = [tmp_path / f"{name}.ductjob" for name in ("a", "b", "c")]
    for path in paths:
        job_file.write(path, read.job, read.photos)
    return paths


@pytest.fixture
def out(tmp_path: Path) -> Iterator[Path]:
    """A folder for reports, which has nothing but whole PDF files in the end."""
    folder = tmp_path / "out"
    folder.mkdir()
    yield folder
    for path in folder.iterdir():
        assert path.suffix == ".pdf"
        assert len(PdfReader(path, strict=True).pages) > 0


class Deadly(type(Path())):
    """A path that ends the process it is handed to, as a system short of memory does."""

    def __reduce__(self) -> tuple[object, ...]:
        return os._exit, (9,)


def test_that_a_damaged_file_and_a_missing_one_never_stop_the_others(
    batch: Batch, jobs: list[Path], out: Path, tmp_path: Path
) -> None:
    bad, gone = tmp_path / "bad.ductjob", tmp_path / "gone.ductjob"
    bad.write_bytes(jobs[0].read_bytes()[:300])
    mixed = [jobs[0], bad, jobs[1], gone, jobs[2]]
    told: list[tuple[int, int, str]] = []
    work = LongWork(lambda *step: told.append(step))
    outcomes = list(make_all(mixed, out, batch, work=work))
    assert [one.job for one in outcomes] == mixed
    names = [[made.path.name for made in one.made] for one in outcomes]
    first, second, third = (f"J-0003 homeowner{n}.pdf" for n in ("", " 2", " 3"))
    assert names == [[first], [], [second], [], [third]]
    codes = [[trouble.code for trouble in one.troubles] for one in outcomes]
    assert codes == [[], ["unreadable"], [], ["unreadable"], []]
    assert "bad.ductjob" in outcomes[1].troubles[0].text
    assert told == [(n, 5, path.name) for n, path in enumerate(mixed, 1)]


def test_that_the_papers_are_those_of_one_process_byte_for_byte(
    batch: Batch, jobs: list[Path], out: Path
) -> None:
    made = [one.made[0].path.read_bytes() for one in make_all(jobs, out, batch)]
    alone = [one.made[0].path.read_bytes() for one in make_all(jobs, out, batch, workers=1)]
    assert made == alone


def test_that_work_given_up_writes_no_other_job(batch: Batch, jobs: list[Path], out: Path) -> None:
    work = LongWork()
    outcomes = make_all(jobs, out, batch, work=work)
    next(outcomes)
    assert work.give_up()
    with pytest.raises(GivenUp):
        next(outcomes)
    assert [path.name for path in out.iterdir()] == ["J-0003 homeowner.pdf"]
    until = monotonic() + 30
    while multiprocessing.active_children() and monotonic() < until:
        sleep(0.05)
    assert not multiprocessing.active_children(), "they end by themselves"
    assert len(list(out.iterdir())) == 1


def test_that_nobody_waits_for_a_drawing_that_is_not_wanted() -> None:
    work, never = LongWork(), Future[DrawnPapers]()
    Timer(0.05, work.give_up).start()
    with pytest.raises(GivenUp):
        awaited(never, work)
    never.set_result(DrawnPapers(stamp="drawn"))
    assert awaited(never, LongWork()).stamp == "drawn"


def test_that_the_death_of_processes_costs_no_job(
    batch: Batch, jobs: list[Path], out: Path
) -> None:
    outcomes = make_all(jobs * 3, out, batch)
    made = [next(outcomes)]
    for process in multiprocessing.active_children():
        process.kill()
    made.extend(outcomes)
    assert [len(one.made) for one in made] == [1] * 9


def test_that_only_the_job_that_ends_its_process_is_blamed(
    batch: Batch, jobs: list[Path], out: Path
) -> None:
    mixed = [jobs[0], Deadly("heavy.ductjob"), jobs[1], jobs[2]]
    outcomes = list(make_all(mixed, out, batch))
    codes = [[trouble.code for trouble in one.troubles] for one in outcomes]
    assert codes == [[], ["ended"], [], []]
    assert [len(one.made) for one in outcomes] == [1, 0, 1, 1]


def test_that_a_report_that_cannot_be_written_is_told(
    batch: Batch, jobs: list[Path], out: Path
) -> None:
    blocked = out / "J-0003 homeowner.pdf"
    blocked.mkdir()
    outcomes = list(make_all(jobs[:1], out, batch))
    blocked.rmdir()
    assert [trouble.code for trouble in outcomes[0].troubles] == ["write"]
    assert not list(out.iterdir())
