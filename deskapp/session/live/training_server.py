"""The simulated stream over TCP on this computer, for training and tests.

It listens on the loopback address only, serves one listener at a time, and ends by itself: when
its simulated time is used up, or when nobody has listened for a while.
"""

from __future__ import annotations

import contextlib
import socket
import threading
import time
from typing import TYPE_CHECKING, Self

from deskapp.session.live.simulated import HEADER, Move, SimulatedSystem, follow

if TYPE_CHECKING:
    from collections.abc import Sequence

HOST = "127.0.0.1"

_PATIENCE_S = 0.25
_SEND_PATIENCE_S = 2.0


class TrainingServer:
    """Serves one simulated system.

    Args of the constructor: the system; what the person does (`moves`), unless `set_pressure` is
    called while it runs; `pace`, real seconds for each simulated one, 0 for as fast as lines are
    fetched; `longest`, the simulated time after which it ends [s]; `idle`, how long it waits for a
    listener [s].
    """

    def __init__(
        self,
        system: SimulatedSystem,
        moves: Sequence[Move] = (),
        *,
        pace: float = 1.0,
        longest: float = 3600.0,
        idle: float = 60.0,
    ) -> None:
        self._system = system
        self._moves = tuple(moves)
        self._pace, self._longest, self._idle = pace, longest, idle
        self._stopping = threading.Event()
        self._thread = threading.Thread(target=self._serve, name="training", daemon=True)
        self._socket = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        self._port = 0

    def __enter__(self) -> Self:
        self.start()
        return self

    def __exit__(self, *_error: object) -> None:
        self.stop()

    @property
    def address(self) -> tuple[str, int]:
        """Host and port to connect to, once it was started."""
        return HOST, self._port

    @property
    def is_running(self) -> bool:
        """Whether it still serves or waits for a listener."""
        return self._thread.is_alive()

    def start(self) -> None:
        """Listen on a free port. Raises OSError if this computer lets nothing listen."""
        self._socket.bind((HOST, 0))
        self._socket.listen(1)
        self._socket.settimeout(_PATIENCE_S)
        self._port = int(self._socket.getsockname()[1])
        self._thread.start()

    def set_pressure(self, pressure: float) -> None:
        """Set the fan by hand for an induced pressure, as a size [Pa]; 0 turns it off."""
        self._system.set_pressure = pressure

    def stop(self, patience: float = 3.0) -> bool:
        """End it; return whether that was done within `patience` seconds."""
        self._stopping.set()
        if self._thread.ident is not None:
            self._thread.join(patience)
        with contextlib.suppress(OSError):
            self._socket.close()
        return not self._thread.is_alive()

    # In its thread

    def _serve(self) -> None:
        with contextlib.closing(self._socket):
            since = time.monotonic()
            while self._goes_on() and time.monotonic() - since < self._idle:
                try:
                    listener, _address = self._socket.accept()
                except TimeoutError:
                    continue
                except OSError:
                    return
                with contextlib.closing(listener), contextlib.suppress(OSError):
                    listener.settimeout(_SEND_PATIENCE_S)
                    self._send_lines(listener)
                since = time.monotonic()

    def _send_lines(self, listener: socket.socket) -> None:
        listener.sendall(f"{HEADER}\r\n".encode("ascii"))
        while self._goes_on():
            if self._moves:
                follow(self._system, self._moves)
            listener.sendall(f"{self._system.next_line()}\r\n".encode("ascii"))
            if self._pace > 0.0:
                self._stopping.wait(self._pace * self._system.case.interval)

    def _goes_on(self) -> bool:
        return not self._stopping.is_set() and self._system.seconds < self._longest
