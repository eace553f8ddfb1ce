"""Line sources: a log, a TCP connection or a serial port read by a thread of its own.

A source is started, gives lines either to a ``for`` loop that waits or to a timer that asks for
what is `pending`, and is stopped. Whatever goes wrong comes as a `SourceNotice` in plain words, in
its place among the lines.
"""

from __future__ import annotations

import threading
import time
from collections import deque
from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Self

from deskapp.i18n import _
from deskapp.session.live.lines import LineSplitter
from deskapp.session.live.wires import FileWire, TcpWire, Wire, WireTrouble

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from pathlib import Path

    from deskapp.session.live.serial_wire import SerialSettings

MOST_WAITING = 10_000
"""Lines kept for a reader that does not fetch them; then the wire has to wait."""

QUIET_AFTER_S = 5.0
"""Silence after which it is said that nothing arrives [s]; a house rule."""

TRIES = 5
FIRST_PAUSE_S = 1.0
LONGEST_PAUSE_S = 8.0


class SourceState(StrEnum):
    """What a source is doing."""

    CONNECTING = "connecting"
    OPEN = "open"
    ARRIVING = "arriving"
    QUIET = "quiet"
    TRYING_AGAIN = "trying again"
    ENDED = "ended"
    TROUBLE = "trouble"

    @property
    def is_over(self) -> bool:
        """Whether no more lines will come."""
        return self in (SourceState.ENDED, SourceState.TROUBLE)


@dataclass(frozen=True, slots=True)
class ReceivedLine:
    """A line, and when it arrived in seconds since the start of the source.

    `too_long` stands for a line that was dropped for its length; its text is empty.
    """

    text: str
    arrived: float
    too_long: bool = False


@dataclass(frozen=True, slots=True)
class SourceNotice:
    """A change of state, in words for a person."""

    state: SourceState
    text: str


class _Mailbox:
    """What the worker hands over. Putting waits while it is full, taking while it is empty."""

    def __init__(self, most: int) -> None:
        self._most = most
        self._items: deque[ReceivedLine | SourceNotice] = deque()
        self._changed = threading.Condition()
        self._closed = False

    def put(self, item: ReceivedLine | SourceNotice) -> None:
        with self._changed:
            self._changed.wait_for(lambda: self._closed or len(self._items) < self._most)
            if not self._closed or isinstance(item, SourceNotice):
                self._items.append(item)
            self._changed.notify_all()

    def take(self) -> ReceivedLine | SourceNotice | None:
        """Return the next item, or None once it is closed and empty."""
        with self._changed:
            self._changed.wait_for(lambda: self._closed or bool(self._items))
            item = self._items.popleft() if self._items else None
            self._changed.notify_all()
            return item

    def drain(self) -> list[ReceivedLine | SourceNotice]:
        with self._changed:
            items = list(self._items)
            self._items.clear()
            self._changed.notify_all()
            return items

    def close(self) -> None:
        with self._changed:
            self._closed = True
            self._changed.notify_all()


