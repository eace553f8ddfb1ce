"""The list of jobs and its cache. The jobs are copies of the samples, and all invented."""

from __future__ import annotations

import itertools
import json
import os
import threading
from collections.abc import Iterator
from datetime import date, datetime, timedelta
from functools import partial
from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.domain.choices import YesNo
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.job import Job
from deskapp.session import job_index
from deskapp.session.editor import Editor
from deskapp.session.job_index import CACHE_NAME, JobIndex
from deskapp.session.job_line import JobLine, due_words, matching, names_of
from deskapp.session.job_status import JobStatus, status_of, waiting_for_retest
from deskapp.session.patience import all_of
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.safety_desk import acknowledge
from deskapp.session.settings import Preferences

SAMPLES = resources_folder() / "sample_jobs"


@pytest.fixture(scope="module")
def larkspur() -> Job:
    """A job that is done: both systems meet their limit."""
    return job_file.read(SAMPLES / "larkspur").job


def full_shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def folder(tmp_path: Path, larkspur: Job) -> Path:
    folder = tmp_path / "jobs"
    (folder / "2026").mkdir(parents=True)
    job_file.write(folder / "first.ductjob", larkspur, {})
    maple = job_file.read(SAMPLES / "maple").job
    job_file.write(folder / "2026" / "second.ductjob", maple, {})
    return folder


def listed(
    folder: Path, others: tuple[str, ...] = (), shelf: Shelf | None = None
) -> dict[str, JobLine]:
    """List the jobs anew, with the cache beside the folder; return lines by file name."""
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), shelf or Shelf())
    index.look((folder,), others)
    while index.read_some(1.0):
        pass
    return {Path(line.path).name: line for line in index.lines}


# Folders that are away


def test_that_jobs_of_a_folder_that_is_away_stay_in_the_list(folder: Path, tmp_path: Path) -> None:
    before = listed(folder)
    folder.rename(tmp_path / "elsewhere")
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,), (str(folder / "first.ductjob"),))
    assert index.away == (str(folder),)
    assert {Path(one.path).name for one in index.lines} == set(before)
    assert all(
        one.is_away and one.number == before[Path(one.path).name].number for one in index.lines
    )
    assert not index.read_some(1.0)
    index.keep()
    (tmp_path / "elsewhere").rename(folder)
    assert listed(folder) == before


def test_that_a_folder_that_does_not_answer_is_not_waited_for(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    known, held = listed(folder), threading.Event()

    def hang(place: Path) -> Iterator[str]:
        held.wait(30.0)
        yield str(place)

    monkeypatch.setattr(job_index, "job_files", hang)
    monkeypatch.setattr(job_index, "all_of", partial(all_of, patience=0.05))
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,))
    held.set()
    assert index.away == (str(folder),)
    assert len(index.lines) == len(known)


def test_that_a_folder_somebody_named_has_to_be_there(tmp_path: Path) -> None:
    index = JobIndex(tmp_path / CACHE_NAME, Preferences(), Shelf())
    usual, share = tmp_path / "usual", tmp_path / "no share"
    index.look((usual, share), (), usual)
    assert index.away == (str(share),)


def test_that_all_folders_of_the_preferences_are_listed() -> None:
    preferences = Preferences(jobs_folder="/jobs", more_job_folders=" /a; /b;; /jobs ")
    assert preferences.job_folders == (Path("/jobs"), Path("/a"), Path("/b"))


# How far a job has come


def status(editor: Editor) -> JobStatus:
    return status_of(editor.job, editor.assessment, editor.findings)


@pytest.fixture
def done(larkspur: Job) -> Editor:
    return Editor(larkspur, Shelf(), Preferences())


def test_that_a_new_job_is_a_draft() -> None:
    assert status(Editor(Job(), Shelf(), Preferences())) is JobStatus.DRAFT


def test_that_a_job_with_a_verdict_and_without_stops_is_ready(done: Editor) -> None:
    assert status(done) is JobStatus.READY
    done.enter("systems.0.area_served", "much")
    assert status(done) is JobStatus.DRAFT, "a text that cannot be read stops the report"
    done.undo()
    assert status(done) is JobStatus.READY


def test_that_a_failed_test_waits_until_a_later_one_meets_the_limit(done: Editor) -> None:
    last = len(done.job.tests) - 1
    path = f"tests.{last}.readings"
    count = done.row_count(path)
    names = ("duct_pressure", "fan_signal")
    good = [{name: done.entry_text(f"{path}.{at}.{name}") for name in names} for at in range(count)]
    signals = [reading.fan_signal for reading in done.job.tests[last].readings]
    values = [signal.si for signal in signals if signal is not None and signal.si is not None]
    assert len(values) == len(signals)
    more = [{"fan_signal": f"{value * 3.5} Pa"} for value in values]
    done.enter_block(path, 0, more)
    system = done.job.system(done.job.tests[last].system)
    assert system is not None
    assert status(done) is JobStatus.RETEST
    assert waiting_for_retest(done.assessment) == (system.name,)
    done.add_row("tests")
    done.enter_block(f"tests.{last + 1}.readings", 0, good)
    assert waiting_for_retest(done.assessment) == ()


