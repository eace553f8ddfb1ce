from __future__ import annotations

import json
import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from deskapp.archive import job_file

Run = Callable[..., Any]


def text_of(path: Path) -> str:
    """Return the text of a PDF as another program reads it, with plain spaces."""
    pages = PdfReader(path).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def printed_paths(out: str) -> list[Path]:
    return [Path(line) for line in out.splitlines()]


def test_that_the_default_sample_becomes_both_reports(run: Run, tmp_path: Path) -> None:
    ran = run("report", "--sample", "--out", tmp_path / "new" / "folder")
    assert ran.code == 0
    paths = printed_paths(ran.out)
    assert [path.name for path in paths] == ["J-0001 homeowner.pdf", "J-0001 compliance.pdf"]
    homeowner, compliance = (text_of(path) for path in paths)
    # The figures are those worked out by hand for this invented job.
    assert "29.7" in compliance
    assert "33.6" in compliance
    assert "60.8" in compliance
    assert "PRM-26-0417" in compliance
    assert "Larkspur" in homeowner
    assert "pass" in homeowner


def test_that_kind_makes_only_the_report_asked_for(run: Run, tmp_path: Path) -> None:
    ran = run("report", "--sample", "maple", "--kind", "homeowner", "--out", tmp_path)
    assert ran.code == 0
    assert [path.name for path in tmp_path.glob("*.pdf")] == ["J-0002 homeowner.pdf"]


def test_that_a_stop_keeps_only_the_compliance_report_back(run: Run, tmp_path: Path) -> None:
    ran = run("report", "--sample", "clinic", "--out", tmp_path)
    assert ran.code == 4
    assert [path.name for path in tmp_path.glob("*.pdf")] == ["J-0004 homeowner.pdf"]
    assert "Apr 30, 2026" in ran.err.replace("\N{NO-BREAK SPACE}", " ")
    assert "calibration" in ran.err


