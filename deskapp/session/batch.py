"""The papers of many jobs, drawn by several processes at once.

The other processes only read and draw. Files are written here, one after the other: names stay
apart, and whenever the work ends early, no half file is left by anybody.
"""

from __future__ import annotations

import gc
import multiprocessing
import signal
import sys
from collections import deque
from concurrent.futures import Future, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from deskapp.i18n import _, use_language
from deskapp.session.long_work import LongWork
from deskapp.session.reports import (
    MadeReport,
    ReportProblem,
    drawn_report,
    file_name,
    free_name,
    offered,
    order_reports,
    write_report,
)
from deskapp.session.use_cases import JobFileProblem, open_job, warm_up

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator, Mapping
    from datetime import date
    from pathlib import Path

    from deskapp.session.branding import BrandingFile
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.reports import DrawnReport
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

WORKERS = 2
_AHEAD = 2
"""Jobs given out for each process; more would only keep finished papers in memory."""


@dataclass(frozen=True, slots=True)
class Batch:
    """What the papers of every job are made by. It goes to each process once.

    `kinds` are the reports wanted, None for all there are for a job; `spoken` is the language of
    the program, and `own` are the company's templates by kind.
    """

    shelf: Shelf
    preferences: Preferences
    look: BrandingFile
    issued_on: date
    kinds: tuple[ReportKind, ...] | None = None
    own: Mapping[str, Path] | None = None
    spoken: str = ""


