"""The papers of many jobs, drawn by several processes at once.

The other processes only read and draw. Files are written here, one after the other: names stay
apart, and whenever the work ends early, no half file is left by anybody.
"""

from __future__ import annotations

import gc
import multiprocessing
import pickle
import signal
import sys
import zlib
from collections import deque
from concurrent.futures import Future, ProcessPoolExecutor, wait
from concurrent.futures.process import BrokenProcessPool
from contextlib import contextmanager
from typing import TYPE_CHECKING

from deskapp.i18n import _, use_language
from deskapp.session.batch_papers import (
    Batch,
    DrawnPapers,
    JobOutcome,
    Trouble,
    draw_papers,
    write_papers,
)
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.session.opening import JobFileProblem
from deskapp.session.warming import warm_up

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator
    from pathlib import Path

WORKERS = 2
_AHEAD = 2
"""Jobs given out for each process; more would only keep finished papers in memory."""
_LOOK_UP_S = 0.05
"""How often, in seconds, who waits for a drawing looks whether it is still wanted."""


def make_all(
    jobs: Iterable[Path],
    folder: Path,
    batch: Batch,
    workers: int = WORKERS,
    work: LongWork | None = None,
) -> Iterator[JobOutcome]:
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
    is_wanted = True
    try:
        for number, (path, drawn) in enumerate(_all_drawn(crew, paths, work), 1):
            work.step(number, len(paths), path.name)
            yield write_papers(path, drawn, folder, batch, taken)
    except GivenUp:
        is_wanted = False
        raise
    finally:
        crew.dismiss(to_the_end=is_wanted)


class _Crew:
    """Processes that draw. When one dies all are replaced, since none of them can go on."""

    def __init__(self, batch: Batch, size: int) -> None:
        self.size = size
        # Small enough for a pipe to hold it, or to begin a process would wait until it is read.
        self._packed = zlib.compress(pickle.dumps(batch))
        self._pool = self._new()

    def send(self, path: Path) -> Future[DrawnPapers]:
        """Give out a job; the future fails with BrokenProcessPool where a process has died."""
        try:
            with _deaf_to_interrupts():
                return self._pool.submit(_draw, path)
        except BrokenProcessPool as broken:
            failed: Future[DrawnPapers] = Future()
            failed.set_exception(broken)
            return failed

    def alone(self, path: Path, work: LongWork) -> DrawnPapers:
        """Draw the papers of one job while nothing else is, so that only it can be to blame."""
        try:
            return awaited(self.send(path), work)
        except BrokenProcessPool:
            self.renew()
            words = _("{file}: the system ended the process that made its papers.")
            return DrawnPapers(troubles=(Trouble("ended", words.format(file=path.name)),))

    def renew(self) -> None:
        self.dismiss()
        self._pool = self._new()

    def dismiss(self, *, to_the_end: bool = True) -> None:
        """Let the jobs begun come to their end, and begin no other.

        Without `to_the_end` that is left to itself: these processes write nothing.
        """
        self._pool.shutdown(wait=to_the_end, cancel_futures=True)

    def _new(self) -> ProcessPoolExecutor:
        fresh = multiprocessing.get_context("spawn")
        return ProcessPoolExecutor(self.size, fresh, _prepare, (self._packed,))


def awaited(drawing: Future[DrawnPapers], work: LongWork) -> DrawnPapers:
    """Return what a process has drawn. Raises GivenUp as soon as nobody waits for it."""
    while not drawing.done():
        work.look_up()
        wait([drawing], timeout=_LOOK_UP_S)
    return drawing.result()


def _all_drawn(
    crew: _Crew, paths: tuple[Path, ...], work: LongWork
) -> Iterator[tuple[Path, DrawnPapers]]:
    """Yield the papers in the order of the jobs, with a few of them always in work."""
    rest = iter(paths)
    out: deque[tuple[Path, Future[DrawnPapers]]] = deque()
    while True:
        while len(out) < crew.size * _AHEAD and (path := next(rest, None)) is not None:
            out.append((path, crew.send(path)))
        if not out:
            return
        try:
            drawn = awaited(out[0][1], work)
        except BrokenProcessPool:
            crew.renew()
            while out:
                path, _lost = out.popleft()
                yield path, crew.alone(path, work)
        else:
            yield out.popleft()[0], drawn


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


def _prepare(packed: bytes) -> None:
    """Begin a process of the crew: what is slow the first time is done once."""
    global _batch
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    batch: Batch = pickle.loads(zlib.decompress(packed))
    use_language(batch.spoken)
    warm_up()
    gc.collect()
    gc.freeze()
    gc.disable()
    _batch = batch


def _draw(path: Path) -> DrawnPapers:
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


def _drawn(path: Path) -> DrawnPapers:
    assert _batch is not None
    try:
        return draw_papers(path, _batch)
    except JobFileProblem as problem:
        return DrawnPapers(troubles=(Trouble("unreadable", problem.text),))
    except Exception as error:  # one job, whatever is the matter with it, never stops the others
        words = _("{file}: its papers could not be made ({why}).")
        why = f"{type(error).__name__}: {error}"
        return DrawnPapers(troubles=(Trouble("failed", words.format(file=path.name, why=why)),))