def test_that_one_bad_file_never_keeps_the_other_reports_back(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    bad = tmp_path / "bad.ductjob"
    bad.write_bytes(b"PK")
    ran = run("report", bad, samples / "crossover", samples / "clinic", "--out", tmp_path)
    assert ran.code == 4
    assert {path.name for path in printed_paths(ran.out)} == {
        "J-0003 homeowner.pdf",
        "J-0003 compliance.pdf",
        "J-0004 homeowner.pdf",
    }
    assert "bad.ductjob" in ran.err


def test_that_two_jobs_with_one_number_get_files_of_their_own(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    read = job_file.read(samples / "crossover")
    for name in ("one.ductjob", "two.ductjob"):
        job_file.write(tmp_path / name, read.job, read.photos)
    words = ("--kind", "homeowner", "--out", tmp_path)
    ran = run("report", tmp_path / "one.ductjob", tmp_path / "two.ductjob", *words)
    assert ran.code == 0
    assert [path.name for path in printed_paths(ran.out)] == [
        "J-0003 homeowner.pdf",
        "J-0003 homeowner 2.pdf",
    ]
    again = run("report", tmp_path / "one.ductjob", *words)
    assert again.code == 0
    assert len(list(tmp_path.glob("*.pdf"))) == 2


def test_that_a_report_of_another_job_is_written_over_only_with_replace(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    read, out = job_file.read(samples / "crossover"), tmp_path / "out"
    site = read.job.site.model_copy(update={"address": "9 Other Road"})
    job_file.write(tmp_path / "one.ductjob", read.job, read.photos)
    job_file.write(
        tmp_path / "two.ductjob", read.job.model_copy(update={"site": site}), read.photos
    )
    words = ("--kind", "homeowner", "--out", out)
    (made,) = printed_paths(run("report", tmp_path / "one.ductjob", *words).out)
    first = made.read_bytes()
    ran = run("report", tmp_path / "two.ductjob", *words)
    assert (ran.code, ran.out) == (5, "")
    assert "J-0003 homeowner.pdf is there already, and is no draft of this job" in ran.err
    assert "--replace" in ran.err
    assert made.read_bytes() == first
    comment = read.job.model_copy(update={"comments": "Seen once more"})
    job_file.write(tmp_path / "one.ductjob", comment, read.photos)
    assert run("report", tmp_path / "one.ductjob", *words).code == 0, "a draft of the same job"
    second = made.read_bytes()
    assert second != first
    assert run("report", tmp_path / "two.ductjob", *words, "--replace").code == 0
    assert made.read_bytes() not in (first, second)


def test_that_a_file_that_is_no_report_is_left_alone_without_replace(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    letter = tmp_path / "J-0003 homeowner.pdf"
    letter.write_bytes(b"%PDF-1.4 a letter")
    words = ("report", samples / "crossover", "--kind", "homeowner", "--out", tmp_path)
    assert run(*words).code == 5
    assert letter.read_bytes() == b"%PDF-1.4 a letter"
    assert run(*words, "--replace").code == 0
    assert letter.read_bytes() != b"%PDF-1.4 a letter"


def test_that_a_job_named_after_a_bare_sample_is_taken_as_a_job(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    ran = run("report", "--sample", samples / "crossover", "--kind=homeowner", "--out", tmp_path)
    assert ran.code == 0
    assert {path.name[:6] for path in printed_paths(ran.out)} == {"J-0001", "J-0003"}


def test_that_an_unknown_sample_is_answered_with_the_known_ones(run: Run, tmp_path: Path) -> None:
    ran = run("report", "--sample", "castle", "--out", tmp_path)
    assert ran.code == 3
    assert "castle" in ran.err
    assert "larkspur" in ran.err


def test_that_neither_job_nor_sample_is_a_usage_error(run: Run) -> None:
    ran = run("report")
    assert ran.code == 2
    assert "--sample" in ran.err


def test_that_units_and_paper_are_those_asked_for(run: Run, tmp_path: Path) -> None:
    words = ("report", "--sample", "crossover", "--kind", "compliance")
    feet = run(*words, "--units", "ip", "--paper", "letter", "--out", tmp_path / "ip")
    meters = run(*words, "--units", "si", "--paper", "a4", "--out", tmp_path / "si")
    [in_feet], [in_meters] = printed_paths(feet.out), printed_paths(meters.out)
    # ISO 216: A4 is 210 mm by 297 mm; Letter is 8.5 in. by 11 in.; a point is 1/72 in.
    letter, a4 = (PdfReader(path).pages[0].mediabox for path in (in_feet, in_meters))
    assert (float(letter.width), float(letter.height)) == (612, 792)
    assert float(a4.width) == pytest.approx(210 / 25.4 * 72, abs=0.5)
    assert float(a4.height) == pytest.approx(297 / 25.4 * 72, abs=0.5)
    assert "121.3 cfm" in text_of(in_feet)
    assert "57.2 L/s" in text_of(in_meters)


def test_that_the_branding_file_asked_for_is_used(run: Run, tmp_path: Path) -> None:
    look = tmp_path / "look.json"
    look.write_text(json.dumps({"company": "Invented Duct Testing", "accent": "#7a1f5f"}))
    ran = run("report", "--sample", "crossover", "--branding", look, "--out", tmp_path)
    assert ran.code == 0
    for path in printed_paths(ran.out):
        assert "Invented Duct Testing" in text_of(path)


def test_that_the_branding_set_up_in_the_program_is_used_without_asking(
    run: Run, own_settings: Path, tmp_path: Path
) -> None:
    own_settings.mkdir(parents=True)
    (own_settings / "branding.json").write_text(json.dumps({"company": "My Invented Company"}))
    ran = run("report", "--sample", "--kind", "homeowner", "--out", tmp_path)
    assert "My Invented Company" in text_of(printed_paths(ran.out)[0])


def test_that_a_branding_file_that_is_not_there_is_named(run: Run, tmp_path: Path) -> None:
    ran = run("report", "--sample", "--branding", tmp_path / "gone.json", "--out", tmp_path)
    assert ran.code == 2
    assert "gone.json" in ran.err
    assert list(tmp_path.glob("*.pdf")) == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("no branding", "cannot be read"),
        (json.dumps({"company": 5}), "“company”"),
        (json.dumps({"accent": "blue"}), "“blue”"),
        (json.dumps({"logo": "gone.png"}), "gone.png"),
    ],
)
def test_that_a_branding_file_asked_for_is_used_whole_or_not_at_all(
    run: Run, tmp_path: Path, text: str, told: str
) -> None:
    look = tmp_path / "look.json"
    look.write_text(text, encoding="utf-8")
    ran = run("report", "--sample", "--branding", look, "--out", tmp_path)
    assert ran.code == 2
    assert told in ran.err
    assert f"--branding: {look} cannot be used as it is." in ran.err
    assert list(tmp_path.glob("*.pdf")) == []


def test_that_a_folder_that_is_a_file_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("x")
    ran = run("report", "--sample", "--out", tmp_path / "taken")
    assert ran.code == 5
    named = f"--out: {tmp_path / 'taken'} cannot be used as a folder. A file stands in its way."
    assert named in ran.err
    samples = run("samples", "--copy-to", tmp_path / "taken" / "below")
    assert samples.code == 5
    assert "--copy-to: " in samples.err and "stands in its way" in samples.err


@pytest.mark.skipif(
    sys.platform == "win32" or os.geteuid() == 0, reason="the superuser may write anywhere"
)
def test_that_a_folder_that_may_not_be_written_is_told(run: Run, tmp_path: Path) -> None:
    tmp_path.chmod(0o555)
    try:
        ran = run("report", "--sample", "--out", tmp_path)
    finally:
        tmp_path.chmod(0o755)
    assert ran.code == 5


def test_that_check_answers_for_every_report_and_ends_with_the_worst(
    run: Run, tmp_path: Path
) -> None:
    made = printed_paths(run("report", "--sample", "--out", tmp_path).out)
    good = run("check", *made)
    assert good.code == 0
    assert good.out.count("In order: The job inside, worked out again") == 2
    cut = tmp_path / "cut.pdf"
    cut.write_bytes(made[0].read_bytes()[:2000])
    assert run("check", cut).code == 1
    ran = run("check", tmp_path / "gone.pdf", made[0], cut, "--json")
    assert ran.code == 3 and "gone.pdf cannot be read" in ran.err
    gone, whole, damaged = json.loads(ran.out)
    assert "cannot be read" in gone["problem"]
    assert {one["standing"] for one in whole["answers"]} == {"good", "know"}
    assert [one["standing"] for one in damaged["answers"]] == ["bad"]


def test_that_check_answers_a_file_of_another_kind_as_one_it_cannot_read(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    read = job_file.read(samples / "crossover")
    job, other = tmp_path / "a.ductjob", tmp_path / "b.pdf"
    job_file.write(job, read.job, read.photos)
    other.write_text("<html></html>")
    ran = run("check", job, other)
    assert ran.code == 3
    assert f"{job}: This is no report, and may be a job file." in ran.err
    assert f"{other}: This file is no PDF" in ran.err
    told = [one["problem"] for one in json.loads(run("check", job, other, "--json").out)]
    assert [text.split(":")[0] for text in told] == [str(job), str(other)]
