"""How fast the reports of many jobs are made by two processes, and how much memory that keeps.

Run it from the top of the source tree: ``PYTHONPATH=. python tests/report/bench_batch.py [jobs]``.
The jobs are invented: two samples in turn, under other numbers and names. The memory is that of
this process and of those that draw, after a quarter of the jobs and at the end (Linux only).
Then some of the jobs are made again in this process, warm, to tell where the time of one goes.
"""

from __future__ import annotations

import multiprocessing
import os
import pkgutil
import resource
import sys
import time
from collections import defaultdict
from collections.abc import Callable, Generator
from contextlib import ExitStack, contextmanager
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory
from unittest.mock import patch

from deskapp.archive import job_file
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.batch import WORKERS, make_all
from deskapp.session.batch_papers import Batch, draw_papers, write_papers
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


STEPS = {
    "reading the job file": "deskapp.archive.job_file.read",
    "assessing": "deskapp.assess.evaluate.evaluate",
    "reading the template": "deskapp.report.template.read_template",
    "building": "deskapp.report.build.document.build",
    "the job inside": "deskapp.archive.envelope.text_of",
    "layout": "deskapp.report.pdf.draw.compose",
    "drawing": "deskapp.report.pdf.draw.print_sheets",
    "finishing: tags": "deskapp.report.archival.finish.add_tags",
    "finishing: the rest": "deskapp.report.pdf.draw.finish",
    "writing": "deskapp.session.batch_papers.write_report",
}
"""What is timed: each without what is timed inside it."""
REST = "all else"


class Steps:
    """Adds up the processor time of steps, each without the steps inside it."""

    def __init__(self) -> None:
        self.seconds: dict[str, float] = defaultdict(float)
        self._open = [REST]
        self._since = time.process_time()

    @contextmanager
    def within(self, name: str) -> Generator[None]:
        """Count what happens in a ``with`` for the step `name`."""
        self._turn()
        self._open.append(name)
        try:
            yield
        finally:
            self._turn()
            self._open.pop()

    def timed(self, name: str, work: Callable[..., object]) -> Callable[..., object]:
        """Return `work`, counted for the step `name`."""

        def counted(*args: object, **given: object) -> object:
            with self.within(name):
                return work(*args, **given)

        return counted

    def _turn(self) -> None:
        now = time.process_time()
        self.seconds[self._open[-1]] += now - self._since
        self._since = now


def where_it_goes(jobs: list[Path], folder: Path, batch: Batch) -> None:
    """Print the processor time of each step for one report, as one process makes them."""
    make_here(jobs[:2], folder, batch)
    with ExitStack() as held:
        steps = Steps()
        for name, path in STEPS.items():
            held.enter_context(patch(path, steps.timed(name, pkgutil.resolve_name(path))))
        with steps.within(REST):
            reports = make_here(jobs, folder, batch)
    whole = sum(steps.seconds.values())
    print(f"one report in one process, warm: {1000 * whole / reports:.1f} ms, of it")
    for name in (*STEPS, REST):
        took = steps.seconds[name]
        print(f"{1000 * took / reports:8.1f} ms {100 * took / whole:5.1f} %  {name}")


def make_here(jobs: list[Path], folder: Path, batch: Batch) -> int:
    """Make the papers of the jobs in this process, and return how many there are."""
    taken: set[Path] = set()
    written = (write_papers(path, draw_papers(path, batch), folder, batch, taken) for path in jobs)
    return sum(len(outcome.made) for outcome in written)


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
        tell(count, reports, took, first, early, late)
        tell_processor(reports)
        where_it_goes(jobs[:20], Path(place), batch)


def tell_processor(reports: float) -> None:
    """Print what the processes that draw, which have ended, took of the processors for a report.

    Whatever else the computer does is not in it, so this is what tells two versions apart.
    """
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    each = 1000 * (used.ru_utime + used.ru_stime) / reports
    print(f"{each:.1f} ms of processor time for each report, with the start of the processes;")
    print(
        f"that is {1000 * WORKERS / each:.1f} reports/s on {WORKERS} processors with nothing else"
    )


def tell(
    count: int, reports: float, took: float, first: float, early: list[float], late: list[float]
) -> None:
    """Print how fast all of it was and what memory it kept."""
    print(f"{count} jobs, {reports:.0f} reports, {WORKERS} processes: {took:.1f} s in all,")
    print(f"the first job after {first:.1f} s; {reports / took:.1f} reports/s")
    for name, before, after in zip(("this", *("drawing",) * WORKERS), early, late, strict=True):
        print(f"memory, {name}: {before:.0f} MB, then {after:.0f} MB ({after - before:+.1f} MB)")


if __name__ == "__main__":
    main()
