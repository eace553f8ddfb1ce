"""How fast the reports of many jobs are made by two processes, and how much memory that keeps.

Run it from the top of the source tree: ``PYTHONPATH=. python tests/report/bench_batch.py [jobs]``.
The jobs are invented: two samples in turn, under other numbers and names. The memory is that of
this process and of those that draw, after a quarter of the jobs and at the end (Linux only).
"""

from __future__ import annotations

import multiprocessing
import os
import sys
import time
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.batch import WORKERS, Batch, make_all
from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences


def invented(folder: Path, count: int) -> list[Path]:
    """Write the jobs, each with a number and a name of its own, and return their files."""
    samples = resources_folder() / "sample_jobs"
    reads = [job_file.read(samples / name) for name in ("larkspur", "crossover")]
    paths: list[Path] = []
    for number in range(count):
        read = reads[number % len(reads)]
        facts = {"number": f"B-{number:04}", "title": f"Invented house {number}"}
        paths.append(folder / f"{number:04}.ductjob")
        job_file.write(paths[-1], read.job.model_copy(update=facts), read.photos)
    return paths


def resident(pid: int) -> float:
    """Return the memory of a process, in MB."""
    pages = int(Path(f"/proc/{pid}/statm").read_text().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def memory() -> list[float]:
    """Return the memory of this process and of each that draws, in MB."""
    drawing = (one.pid for one in multiprocessing.active_children() if one.pid)
    return [resident(os.getpid()), *(resident(pid) for pid in sorted(drawing))]


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 100
    shelf = load_shelf(resources_folder(), templates_folder())
    kinds = (ReportKind.HOMEOWNER, ReportKind.COMPLIANCE)
    batch = Batch(shelf, Preferences(), BrandingFile(), date(2026, 6, 1), kinds)
    with TemporaryDirectory() as place:
        jobs = invented(Path(place), count)
        early, late = [0.0], [0.0]
        begun = time.perf_counter()
        first = reports = 0.0
        for number, outcome in enumerate(make_all(jobs, Path(place), batch), 1):
            if outcome.troubles:
                raise SystemExit("\n".join(text for _code, text in outcome.troubles))
            first = first or time.perf_counter() - begun
            reports += len(outcome.made)
            if number == max(1, count // 4):
                early = memory()
            if number == count:
                late = memory()
        took = time.perf_counter() - begun
    print(f"{count} jobs, {reports:.0f} reports, {WORKERS} processes: {took:.1f} s in all,")
    print(f"the first job after {first:.1f} s; {reports / took:.1f} reports/s")
    for name, before, after in zip(("this", *("drawing",) * WORKERS), early, late, strict=True):
        print(f"memory, {name}: {before:.0f} MB, then {after:.0f} MB ({after - before:+.1f} MB)")


if __name__ == "__main__":
    main()
