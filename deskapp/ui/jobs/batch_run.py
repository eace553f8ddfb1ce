"""Makes the reports of many jobs beside the window."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from deskapp.i18n import N_
from deskapp.session.long_work import GivenUp, LongWork
from deskapp.ui.progress import Working
from deskapp.ui.tasks import Dispatcher, told_here

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from deskapp.session.batch_papers import Batch, JobOutcome


class BatchRun(Working):
    """One run at a time; whatever is the matter with one job, the others are worked on.

    Signals: `made` with what became of a job, as soon as it is known; then `ended` with whether all
    jobs were worked on, or `broken` with why none could be.
    """

    made = Signal(object)
    ended = Signal(object)
    broken = Signal(object)

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(N_("Making the reports"), parent)
        self._work = LongWork()
        self._dispatcher = Dispatcher(N_("Making the reports"), self)
        self._dispatcher.busy_changed.connect(self.busy_changed)
        self._dispatcher.done.connect(self.ended)
        self._dispatcher.broken.connect(self.broken)

    @property
    def is_busy(self) -> bool:
        """Whether reports are being made."""
        return self._dispatcher.is_busy

    def start(self, jobs: tuple[Path, ...], folder: Path, prepare: Callable[[], Batch]) -> None:
        """Make the reports of these jobs in `folder`; `prepare` is called in the other thread."""
        self._work = work = LongWork(told_here(self, self.told.emit))
        hand_over = told_here(self, self.made.emit)
        self._dispatcher.start(partial(_make, jobs, folder, prepare, work, hand_over))

    def end(self) -> None:
        """Begin no other job; that at hand comes to its end, and what is written stays."""
        self._work.give_up()


def _make(
    jobs: tuple[Path, ...],
    folder: Path,
    prepare: Callable[[], Batch],
    work: LongWork,
    hand_over: Callable[[JobOutcome], None],
) -> bool:
    from deskapp.session.batch import make_all

    batch = prepare()
    folder.mkdir(parents=True, exist_ok=True)
    try:
        for outcome in make_all(jobs, folder, batch, work=work):
            hand_over(outcome)
    except GivenUp:
        return False
    return True
