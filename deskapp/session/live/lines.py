"""Bytes of a stream, as they come, to whole lines of text."""

from __future__ import annotations

LONGEST_LINE = 4096
"""A line with more bytes than this is dropped; a reading needs about fifty."""

_MARK = b"\xef\xbb\xbf"


class LineSplitter:
    """Cuts one stream into lines ended by LF, CR or CRLF, however the bytes are parted.

    A UTF-8 byte order mark at the beginning is dropped. Text that is not UTF-8 is read as Latin-1,
    so every byte gives some text. A line that grows beyond `longest` bytes is dropped up to its
    end and counted in `dropped`; memory stays bounded.
    """

    def __init__(self, longest: int = LONGEST_LINE) -> None:
        self.dropped = 0
        self._longest = longest
        self._rest = bytearray()
        self._at_beginning = True
        self._after_return = False
        self._dropping = False

    def feed(self, data: bytes) -> list[str]:
        """Take the next bytes and return the lines they complete, without their ends."""
        if self._after_return and data.startswith(b"\n"):
            data = data[1:]
            self._after_return = False
        if not data:
            return []
        self._after_return = data.endswith(b"\r")
        *ended, rest = data.replace(b"\r\n", b"\n").replace(b"\r", b"\n").split(b"\n")
        lines: list[str] = []
        for piece in ended:
            self._grow(piece)
            lines += self._finish()
        self._grow(rest)
        return lines

    def rest(self) -> list[str]:
        """Return the last line, which nothing ended, once the stream is over."""
        return self._finish() if self._rest or self._dropping else []

    def _grow(self, piece: bytes) -> None:
        if self._dropping:
            return
        if len(self._rest) + len(piece) > self._longest:
            self._rest.clear()
            self._dropping = True
            self.dropped += 1
        else:
            self._rest += piece

    def _finish(self) -> list[str]:
        raw = bytes(self._rest)
        self._rest.clear()
        if self._at_beginning:
            raw = raw.removeprefix(_MARK)
            self._at_beginning = False
        if self._dropping:
            self._dropping = False
            return []
        return [decoded(raw)]


def decoded(raw: bytes) -> str:
    """Return `raw` as text: UTF-8 where it is that, else Latin-1."""
    try:
        return raw.decode("utf-8")
    except UnicodeDecodeError:
        return raw.decode("latin-1")
