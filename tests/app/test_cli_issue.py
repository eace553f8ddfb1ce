"""Reports handed out on the command line: recorded in the job, refused where nothing is new."""

from __future__ import annotations

import hashlib
import io
import json
from collections.abc import Callable
from datetime import UTC, date, datetime
from pathlib import Path
from typing import Any

import pytest

from deskapp.archive import job_file
from deskapp.archive.file_hold import hold, lock_path_of
from deskapp.report.sealing.examine import examine
from deskapp.session import signing_key

Run = Callable[..., Any]
WORDS = "a short sentence"
ISSUE = ("--issue", "--kind", "homeowner")


@pytest.fixture
def job(samples: Path, tmp_path: Path) -> Path:
    """A job file with an invented job."""
    read = job_file.read(samples / "crossover")
    path = tmp_path / "kept.ductjob"
    job_file.write(path, read.job, read.photos)
    return path


@pytest.fixture
def out(tmp_path: Path) -> Path:
    return tmp_path / "out"


def made(out: Path) -> list[str]:
    return sorted(path.name for path in out.iterdir()) if out.is_dir() else []


def test_that_an_issue_has_number_day_mark_and_revision_and_the_job_holds_it(
    run: Run, job: Path, out: Path
) -> None:
    ran = run("report", job, "--out", out, *ISSUE)
    assert ran.code == 0, ran.err
    [name] = made(out)
    assert name == "J-0003 homeowner issue 1.pdf"
    assert ran.out.strip() == str(out / name)
    [issue] = job_file.read(job).job.issued
    assert (issue.kind, issue.revision, issue.number) == ("homeowner", 1, "J-0003")
    assert issue.issued_on == date.today()
    # The digest of the file, worked out by the standard library.
    assert issue.file_mark == hashlib.sha256((out / name).read_bytes()).hexdigest()
    assert f"issue 1 of {date.today().isoformat()}, job number J-0003" in ran.err
    assert issue.short_mark in ran.err
    assert not lock_path_of(job).exists()
    assert run("check", out / name).code == 0


def test_that_pictures_stay_in_the_job_when_it_is_recorded(
    run: Run, samples: Path, tmp_path: Path, out: Path
) -> None:
    read = job_file.read(samples / "larkspur")
    path = tmp_path / "larkspur.ductjob"
    job_file.write(path, read.job, read.photos)
    assert run("report", path, "--out", out, *ISSUE).code == 0
    assert job_file.read(path).photos == read.photos != {}


@pytest.mark.parametrize("command", ["report", "batch"])
@pytest.mark.parametrize("more", [(), ("--replace",)])
def test_that_an_issued_report_is_never_written_over(
    run: Run, job: Path, out: Path, command: str, more: tuple[str, ...]
) -> None:
    assert run("report", job, "--out", out, *ISSUE).code == 0
    issued = (out / "J-0003 homeowner issue 1.pdf").rename(out / "J-0003 homeowner.pdf")
    before = issued.read_bytes()
    what = job if command == "report" else job.parent
    ran = run(command, what, "--out", out, "--kind", "homeowner", *more)
    assert ran.code == 5
    assert "holds a report that was issued. It is never written over." in ran.err
    assert "--out" in ran.err
    assert issued.read_bytes() == before


def test_that_nothing_is_issued_twice_unchanged(run: Run, job: Path, out: Path) -> None:
    run("report", job, "--out", out, *ISSUE)
    before = job.read_bytes()
    ran = run("report", job, "--out", out, *ISSUE)
    assert ran.code == 4
    assert "Issue 1 of " in ran.err and "Nothing was issued." in ran.err
    assert made(out) == ["J-0003 homeowner issue 1.pdf"]
    assert job.read_bytes() == before


def test_that_a_changed_job_asks_for_a_reason_and_gets_the_next_revision(
    run: Run, job: Path, out: Path
) -> None:
    run("report", job, "--out", out, *ISSUE)
    read = job_file.read(job)
    job_file.write(job, read.job.model_copy(update={"comments": "seen again"}), read.photos)
    ran = run("report", job, "--out", out, *ISSUE)
    assert ran.code == 4 and "Reason: " in ran.err
    ran = run("report", job, "--out", out, *ISSUE, "--reason", "A word was added")
    assert ran.code == 0, ran.err
    assert made(out)[-1] == "J-0003 homeowner issue 2.pdf"
    last = job_file.read(job).job.issued[-1]
    assert (last.revision, last.reason) == (2, "A word was added")
    assert any("seen again" in change for change in last.changes)


