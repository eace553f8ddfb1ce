"""Keeping a recovery copy of the open job while it has unsaved changes.

Nothing here waits or starts threads: whoever owns the clock asks `due_in`, takes an `order` when
it is due, runs that where it does not disturb, and reports back with `done`.
"""

from __future__ import annotations

import time
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from deskapp.archive.problems import JobFileProblem

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping
    from pathlib import Path

    from deskapp.archive.recovery import RecoveryCopy
    from deskapp.domain.job import Job
    from deskapp.session.editor import Editor

PAUSE = 1.5
"""Seconds from the first change that is not in the copy to the next copy; with the time it takes to
write one, at most the last two seconds of work can be lost."""
RETRY = 30.0
"""Seconds until a copy that could not be written is tried again."""


@dataclass(frozen=True, slots=True)
class CopyOrder:
    """One copy to be written: holds frozen records only, so any thread may run it."""

    root: Path
    copy: RecoveryCopy | None
    job: Job
    photos: Mapping[str, bytes]
    path: Path | None
    digest: str

    def run(self) -> RecoveryCopy:
        """Write the copy and return it. Raises JobFileProblem."""
        from deskapp.archive.recovery import About, begin_copy

        copy = self.copy or begin_copy(self.root)
        about = About(
            path="" if self.path is None else str(self.path.absolute()),
            digest=self.digest,
            name=" ".join(part for part in (self.job.number, self.job.title) if part),
            written=datetime.now().replace(microsecond=0),
        )
        try:
            copy.write(self.job, self.photos, about)
        except JobFileProblem:
            if self.copy is None:
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
        self._due = None
        self._ordered = None
        self._clear()

    def due_in(self) -> float | None:
        """Return in how many seconds a copy is to be written; None if there is nothing to do."""
        if self._due is None or self._ordered is not None:
            return None
        return max(0.0, self._due - self._clock())

    def order(self) -> CopyOrder | None:
        """Return the copy to be written now, if there is one; `done` is to be called after it."""
        editor = self._editor
        if editor is None or self._due is None or self._ordered is not None:
            return None
        self._due = None
        self._seen = editor.job
        self._ordered = CopyOrder(
            self._root, self._copy, editor.job, editor.photos, editor.path, editor.stamp
        )
        return self._ordered

    def done(self, order: CopyOrder, outcome: RecoveryCopy | JobFileProblem) -> None:
        """Take note of how an order went: the copy written, or why it was not."""
        is_ours = order is self._ordered
        if isinstance(outcome, JobFileProblem):
            if is_ours:
                self._ordered = None
                self.problem = outcome
                self._due = self._clock() + RETRY
            return
        if not is_ours:  # the job was closed or saved meanwhile
            outcome.remove()
            return
        self._ordered = None
        self.problem = None
        self._copy = outcome
        self._drop_replaced()
        self._look()

    def _look(self) -> None:
        editor = self._editor
        if editor is None:
            return
        if not editor.is_dirty:
            self._due = None
            self._ordered = None
            self._seen = editor.job
            self._clear()
        elif editor.job is not self._seen and self._due is None and self._ordered is None:
            self._due = self._clock() + self._pause

    def _clear(self) -> None:
        self.problem = None
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
