"""Keeping a recovery copy of the open job while it has unsaved changes.

Nothing here waits or starts threads: whoever owns the clock asks `due_in`, takes an `order` when
it is due, runs that where it does not disturb, and reports back with `done`.
"""

from __future__ import annotations

import threading
import time
from datetime import datetime
from typing import TYPE_CHECKING

from deskapp.archive.problems import JobFileProblem

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from deskapp.archive.recovery import RecoveryCopy
    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor

PAUSE = 1.5
"""Seconds from the first change that is not in the copy to the next copy; with the time it takes to
write one, at most the last two seconds of work can be lost."""
RETRY = 30.0
"""Seconds until a copy that could not be written is tried again."""


class CopyOrder:
    """One copy to be written: holds frozen records only, so any thread may run it."""

    def __init__(self, root: Path, copy: RecoveryCopy | None, editor: Editor) -> None:
        """Take down the job as it stands, to be written into `copy` or a new one below `root`."""
        self._root = root
        self._copy = copy
        self._is_new = copy is None
        self._job = editor.job
        self._photos = editor.photos
        self._path = editor.path
        self._digest = editor.stamp
        self._guard = threading.Lock()
        self._is_withdrawn = False

    def run(self) -> RecoveryCopy | None:
        """Write the copy and return it; None if it was withdrawn before. Raises JobFileProblem."""
        with self._guard:
            if self._is_withdrawn:
                return None
            return self._write()

    def withdraw(self) -> None:
        """The copy is not wanted any more: none is left, whether it was written yet or not."""
        with self._guard:
            self._is_withdrawn = True
            if self._copy is not None:
                self._copy.remove()

    def _write(self) -> RecoveryCopy:
        from deskapp.archive.recovery import About, begin_copy

        job = self._job
        about = About(
            path="" if self._path is None else str(self._path.absolute()),
            digest=self._digest,
            name=" ".join(part for part in (job.number, job.title) if part),
            written=datetime.now().replace(microsecond=0),
        )
        copy = self._copy = self._copy or begin_copy(self._root)
        try:
            copy.write(job, self._photos, about)
        except JobFileProblem:
            if self._is_new:
                copy.remove()
            raise
        return copy


class Autosave:
    """Follows one open job at a time.

    `problem` says why the last copy could not be written; None when all is well.
    """

    def __init__(
        self,
        root: Path,
        clock: Callable[[], float] = time.monotonic,
        pause: float = PAUSE,
    ) -> None:
        """Keep copies below `root`; `pause` in seconds."""
        self.problem: JobFileProblem | None = None
        self._root = root
        self._clock = clock
        self._pause = pause
        self._editor: Editor | None = None
        self._stop: Callable[[], None] = _nothing
        self._copy: RecoveryCopy | None = None
        self._replaced: RecoveryCopy | None = None
        self._ordered: CopyOrder | None = None
        self._seen: Job | None = None
        self._due: float | None = None

    def follow(self, editor: Editor, replaced: RecoveryCopy | None = None) -> None:
        """Turn to another job; the one before was saved or given up, and so was its copy.

        `replaced` is the copy the job was brought back from: it goes once a new one is written.
        """
        self.end()
        self._editor = editor
        self._seen = None if editor.is_dirty else editor.job
        self._replaced = replaced
        self._stop = editor.listen(self._look)
        self._look()

    def end(self) -> None:
        """The job was closed in good order: no copy of it is needed any more."""
        self._stop()
        self._stop = _nothing
        self._editor = None
        self._clear()

    def due_in(self) -> float | None:
        """Return in how many seconds a copy is to be written; None if there is nothing to do."""
        if self._due is None or self._ordered is not None:
            return None
        return max(0.0, self._due - self._clock())

    @property
    def is_all_kept(self) -> bool:
        """Whether the job as it stands is in its file or in a recovery copy."""
        editor = self._editor
        is_waiting = self._due is not None or self._ordered is not None
        return editor is not None and not is_waiting and editor.job is self._seen

    def hurry(self) -> None:
        """Have what is in no copy yet written now rather than after the pause."""
        self._look()
        if self._due is not None:
            self._due = self._clock()

    def order(self) -> CopyOrder | None:
        """Return the copy to be written now, if there is one; `done` is to be called after it."""
        editor = self._editor
        if editor is None or self._due is None or self._ordered is not None:
            return None
        self._due = None
        self._seen = editor.job
        self._ordered = CopyOrder(self._root, self._copy, editor)
        return self._ordered

    def done(self, order: CopyOrder, outcome: RecoveryCopy | JobFileProblem | None) -> None:
        """Take note of how an order went: the copy written, or why it was not."""
        if order is not self._ordered:  # the job was closed or saved meanwhile
            return
        self._ordered = None
        if isinstance(outcome, JobFileProblem):
            self.problem = outcome
            self._due = self._clock() + RETRY
            return
        self.problem = None
        self._copy = outcome
        self._drop_replaced()
        self._look()

    def _look(self) -> None:
        editor = self._editor
        if editor is None:
            return
        if not editor.is_dirty:
            self._seen = editor.job
            self._clear()
        elif editor.job is not self._seen and self._due is None and self._ordered is None:
            self._due = self._clock() + self._pause

    def _clear(self) -> None:
        self.problem = None
        self._due = None
        order, self._ordered = self._ordered, None
        if order is not None:
            order.withdraw()
        copy, self._copy = self._copy, None
        if copy is not None:
            copy.remove()
        self._drop_replaced()

    def _drop_replaced(self) -> None:
        replaced, self._replaced = self._replaced, None
        if replaced is not None:
            replaced.remove()


def _nothing() -> None:
    """Stand in for what ends listening where nobody listens."""