def test_that_an_open_stop_keeps_the_compliance_report_back_and_records_nothing(
    run: Run, samples: Path, tmp_path: Path, out: Path
) -> None:
    read = job_file.read(samples / "clinic")
    path = tmp_path / "clinic.ductjob"
    job_file.write(path, read.job, read.photos)
    ran = run("report", path, "--out", out, "--issue", "--kind", "compliance")
    assert ran.code == 4
    assert "mend this first" in ran.err
    assert made(out) == []
    assert job_file.read(path).job.issued == ()


def test_that_someone_must_issue_it(run: Run, job: Path, out: Path) -> None:
    read = job_file.read(job)
    nobody = read.job.tester.model_copy(update={"name": "", "signed_by": ""})
    job_file.write(job, read.job.model_copy(update={"tester": nobody}), read.photos)
    ran = run("report", job, "--out", out, *ISSUE)
    assert ran.code == 4 and "Issued by: " in ran.err
    ran = run("report", job, "--out", out, *ISSUE, "--by", "Pat Example")
    assert ran.code == 0
    assert job_file.read(job).job.issued[0].by == "Pat Example"


def test_that_a_job_open_elsewhere_is_not_issued(run: Run, job: Path, out: Path) -> None:
    held = hold(lock_path_of(job))
    try:
        ran = run("report", job, "--out", out, *ISSUE)
    finally:
        held.release()
    assert ran.code == 4 and "kept.ductjob is open" in ran.err
    assert made(out) == []


