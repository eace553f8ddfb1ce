"""Work beside the window: computed in another thread, delivered in this one.

The other thread touches nothing that belongs to the window. It knows a number; work, outcome and
whoever waits for it are kept here, and are let go of here, since an object of the window must not
end in another thread. What comes back goes through the one `Mailbox`, which lasts as long as the
application: whoever waits may be closed at any time.
"""

from __future__ import annotations

from collections import deque
from contextvars import Context, copy_context
from functools import partial
from itertools import count
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QCoreApplication, QObject, QRunnable, Qt, QThreadPool, Signal
from shiboken6 import isValid

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable


class _Errand:
    """A piece of work, who waits for it, and what became of it."""

    def __init__(
        self,
        work: Callable[[], object],
        asker: QObject,
        over: Callable[[object, Exception | None], None],
    ) -> None:
        self._work = work
        self._asker = asker
        self._over = over
        self._spoken: Context = copy_context()
        self._outcome: object = None
        self._problem: Exception | None = None

    def carry_out(self) -> None:
        """Compute; to be called in the other thread."""
        try:
            self._outcome = self._spoken.run(self._work)
        except Exception as error:
            self._problem = error

    def deliver(self) -> None:
        """Hand over the outcome, or the exception, unless nobody waits for it any more."""
        outcome, problem = self._outcome, self._problem
        self._outcome = self._problem = None
        if isValid(self._asker):
            self._over(outcome, problem)


class _Run(QRunnable):
    """Has one errand carried out; holds nothing else."""

    def __init__(self, mailbox: Mailbox, number: int) -> None:
        super().__init__()
        self._mailbox = mailbox
        self._number = number

    def run(self) -> None:
        """Compute, and have it delivered."""
        self._mailbox.errands[self._number].carry_out()
        self._mailbox.finished.emit(self._number)


class Mailbox(QObject):
    """Takes what other threads have for the window.

    Signals, emitted in any thread: `finished` with the number of an errand, `posted` when there is
    one more thing to do.
    """

    finished = Signal(int)
    posted = Signal()

    def __init__(self, app: QCoreApplication) -> None:
        super().__init__(app)
        self.errands: dict[int, _Errand] = {}
        self._numbers = count(1)
        self._letters: deque[Callable[[], object]] = deque()
        later = Qt.ConnectionType.QueuedConnection
        self.finished.connect(self._deliver, later)
        self.posted.connect(self._do_one, later)

    @classmethod
    def of_app(cls) -> Mailbox:
        """Return the mailbox of the application; to be called in the thread of the window."""
        app = QCoreApplication.instance()
        assert app is not None
        there = app.findChild(cls, options=Qt.FindChildOption.FindDirectChildrenOnly)
        return cls(app) if there is None else there

    def send(self, errand: _Errand) -> None:
        """Have an errand carried out in another thread."""
        number = next(self._numbers)
        self.errands[number] = errand
        QThreadPool.globalInstance().start(_Run(self, number))

    def post(self, do: Callable[[], object]) -> None:
        """Have something done in the thread of the window; to be called in any thread."""
        self._letters.append(do)
        self.posted.emit()

    def _deliver(self, number: int) -> None:
        self.errands.pop(number).deliver()

    def _do_one(self) -> None:
        self._letters.popleft()()


def run_beside(
    work: Callable[[], object],
    asker: QObject,
    over: Callable[[object, Exception | None], None],
) -> None:
    """Compute `work` in another thread, in the language spoken here.

    `over` is called in this thread, with the outcome and the exception, as long as there is
    `asker`.
    """
    Mailbox.of_app().send(_Errand(work, asker, over))


def told_here(asker: QObject, tell: Callable[..., object]) -> Callable[..., None]:
    """Return what may be called in any thread and has `tell` called in this one.

    It is not called any more where `asker` is gone meanwhile.
    """
    mailbox = Mailbox.of_app()

    def do(told: tuple[object, ...]) -> None:
        if isValid(asker):
            tell(*told)

    def pass_on(*told: object) -> None:
        mailbox.post(partial(do, told))

    return pass_on


def raise_here(error: Exception) -> None:
    """Let an error of work beside the window that nobody expects be told like any other."""
    raise error


class Dispatcher(QObject):
    """Runs one piece of work at a time; only the newest wish counts.

    Signals: `done` with what was computed, `broken` with
    the exception, `busy_changed`.
    """

    done = Signal(object)
    broken = Signal(object)
    busy_changed = Signal(bool)

    def __init__(self, name: str, parent: QObject | None = None) -> None:
        """Begin with nothing; `name` says what will be done, marked with `N_`."""
        super().__init__(parent)
        self._name = name
        self._is_busy = False
        self._waiting: Callable[[], object] | None = None

    @property
    def name(self) -> str:
        """What is done, in plain words."""
        return _(self._name)

    @property
    def is_busy(self) -> bool:
        """Whether something is being computed."""
        return self._is_busy

    def start(self, work: Callable[[], object]) -> None:
        """Compute `work` in another thread; if one is running, after it, unless a newer comes.

        The work speaks the language spoken here.
        """
        if self._is_busy:
            self._waiting = work
            return
        self._set_busy(True)
        run_beside(work, self, self._on_over)

    def _on_over(self, outcome: Any, error: Exception | None) -> None:
        self._set_busy(False)
        if self._waiting is not None:
            work, self._waiting = self._waiting, None
            self.start(work)
        elif error is not None:
            self.broken.emit(error)
        else:
            self.done.emit(outcome)

    def _set_busy(self, is_busy: bool) -> None:
        self._is_busy = is_busy
        self.busy_changed.emit(is_busy)
