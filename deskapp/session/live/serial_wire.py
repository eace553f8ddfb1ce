"""A serial port as a wire, through the optional package pyserial, loaded only when asked for."""

from __future__ import annotations

import contextlib
import errno
import importlib
from dataclasses import dataclass
from typing import Any, Protocol, cast

from deskapp.i18n import _
from deskapp.session.live.wires import PATIENCE_S, WireTrouble


@dataclass(frozen=True, slots=True)
class SerialSettings:
    """How to open a serial port, from the manual of the instrument; `parity` is N, E or O."""

    port: str
    baud: int = 9600
    data_bits: int = 8
    parity: str = "N"
    stop_bits: int = 1


@dataclass(frozen=True, slots=True)
class FoundPort:
    """A serial port of this computer: its name for the settings, and words to choose by."""

    port: str
    words: str


class _OpenPort(Protocol):
    @property
    def in_waiting(self) -> int: ...
    def read(self, size: int) -> bytes: ...
    def cancel_read(self) -> None: ...
    def close(self) -> None: ...


def serial_ports() -> tuple[FoundPort, ...]:
    """Return the serial ports this computer has. Raises WireTrouble without pyserial."""
    listed: Any = _pyserial("serial.tools.list_ports")
    ports: list[FoundPort] = []
    for port in listed.comports():
        name, words = str(port.device), str(port.description or "")
        ports.append(FoundPort(name, f"{name}: {words}" if words not in ("", "n/a") else name))
    return tuple(sorted(ports, key=lambda found: found.port))


class SerialWire:
    """A serial port that sends lines."""

    may_come_back = True

    def __init__(self, settings: SerialSettings) -> None:
        self._settings = settings
        self._port: _OpenPort | None = None

    @property
    def place(self) -> str:
        """The name of the port."""
        return self._settings.port

    def open(self) -> None:
        """Open the port for this program alone."""
        serial = _pyserial("serial")
        given = self._settings
        try:
            opened: object = serial.Serial(
                port=given.port,
                baudrate=given.baud,
                bytesize=given.data_bits,
                parity=given.parity,
                stopbits=given.stop_bits,
                timeout=PATIENCE_S,
                exclusive=True,
            )
        except (ValueError, OverflowError) as error:
            words = _("{place} cannot be set up so: {why}. Check speed, bits and parity.")
            raise WireTrouble(words.format(place=self.place, why=error)) from error
        except OSError as error:
            raise WireTrouble(self._not_opened(error)) from error
        self._port = cast("_OpenPort", opened)

    def receive(self) -> bytes | None:
        """Wait for bytes."""
        if self._port is None:
            return None
        try:
            return self._port.read(max(1, self._port.in_waiting))
        except (OSError, TypeError) as error:  # TypeError: closed while it was read
            words = _("{place} no longer answers. Check the cable and the adapter.")
            raise WireTrouble(words.format(place=self.place)) from error

    def interrupt(self) -> None:
        """End the waiting."""
        held = self._port
        if held is not None:
            with contextlib.suppress(OSError, AttributeError, TypeError):
                held.cancel_read()

    def close(self) -> None:
        """Close the port."""
        held, self._port = self._port, None
        if held is not None:
            with contextlib.suppress(OSError):
                held.close()

    def _not_opened(self, error: OSError) -> str:
        words = _("{place} cannot be opened. Check the name of the port and the cable.")
        if error.errno == errno.EACCES:
            words = _(
                "You may not open {place}. Close other programs that use it; on Linux your account"
                " must belong to the group that owns the port."
            )
        elif error.errno in (errno.EBUSY, errno.EAGAIN, errno.EWOULDBLOCK):
            words = _("{place} is in use by another program. Close that one first.")
        elif error.errno == errno.ENOENT:
            words = _("There is no port {place}. Check the cable, and choose the port once more.")
        return words.format(place=self.place)


def _pyserial(module: str) -> Any:
    """Return a module of pyserial. Raises WireTrouble if that is not installed."""
    try:
        return importlib.import_module(module)
    except ImportError as error:
        words = _(
            "Reading a serial port needs the package pyserial, which is not installed."
            " Install it beside this program (pip install pyserial), or use TCP or a log."
        )
        raise WireTrouble(words) from error
