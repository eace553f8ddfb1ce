"""Where bytes come from: a text log and a TCP connection, each told in plain words when it breaks.

A wire is opened, asked for bytes, and closed by one worker thread; only `interrupt` may be called
from another thread.
"""

from __future__ import annotations

import contextlib
import errno
import os
import socket
import threading
from pathlib import Path
from typing import BinaryIO, Protocol

from deskapp.i18n import _

PATIENCE_S = 0.5
"""How long one call of `receive` waits for bytes [s]."""

_CHUNK = 65_536
_FOLLOW_PAUSE_S = 0.25
_NO_WAY = {errno.ENETUNREACH, errno.EHOSTUNREACH, errno.ENETDOWN, errno.EHOSTDOWN}


class WireTrouble(Exception):  # noqa: N818 - a plain word, shown to people
    """A wire cannot be opened or has broken; `text` tells a person."""

    def __init__(self, text: str) -> None:
        super().__init__(text)
        self.text = text


class Wire(Protocol):
    """One place bytes come from. It may be opened again after it was closed."""

    @property
    def place(self) -> str:
        """Words for the place."""
        ...

    @property
    def may_come_back(self) -> bool:
        """Whether opening it again makes sense after it broke."""
        ...

    def open(self) -> None:
        """Open it. Raises WireTrouble."""
        ...

    def receive(self) -> bytes | None:
        """Wait a moment for bytes: empty if none came, None at the end. Raises WireTrouble."""
        ...

    def interrupt(self) -> None:
        """Make a waiting `receive` return soon. Never raises."""
        ...

    def close(self) -> None:
        """Close it, if it is open. Never raises."""
        ...


class FileWire:
    """A text log. With `follow` it goes on as the file grows, until it is interrupted."""

    may_come_back = False

    def __init__(self, path: Path, *, follow: bool = False) -> None:
        self._path = path
        self._follow = follow
        self._stream: BinaryIO | None = None
        self._interrupted = threading.Event()

    @property
    def place(self) -> str:
        """The name of the file."""
        return f"“{self._path.name}”"

    def open(self) -> None:
        """Open the file at its beginning."""
        try:
            self._stream = self._path.open("rb")
        except FileNotFoundError as error:
            words = _("There is no file {place}. Choose the log once more.")
            raise WireTrouble(words.format(place=self.place)) from error
        except OSError as error:
            raise WireTrouble(self._unread(error)) from error

    def receive(self) -> bytes | None:
        """Return the next part of the file."""
        if self._stream is None:
            return None
        try:
            data = self._stream.read(_CHUNK)
            if data or not self._follow:
                return data or None
            if os.fstat(self._stream.fileno()).st_size < self._stream.tell():
                self._stream.seek(0)  # begun anew by the program that writes it
        except OSError as error:
            raise WireTrouble(self._unread(error)) from error
        return None if self._interrupted.wait(_FOLLOW_PAUSE_S) else b""

    def interrupt(self) -> None:
        """End the waiting for a file to grow."""
        self._interrupted.set()

    def close(self) -> None:
        """Close the file."""
        if self._stream is not None:
            with contextlib.suppress(OSError):
                self._stream.close()
            self._stream = None

    def _unread(self, error: OSError) -> str:
        why = error.strerror or type(error).__name__
        words = _("{place} cannot be read ({why}). Choose a text file you may open.")
        return words.format(place=self.place, why=why)


class TcpWire:
    """A connection to an instrument, a bridge or a program that sends lines over TCP."""

    may_come_back = True

    def __init__(self, host: str, port: int, connect_timeout: float = 5.0) -> None:
        self._host, self._port = host, port
        self._connect_timeout = connect_timeout
        self._socket: socket.socket | None = None

    @property
    def place(self) -> str:
        """Host and port."""
        host = f"[{self._host}]" if ":" in self._host else self._host
        return f"{host}:{self._port}"

    def open(self) -> None:
        """Connect, within the connect timeout."""
        try:
            made = socket.create_connection((self._host, self._port), self._connect_timeout)
        except (OSError, UnicodeError, OverflowError) as error:
            raise WireTrouble(self._not_connected(error)) from error
        made.settimeout(PATIENCE_S)
        with contextlib.suppress(OSError):
            made.setsockopt(socket.SOL_SOCKET, socket.SO_KEEPALIVE, 1)
        self._socket = made

    def receive(self) -> bytes | None:
        """Wait for bytes; None once the other end has closed the connection."""
        if self._socket is None:
            return None
        try:
            return self._socket.recv(_CHUNK) or None
        except TimeoutError:
            return b""
        except OSError as error:
            why = error.strerror or type(error).__name__
            words = _("The connection to {place} was lost ({why}).")
            raise WireTrouble(words.format(place=self.place, why=why)) from error

    def interrupt(self) -> None:
        """End both directions of the connection, which wakes the one who waits."""
        held = self._socket
        if held is not None:
            with contextlib.suppress(OSError):
                held.shutdown(socket.SHUT_RDWR)

    def close(self) -> None:
        """Close the connection."""
        held, self._socket = self._socket, None
        if held is not None:
            with contextlib.suppress(OSError):
                held.close()

    def _not_connected(self, error: Exception) -> str:
        words = _("{place} cannot be reached ({why}). Check address, port and network.")
        if isinstance(error, socket.gaierror | UnicodeError):
            words = _("Nothing is known by the name “{host}”. Check the address and the network.")
        elif isinstance(error, ConnectionRefusedError):
            words = _("{place} takes no connection. Check the port, and that sending is turned on.")
        elif isinstance(error, TimeoutError):
            words = _("{place} gave no answer within {seconds:g} s. Check address and network.")
        elif isinstance(error, OSError) and error.errno in _NO_WAY:
            words = _("This network has no way to {place}. Check that you are on the right one.")
        why = getattr(error, "strerror", None) or type(error).__name__
        seconds = self._connect_timeout
        return words.format(place=self.place, host=self._host, seconds=seconds, why=why)