@pytest.mark.parametrize("sample", ["larkspur", "clinic"])
def test_that_an_open_safety_stop_comes_before_all_else(sample: str) -> None:
    job = job_file.read(SAMPLES / sample).job
    editor = Editor(job, full_shelf(), Preferences())
    assert status(editor) is not JobStatus.STOPPED
    verdict = editor.assessment.verdict
    editor.choose("safety.gas_smell", "yes")
    assert status(editor) is JobStatus.STOPPED
    assert editor.assessment.verdict is verdict


# The list


def test_that_the_list_tells_of_an_open_safety_stop(folder: Path, larkspur: Job) -> None:
    smelled = larkspur.safety.model_copy(update={"gas_smell": YesNo.YES})
    stopped = larkspur.model_copy(update={"safety": smelled})
    job_file.write(folder / "first.ductjob", stopped, {})
    line = listed(folder, shelf=full_shelf())["first.ductjob"]
    assert line.status is JobStatus.STOPPED
    assert due_words(line, date(2026, 3, 1)) == "Safety stop: Gas was smelled"


def test_that_the_list_goes_on_telling_of_a_danger_somebody_went_past(
    folder: Path, larkspur: Job
) -> None:
    editor = Editor(larkspur, full_shelf(), Preferences())
    editor.choose("safety.gas_smell", "yes")
    acknowledge(editor, "gas_smell", "Kim Example", "Gas was shut off", datetime(2026, 3, 1, 9))
    job_file.write(folder / "first.ductjob", editor.job, {})
    line = listed(folder, shelf=full_shelf())["first.ductjob"]
    assert line.status is not JobStatus.STOPPED
    told = due_words(line, date(2026, 3, 1))
    assert told == "Gas was smelled. Acknowledged by Kim Example, not cleared"


def test_that_jobs_below_the_folder_are_listed_with_what_they_hold(folder: Path) -> None:
    lines = listed(folder)
    assert set(lines) == {"first.ductjob", "second.ductjob"}
    first = lines["first.ductjob"]
    assert first.name == "J-0001 Larkspur Lot 14"
    assert first.address.startswith("14 Larkspur Lane")
    assert (first.owner, first.permit) == ("Jordan Example", "PRM-26-0417")
    assert first.status is JobStatus.READY


def test_that_a_file_is_only_read_again_when_it_changed(
    folder: Path, larkspur: Job, monkeypatch: pytest.MonkeyPatch
) -> None:
    listed(folder)
    read: list[str] = []
    before = job_index._read  # pyright: ignore[reportPrivateUsage]

    def watched(line: JobLine, preferences: Preferences, shelf: Shelf) -> JobLine:
        read.append(Path(line.path).name)
        return before(line, preferences, shelf)

    monkeypatch.setattr(job_index, "_read", watched)
    assert listed(folder)["first.ductjob"].number == "J-0001"
    assert read == []
    path = folder / "first.ductjob"
    job_file.write(path, larkspur.model_copy(update={"number": "J-0002"}), {})
    assert listed(folder)["first.ductjob"].number == "J-0002"
    assert read == ["first.ductjob"]
    os.utime(path, (1.0, 1.0))
    listed(folder)
    assert read == ["first.ductjob"] * 2


@pytest.mark.parametrize("text", ["{ half", "[]", '{"version": 0, "lines": []}', ""])
def test_that_a_cache_that_cannot_be_used_is_built_anew(folder: Path, text: str) -> None:
    before = listed(folder)
    (folder.parent / CACHE_NAME).write_text(text, encoding="utf-8")
    assert listed(folder) == before


def test_that_a_cache_that_cannot_be_kept_is_no_trouble(folder: Path) -> None:
    (folder.parent / CACHE_NAME).mkdir()
    assert len(listed(folder)) == 2


def test_that_damaged_and_missing_files_are_listed_with_what_is_wrong(folder: Path) -> None:
    (folder / "broken.ductjob").write_bytes(b"no zip at all")
    (folder / ".hidden.ductjob").write_bytes(b"no zip at all")
    lines = listed(folder, (str(folder / "gone.ductjob"),))
    assert "is damaged" in lines["broken.ductjob"].problem
    assert "no longer there" in lines["gone.ductjob"].problem
    assert ".hidden.ductjob" not in lines
    assert lines["first.ductjob"].problem == ""


def test_that_a_job_used_last_is_listed_wherever_it_is_and_once(
    folder: Path, tmp_path: Path, larkspur: Job
) -> None:
    elsewhere = tmp_path / "elsewhere.ductjob"
    job_file.write(elsewhere, larkspur, {})
    lines = listed(folder, (str(elsewhere), str(folder / "first.ductjob")))
    assert set(lines) == {"first.ductjob", "second.ductjob", "elsewhere.ductjob"}