def test_that_a_job_that_cannot_be_written_leaves_no_report(
    run: Run, job: Path, out: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(path: Path, *_others: object) -> str:
        raise job_file.JobFileProblem("write", f"{path.name} could not be written.")

    monkeypatch.setattr(job_file, "write", refuse)
    ran = run("report", job, "--out", out, *ISSUE)
    assert ran.code == 5
    assert "could not be recorded" in ran.err
    assert made(out) == []


def test_that_only_job_files_are_issued(run: Run, samples: Path, out: Path) -> None:
    ran = run("report", samples / "crossover", "--out", out, *ISSUE)
    assert ran.code == 4 and "must be a job file" in ran.err
    ran = run("report", "--sample", "--out", out, *ISSUE)
    assert ran.code == 2 and "a sample has no job file" in ran.err


@pytest.fixture
def key(own_settings: Path) -> signing_key.Certified:
    return signing_key.make(own_settings, "Pat Example", WORDS, WORDS, datetime.now(UTC))


def test_that_it_is_signed_with_the_passphrase_of_the_first_line(
    run: Run,
    job: Path,
    out: Path,
    key: signing_key.Certified,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr("sys.stdin", io.StringIO("not that one\n"))
    ran = run("report", job, "--out", out, *ISSUE, "--sign")
    assert ran.code == 2 and "does not open the key" in ran.err
    assert made(out) == [] and job_file.read(job).job.issued == ()
    monkeypatch.setattr("sys.stdin", io.StringIO(f"{WORDS}\nmore\n"))
    ran = run("report", job, "--out", out, *ISSUE, "--sign")
    assert ran.code == 0, ran.err
    [seal] = examine((out / "J-0003 homeowner issue 1.pdf").read_bytes()).seals
    assert seal.holds and seal.key_mark == key.key_mark
    assert WORDS not in ran.out + ran.err


def test_that_signing_without_a_key_or_without_issuing_is_a_usage_error(
    run: Run, job: Path, out: Path
) -> None:
    ran = run("report", job, "--out", out, *ISSUE, "--sign")
    assert ran.code == 2 and "no signing key yet" in ran.err
    ran = run("report", job, "--out", out, "--sign")
    assert ran.code == 2 and "--issue" in ran.err
    assert made(out) == []


def test_that_a_folder_of_jobs_is_issued_and_told_as_data(run: Run, job: Path, out: Path) -> None:
    (job.parent / "bad.ductjob").write_bytes(b"PK")
    words = ("--out", out, "--json", "--workers", 1, "--issue", "--kind", "both")
    ran = run("batch", job.parent, *words)
    assert ran.code == 3
    results = {Path(one["file"]).name: one for one in json.loads(ran.out)["results"]}
    issues = [one["issue"] for one in results["kept.ductjob"]["reports"]]
    kept = job_file.read(job).job.issued
    assert [one["mark"] for one in issues] == [one.mark for one in kept]
    assert [one.kind for one in kept] == ["homeowner", "compliance"]
    assert {one["revision"] for one in issues} == {1}
    again = json.loads(run("batch", job.parent, *words).out)
    assert again["reports"] == 0
    codes = {one["code"] for result in again["results"] for one in result["problems"]}
    assert codes == {"issued", "unreadable"}


@pytest.mark.parametrize(
    ("naming", "name"),
    [
        ("job", "J-0003 homeowner.pdf"),
        ("address", "Space 52, Example Meadows homeowner.pdf"),
        ("both", "J-0003 Space 52, Example Meadows homeowner.pdf"),
        ("file", "kept homeowner.pdf"),
    ],
)
def test_that_files_are_called_as_asked_for(
    run: Run, job: Path, out: Path, naming: str, name: str
) -> None:
    ran = run("report", job, "--out", out, "--kind", "homeowner", "--names", naming)
    assert ran.code == 0
    assert made(out) == [name]
    assert (
        run("batch", job.parent, "--out", out, "--kind", "homeowner", "--names", naming).code == 0
    )
    assert made(out) == [name], "an earlier file of that name is written over"


def test_that_an_issue_is_handed_out_in_another_language_as_a_further_paper_of_it(
    run: Run, job: Path, out: Path
) -> None:
    run("report", job, "--out", out, *ISSUE)
    ran = run("report", job, "--out", out, *ISSUE, "--language", "es")
    assert ran.code == 0, ran.err
    assert "further paper of issue 1 of " in ran.err
    assert made(out) == ["J-0003 homeowner issue 1 es.pdf", "J-0003 homeowner issue 1.pdf"]
    first, further = job_file.read(job).job.issued
    assert (first.language, first.made_on) == ("en", None)
    assert (further.language, further.made_on) == ("es", date.today())
    same = ("number", "revision", "kind", "mark", "by", "issued_on")
    assert [getattr(further, name) for name in same] == [getattr(first, name) for name in same]
    paper = out / "J-0003 homeowner issue 1 es.pdf"
    # The digest of the file, worked out by the standard library.
    assert further.file_mark == hashlib.sha256(paper.read_bytes()).hexdigest()
    checked = run("check", paper)
    assert checked.code == 0, checked.out
    assert "This is a further paper of that issue, made on " in checked.out
    assert "byte for byte" in checked.out
    assert run("report", job, "--out", out, *ISSUE, "--language", "es").code == 4
    assert len(job_file.read(job).job.issued) == 2


def test_that_an_issue_is_signed_later_as_a_further_paper_and_then_no_more(
    run: Run,
    job: Path,
    out: Path,
    key: signing_key.Certified,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    run("report", job, "--out", out, *ISSUE)
    for code in (0, 4):
        monkeypatch.setattr("sys.stdin", io.StringIO(f"{WORDS}\n"))
        assert run("report", job, "--out", out, *ISSUE, "--sign").code == code
    paper = out / "J-0003 homeowner issue 1 en signed.pdf"
    [seal] = examine(paper.read_bytes()).seals
    assert seal.holds and seal.key_mark == key.key_mark
    further = job_file.read(job).job.issued[-1]
    assert (further.revision, further.sealed) == (1, True)
    assert run("check", paper).code == 0


def test_that_a_changed_job_gets_the_next_issue_and_no_further_paper(
    run: Run, job: Path, out: Path
) -> None:
    run("report", job, "--out", out, *ISSUE)
    run("report", job, "--out", out, *ISSUE, "--language", "es")
    read = job_file.read(job)
    job_file.write(job, read.job.model_copy(update={"comments": "seen again"}), read.photos)
    words = ("--language", "es", "--reason", "A word was added")
    assert run("report", job, "--out", out, *ISSUE, *words).code == 0
    assert [one.revision for one in job_file.read(job).job.issues_of("homeowner")] == [1, 2]