class Trouble(NamedTuple):
    """Why papers of a job are missing.

    `code` is that of ReportProblem, or ``unreadable`` for the job, ``failed`` for a fault of the
    program and ``ended`` where the system ended the process that worked on it.
    """

    code: str
    text: str


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of one job: the reports written, and why others were not."""

    job: Path
    made: tuple[MadeReport, ...] = ()
    troubles: tuple[Trouble, ...] = ()


class _Drawn(NamedTuple):
    """The papers of one job under their usual names, not written yet."""

    papers: tuple[tuple[str, DrawnReport], ...] = ()
    troubles: tuple[Trouble, ...] = ()


def make_all(
    jobs: Iterable[Path],
    folder: Path,
    batch: Batch,
    workers: int = WORKERS,
    work: LongWork | None = None,
) -> Iterator[Outcome]:
    """Write the papers of all jobs into `folder`, which is there, and tell of each in its turn.

    Args:
        jobs: the job files.
        folder: where the reports go; of two with one name the later is numbered.
        batch: what they are made by.
        workers: processes to draw on, 1 or more.
        work: told of each job; given up, it raises GivenUp before the next is written.

    A job that cannot be read, or whose process dies, has troubles; the others are made as ever.
    """
    work, paths = work or LongWork(), tuple(jobs)
    taken: set[Path] = set()
    crew = _Crew(batch, min(workers, len(paths)) or 1)
    try:
        for number, (path, drawn) in enumerate(_all_drawn(crew, paths), 1):
            work.step(number, len(paths), path.name)
            yield _written(path, drawn, folder, taken)
    finally:
        crew.dismiss()


class _Crew:
    """Processes that draw. When one dies all are replaced, since none of them can go on."""

    def __init__(self, batch: Batch, size: int) -> None:
        self.size = size
        self._batch = batch
        self._pool = self._new()

    def send(self, path: Path) -> Future[_Drawn]:
        """Give out a job; the future fails with BrokenProcessPool where a process has died."""
        try:
            with _deaf_to_interrupts():
                return self._pool.submit(_draw, path)
        except BrokenProcessPool as broken:
            failed: Future[_Drawn] = Future()
            failed.set_exception(broken)
            return failed

    def alone(self, path: Path) -> _Drawn:
        """Draw the papers of one job while nothing else is, so that only it can be to blame."""
        try:
            return self.send(path).result()
        except BrokenProcessPool:
            self.renew()
            words = _("{file}: the system ended the process that made its papers.")
            return _Drawn(troubles=(Trouble("ended", words.format(file=path.name)),))

    def renew(self) -> None:
        self.dismiss()
        self._pool = self._new()

    def dismiss(self) -> None:
        """Let the jobs begun come to their end, and begin no other."""
        self._pool.shutdown(cancel_futures=True)

    def _new(self) -> ProcessPoolExecutor:
        fresh = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(self.size, fresh, _prepare, (self._batch,))


def _all_drawn(crew: _Crew, paths: tuple[Path, ...]) -> Iterator[tuple[Path, _Drawn]]:
    """Yield the papers in the order of the jobs, with a few of them always in work."""
    rest = iter(paths)
    out: deque[tuple[Path, Future[_Drawn]]] = deque()
    while True:
        while len(out) < crew.size * _AHEAD and (path := next(rest, None)) is not None:
            out.append((path, crew.send(path)))
        if not out:
            return
        try:
            drawn = out[0][1].result()
        except BrokenProcessPool:
            crew.renew()
            while out:
                path, _lost = out.popleft()
                yield path, crew.alone(path)
        else:
            yield out.popleft()[0], drawn


def _written(path: Path, drawn: _Drawn, folder: Path, taken: set[Path]) -> Outcome:
    made: list[MadeReport] = []
    troubles = list(drawn.troubles)
    for name, paper in drawn.papers:
        target = free_name(folder / name, taken)
        try:
            made.append(write_report(paper, target))
        except ReportProblem as problem:
            troubles.append(Trouble(problem.code, problem.text))
        else:
            taken.add(target)
    return Outcome(path, tuple(made), tuple(troubles))


@contextmanager
def _deaf_to_interrupts() -> Generator[None]:
    """Let processes begun inside the block not hear the interrupt key; it is answered here.

    One that is pressed meanwhile is heard after the block. Where a system knows no such thing,
    `_prepare` makes the processes deaf a moment later.
    """
    if sys.platform == "win32":
        yield
        return
    before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
    try:
        yield
    finally:
        signal.pthread_sigmask(signal.SIG_SETMASK, before)


_batch: Batch | None = None
"""What this process draws by, if it is one of a crew."""

_is_warm = False
"""Whether this process has drawn a job already."""


def _prepare(batch: Batch) -> None:
    """Begin a process of the crew: what is slow the first time is done once."""
    global _batch
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    use_language(batch.spoken)
    warm_up()
    gc.disable()
    _batch = batch


def _draw(path: Path) -> _Drawn:
    """Draw the papers of one job, and look for unused memory only between two jobs.

    What the first job has loaded stays loaded, so it is taken out of that search.
    """
    global _is_warm
    drawn = _drawn(path)
    gc.collect()
    if not _is_warm:
        gc.freeze()
        _is_warm = True
    return drawn


def _drawn(path: Path) -> _Drawn:
    assert _batch is not None
    try:
        return _papers_of(path, _batch)
    except JobFileProblem as problem:
        return _Drawn(troubles=(Trouble("unreadable", problem.text),))
    except Exception as error:  # one job, whatever is the matter with it, never stops the others
        words = _("{file}: its papers could not be made ({why}).")
        why = f"{type(error).__name__}: {error}"
        return _Drawn(troubles=(Trouble("failed", words.format(file=path.name, why=why)),))


def _papers_of(path: Path, batch: Batch) -> _Drawn:
    editor = open_job(path, batch.shelf, batch.preferences)
    order = order_reports(editor, batch.look, batch.issued_on, own=batch.own)
    papers: list[tuple[str, DrawnReport]] = []
    troubles: list[Trouble] = []
    for kind in offered(editor.assessment) if batch.kinds is None else batch.kinds:
        try:
            papers.append((file_name(editor.job, kind), drawn_report(order, kind)))
        except ReportProblem as problem:
            troubles.append(Trouble(problem.code, problem.text))
    return _Drawn(tuple(papers), tuple(troubles))
