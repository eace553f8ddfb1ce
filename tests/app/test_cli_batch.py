from __future__ import annotations

import json
import os
import signal
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from pypdf import PdfReader

from deskapp.archive import job_file

Run = Callable[..., Any]

PROJECT = Path(__file__).parents[2]


@pytest.fixture
def folder(samples: Path, tmp_path: Path) -> Path:
    """Three good jobs, one of them in a folder below, and a damaged file."""
    top = tmp_path / "jobs"
    (top / "2026").mkdir(parents=True)
    for number, place in enumerate((top / "a", top / "b", top / "2026" / "c")):
        read = job_file.read(samples / "crossover")
        job = read.job.model_copy(update={"number": f"J-{number}"})
        job_file.write(place.with_suffix(".ductjob"), job, read.photos)
    (top / "bad.ductjob").write_bytes(b"PK")
    return top


def test_that_every_good_job_gets_its_papers_and_the_bad_one_is_summed_up(
    run: Run, folder: Path, tmp_path: Path
) -> None:
    out = tmp_path / "new" / "out"
    ran = run("batch", folder, "--out", out, "--kind", "homeowner")
    assert ran.code == 3
    names = [f"J-{number} homeowner.pdf" for number in range(3)]
    assert sorted(path.name for path in out.iterdir()) == names
    assert sorted(Path(line).name for line in ran.out.splitlines()) == names
    assert "4 of 4: " in ran.err
    assert "Jobs: 4. Worked on: 4. With something missing: 1." in ran.err
    assert "3 reports were written." in ran.err
    assert ran.err.index("were written") < ran.err.index("bad.ductjob is damaged")


def test_that_json_tells_of_every_job(run: Run, folder: Path, tmp_path: Path) -> None:
    words = ("--out", tmp_path / "out", "--kind", "homeowner", "--json", "--workers", 1)
    data = json.loads(run("batch", folder, *words).out)
    results = data.pop("results")
    assert data == {"jobs": 4, "done": 4, "incomplete": 1, "reports": 3}
    by_name = {Path(one["file"]).name: one for one in results}
    assert by_name["bad.ductjob"]["problems"][0]["code"] == "unreadable"
    [made] = by_name["c.ductjob"]["reports"]
    assert made["pages"] == len(PdfReader(made["file"]).pages)


def test_that_a_stop_ends_with_the_code_of_stops(run: Run, samples: Path, tmp_path: Path) -> None:
    read = job_file.read(samples / "clinic")
    job_file.write(tmp_path / "clinic.ductjob", read.job, read.photos)
    ran = run("batch", tmp_path, "--out", tmp_path / "out")
    assert ran.code == 4
    assert [path.name for path in (tmp_path / "out").iterdir()] == ["J-0004 homeowner.pdf"]


def test_that_all_well_ends_with_zero(run: Run, folder: Path, tmp_path: Path) -> None:
    ran = run("batch", folder / "2026", "--out", tmp_path / "out", "--kind", "all")
    assert ran.code == 0
    assert "With something missing: 0." in ran.err


@pytest.mark.parametrize(("workers", "code"), [("0", 2), ("-1", 2), ("two", 2)])
def test_that_a_wrong_number_of_workers_is_a_usage_error(
    run: Run, folder: Path, tmp_path: Path, workers: str, code: int
) -> None:
    ran = run("batch", folder, "--out", tmp_path / "out", f"--workers={workers}")
    assert ran.code == code
    assert workers in ran.err
    assert not (tmp_path / "out").exists()


def test_that_folders_that_cannot_be_used_are_named(run: Run, folder: Path, tmp_path: Path) -> None:
    ran = run("batch", tmp_path / "nowhere")
    assert ran.code == 3 and f"There is no folder {tmp_path / 'nowhere'}." in ran.err
    ran = run("batch", folder, "--out", folder / "bad.ductjob")
    assert ran.code == 5 and "bad.ductjob" in ran.err


def heeds_interrupts() -> None:
    """Let the key be heard even where these tests run behind a shell that keeps it from them."""
    signal.signal(signal.SIGINT, signal.default_int_handler)


@pytest.mark.skipif(sys.platform == "win32", reason="there is no key to press for another program")
def test_that_the_interrupt_key_leaves_only_whole_files(folder: Path, tmp_path: Path) -> None:
    read = job_file.read(folder / "a.ductjob")
    for number in range(20):
        job_file.write(folder / f"more-{number}.ductjob", read.job, read.photos)
    out = tmp_path / "out"
    command = [sys.executable, "-m", "deskapp", "batch", str(folder), "--out", str(out)]
    with subprocess.Popen(
        command,
        cwd=PROJECT,
        env={**os.environ, "LANG": "en_US.UTF-8", "XDG_CONFIG_HOME": str(tmp_path)},
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        start_new_session=True,
        preexec_fn=heeds_interrupts,
    ) as process:
        assert process.stdout is not None
        process.stdout.readline()
        # The terminal sends the signal to the program and to all the processes it began.
        os.killpg(process.pid, signal.SIGINT)
        _rest, told = process.communicate(timeout=60)
    assert process.returncode == 130
    assert "Traceback" not in told
    assert told.rstrip().endswith("Stopped.")
    made = list(out.iterdir())
    assert 0 < len(made) < 46
    assert all(path.suffix == ".pdf" and PdfReader(path).pages for path in made)