class LineSource:
    """Reads one wire in a thread of its own.

    A wire that cannot be opened at first ends the source with a notice. One that breaks later is
    opened again up to `tries` times, with growing pauses, if it may come back.
    """

    def __init__(
        self,
        wire: Wire,
        *,
        tries: int = TRIES,
        first_pause: float = FIRST_PAUSE_S,
        quiet_after: float = QUIET_AFTER_S,
        clock: Callable[[], float] = time.monotonic,
        most_waiting: int = MOST_WAITING,
    ) -> None:
        """Make a source that is not yet started.

        Args:
            wire: where the bytes come from.
            tries: how often a broken wire is opened again.
            first_pause: pause before the first of these tries, doubled each time up to 8 [s].
            quiet_after: silence after which a notice says that nothing arrives [s].
            clock: seconds that only ever grow.
            most_waiting: lines kept while nobody fetches them.
        """
        self._wire = wire
        self._tries, self._first_pause = tries, first_pause
        self._quiet_after = quiet_after
        self._clock = clock
        self._began = 0.0
        self._box = _Mailbox(most_waiting)
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._work, name="line source", daemon=True)
        self._started = False
        self.notice = SourceNotice(SourceState.CONNECTING, "")

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_error: object) -> None:
        self.stop()

    def __iter__(self) -> Iterator[ReceivedLine]:
        """Yield the lines as they arrive; end when the source is over or stopped."""
        self.start()
        while (item := self._box.take()) is not None:
            if isinstance(item, ReceivedLine):
                yield item

    def start(self) -> None:
        """Begin to read; a second call does nothing."""
        if not self._started:
            self._started = True
            self._began = self._clock()
            self._thread.start()

    def pending(self) -> list[ReceivedLine | SourceNotice]:
        """Return what has come since the last call, without waiting."""
        return self._box.drain()

    @property
    def is_running(self) -> bool:
        """Whether the thread is at work."""
        return self._thread.is_alive()

    def stop(self, patience: float = 2.0) -> bool:
        """End the thread and close the wire; return whether that was done within `patience` s.

        Only a connection that is just being made can take longer: up to its timeout. Its thread
        then closes it by itself.
        """
        self._stopping.set()
        self._box.close()
        self._wire.interrupt()
        if self._started and self._thread is not threading.current_thread():
            self._thread.join(patience)
        return not self._thread.is_alive()

    # In the worker thread

    def _work(self) -> None:
        try:
            self._read_until_over()
        except WireTrouble as trouble:
            self._say(SourceState.TROUBLE, trouble.text)
        except Exception as error:
            words = _("Reading {place} came to an unforeseen end ({why}). Connect again.")
            why = type(error).__name__
            self._say(SourceState.TROUBLE, words.format(place=self._wire.place, why=why))
        finally:
            self._wire.close()
            self._box.close()

    def _read_until_over(self) -> None:
        self._say(SourceState.CONNECTING, _("Opening {place}.").format(place=self._wire.place))
        self._wire.open()
        while True:
            try:
                self._pump()
                break
            except WireTrouble as trouble:
                self._wire.close()
                if not self._wire.may_come_back:
                    raise
                self._open_again(trouble)
        stopped = self._stopping.is_set()
        words = _("Reading {place} was stopped.") if stopped else _("{place} sends no more.")
        self._say(SourceState.ENDED, words.format(place=self._wire.place))

    def _open_again(self, broken: WireTrouble) -> None:
        """Open the wire once more; return when that is done, or the source is to stop."""
        pause = self._first_pause
        for attempt in range(1, self._tries + 1):
            words = _("{trouble} Trying again ({attempt} of {tries}).")
            words = words.format(trouble=broken.text, attempt=attempt, tries=self._tries)
            self._say(SourceState.TRYING_AGAIN, words)
            if self._stopping.wait(pause):
                return
            pause = min(2.0 * pause, LONGEST_PAUSE_S)
            try:
                self._wire.open()
            except WireTrouble as trouble:
                broken = trouble
            else:
                return
        raise WireTrouble(_("{trouble} Connect again once it is back.").format(trouble=broken.text))

    def _pump(self) -> None:
        """Hand over lines until the wire ends or the source is to stop."""
        place = self._wire.place
        words = _("{place} is open. Waiting for lines.")
        self._say(SourceState.OPEN, words.format(place=place))
        splitter = LineSplitter()
        latest = self._clock()
        while not self._stopping.is_set():
            data = self._wire.receive()
            now = self._clock()
            if data is None:
                break
            if data:
                latest = now
                if self.notice.state is not SourceState.ARRIVING:
                    words = _("Lines arrive from {place}.")
                    self._say(SourceState.ARRIVING, words.format(place=place))
                self._hand_over(splitter, splitter.feed, data, now)
            elif now - latest >= self._quiet_after and self.notice.state is not SourceState.QUIET:
                words = _("Nothing has come from {place} for {seconds:g} s. Check that it sends.")
                words = words.format(place=place, seconds=self._quiet_after)
                self._say(SourceState.QUIET, words)
        if not self._stopping.is_set():
            self._hand_over(splitter, lambda _data: splitter.rest(), b"", self._clock())

    def _hand_over(
        self,
        splitter: LineSplitter,
        cut: Callable[[bytes], list[str]],
        data: bytes,
        now: float,
    ) -> None:
        dropped = splitter.dropped
        for text in cut(data):
            self._box.put(ReceivedLine(text, now - self._began))
        for _each in range(splitter.dropped - dropped):
            self._box.put(ReceivedLine("", now - self._began, too_long=True))

    def _say(self, state: SourceState, text: str) -> None:
        self.notice = SourceNotice(state, text)
        self._box.put(self.notice)


def from_file(path: Path, *, follow: bool = False) -> LineSource:
    """Return a source of the lines of a text log; with `follow` it goes on as the log grows."""
    return LineSource(FileWire(path, follow=follow))


def from_tcp(host: str, port: int, *, connect_timeout: float = 5.0) -> LineSource:
    """Return a source of the lines that come over a TCP connection."""
    return LineSource(TcpWire(host, port, connect_timeout))


def from_serial(settings: SerialSettings) -> LineSource:
    """Return a source of the lines of a serial port."""
    from deskapp.session.live.serial_wire import SerialWire

    return LineSource(SerialWire(settings))


def read_address(text: str, default_port: int | None = None) -> tuple[str, int] | None:
    """Return host and port of ``host:port`` or ``[::1]:port``; None if the text holds no such."""
    host, mark, port = text.strip().rpartition(":")
    if not mark and default_port is not None:
        return (port, default_port) if port else None
    host = host.removeprefix("[").removesuffix("]")
    known = port.isascii() and port.isdigit() and len(port) <= 5 and 0 < int(port) <= 65_535
    return (host, int(port)) if known and host and not any(c.isspace() for c in host) else None