def test_that_folders_are_looked_into_as_deep_as_people_file_jobs(
    folder: Path, larkspur: Job
) -> None:
    deep = folder / "2026" / "builder" / "street" / "lot"
    (deep / "too").mkdir(parents=True)
    job_file.write(deep / "deep.ductjob", larkspur, {})
    job_file.write(deep / "too" / "deeper.ductjob", larkspur, {})
    assert {"deep.ductjob"} == listed(folder).keys() - {"first.ductjob", "second.ductjob"}


def test_that_a_folder_that_is_not_there_lists_nothing(tmp_path: Path) -> None:
    assert listed(tmp_path / "none") == {}


def test_that_names_come_first_and_the_rest_follows(folder: Path) -> None:
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,))
    assert {line.number for line in index.lines} == {""}
    assert index.read_some(0.0), "there is more to read"
    while index.read_some(0.001):
        pass
    assert "J-0001" in {line.number for line in index.lines}


@pytest.fixture
def time_for_one(monkeypatch: pytest.MonkeyPatch) -> None:
    """Lets the time be over after one file."""
    hours = itertools.chain([0.0, 0.0, 2.0], itertools.repeat(0.0))
    monkeypatch.setattr(job_index.time, "monotonic", lambda: next(hours))


@pytest.mark.usefixtures("time_for_one")
def test_that_what_was_read_before_an_end_is_kept_and_the_rest_read_later(folder: Path) -> None:
    cache = folder.parent / CACHE_NAME
    index = JobIndex(cache, Preferences(), Shelf())
    index.look((folder,))
    assert index.progress == (0, 2)
    index.read_some(1.0)
    assert index.progress == (1, 2)
    index.keep()
    again = JobIndex(cache, Preferences(), Shelf())
    again.look((folder,))
    assert again.progress == (0, 1)
    assert sum(bool(line.number) for line in again.lines) == 1
    while again.read_some(1.0):
        pass
    assert {line.number for line in again.lines} == {"J-0001", "J-0002"}


@pytest.mark.usefixtures("time_for_one")
def test_that_a_long_reading_is_kept_now_and_then(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(job_index, "_KEPT_TOGETHER", 1)
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,))
    index.read_some(1.0)
    kept = json.loads((folder.parent / CACHE_NAME).read_text(encoding="utf-8"))
    assert len(kept["lines"]) == 1


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("", {"first.ductjob", "second.ductjob"}),
        ("j-0001", {"first.ductjob"}),
        ("lane LARKSPUR", {"first.ductjob"}),
        ("jordan", {"first.ductjob"}),
        ("prm-26-0417", {"first.ductjob"}),
        ("casey", {"second.ductjob"}),
        ("larkspur casey", set[str]()),
    ],
)
def test_that_all_words_are_looked_for_in_number_name_address_owner_and_permit(
    folder: Path, text: str, names: set[str]
) -> None:
    found = matching(listed(folder).values(), text)
    assert {Path(line.path).name for line in found} == names


def test_that_a_status_narrows_the_list(folder: Path) -> None:
    job_file.write(folder / "new.ductjob", Job(number="J-9"), {})
    (folder / "broken.ductjob").write_bytes(b"no zip at all")
    lines = listed(folder).values()
    drafts = matching(lines, "", JobStatus.DRAFT)
    assert [line.number for line in drafts] == ["J-9"]


def test_that_what_is_due_is_told() -> None:
    today = date(2026, 3, 11)
    line = JobLine(path="a", retests=("System 2",), calibration_due=today - timedelta(1))
    assert due_words(line, today) == "Retest: System 2; Calibration overdue"
    assert due_words(JobLine(path="a", calibration_due=today), today) == ""
    ready = JobLine(path="a", status=JobStatus.READY, calibration_due=today - timedelta(1))
    assert due_words(ready, today) == "", "a job that is done needs no instrument any more"


def line(path: str, **given: str) -> JobLine:
    return JobLine(path=path, changed=1, **given)


def test_that_jobs_called_alike_are_told_apart_by_file_then_by_folder() -> None:
    found = names_of(
        (
            line("/jobs/a/one.ductjob", number="J-1", title="Maple"),
            line("/jobs/a/two.ductjob", number="J-1", title="Maple"),
            line("/jobs/a/three.ductjob", number="J-2", title="Maple"),
            line("/jobs/b/same.ductjob", title="Lot"),
            line("/jobs/c/same.ductjob", title="Lot"),
            line("/x/b/same.ductjob", title="Lot"),
            line("/jobs/b/bad.ductjob", problem="damaged", title="Lot"),
        )
    )
    assert list(found.values()) == [
        "J-1 Maple (file one.ductjob)",
        "J-1 Maple (file two.ductjob)",
        "J-2 Maple",
        "Lot (file /jobs/b/same.ductjob)",
        "Lot (file c/same.ductjob)",
        "Lot (file /x/b/same.ductjob)",
        "bad.ductjob",
    ]
