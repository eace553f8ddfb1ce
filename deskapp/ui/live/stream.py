"""One stream on screen: fetches what its worker thread has, line by line, without waiting."""

from __future__ import annotations

from collections import deque
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, QTimer, Signal

if TYPE_CHECKING:
    from deskapp.session.live.sources import LineSource, ReceivedLine, SourceNotice
    from deskapp.session.live.training_server import TrainingServer
    from deskapp.session.live.watch import LiveWatch

TICK_MS = 100
MOST_AT_ONCE = 200


class Stream(QObject):
    """Joins a source, which reads in a thread of its own, to a watch.

    Signals: `sampled` with time [s] and duct pressure [Pa] of each sample, `viewed` with what
    there is to show, `over` once no more lines come.
    """

    sampled = Signal(float, float)
    viewed = Signal(object)
    over = Signal()

    def __init__(
        self,
        source: LineSource,
        watch: LiveWatch,
        server: TrainingServer | None = None,
        parent: QObject | None = None,
    ) -> None:
        """Make a stream that is not started; `server` is the training that feeds the source."""
        super().__init__(parent)
        self.watch = watch
        self._source = source
        self._server = server
        self._waiting: deque[ReceivedLine | SourceNotice] = deque()
        self._timer = QTimer(self)
        self._timer.setInterval(TICK_MS)
        self._timer.timeout.connect(self._tick)

    @property
    def is_running(self) -> bool:
        """Whether lines are fetched; the thread of a source that is over ends a little later."""
        return self._timer.isActive()

    def start(self) -> None:
        """Begin to read."""
        self._source.start()
        self._timer.start()

    def stop(self) -> None:
        """End reading; the worker threads end by themselves within a moment."""
        self._timer.stop()
        self._source.stop(patience=0.0)
        if self._server is not None:
            self._server.stop(patience=0.0)

    def _tick(self) -> None:
        self._waiting.extend(self._source.pending())
        view = None
        for _each in range(min(len(self._waiting), MOST_AT_ONCE)):
            before = self.watch.view.sample
            view = self.watch.take((self._waiting.popleft(),))
            if view.sample is not None and view.sample is not before:
                self.sampled.emit(view.sample.seconds, view.sample.duct_pressure)
        if view is not None:
            self.viewed.emit(view)
        ended = view is not None and view.notice is not None and view.notice.state.is_over
        if ended and not self._waiting:
            self.stop()
            self.over.emit()
