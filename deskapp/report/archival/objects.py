"""The numbered objects of a report, and the file they are written into (ISO 32000-1, 7.3 and 7.5).

A report has a thousand small objects. All that hold no data of their own stand in one stream of
objects (7.5.7), which is what makes the file short and quick to write.
"""

from __future__ import annotations

import hashlib
import re
import struct
import zlib
from typing import NamedTuple

_HEADER = b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n"
"""The version, and a line by which other programs know that the file is not text (7.5.2)."""
_STREAM_ENDS = b"\nendstream"
_OBJECT_ENDS = b"\nendobj\n"
_ROW = struct.Struct(">BII")
"""A row of the table of objects: how it stands there, where, and its number in its stream."""
_FREE, _IN_FILE, _IN_STREAM = 0, 1, 2
_LAST_GENERATION = 65535
_EFFORT = 4
"""Of 9: files get 2% larger than with the usual 6, and are ready a tenth sooner."""
_ESCAPED = re.compile(rb"[()\\]")


class Objects:
    """The objects of one file, by their numbers from 1, as the bytes they are written with."""

    def __init__(self) -> None:
        self.contents: list[bytes] = [b""]
        """The objects; their numbers are their places here, and none has the number 0."""

    def reserve(self) -> int:
        """Return the number of a new object, to be put in place later."""
        self.contents.append(b"null")
        return len(self.contents) - 1

    def add(self, content: bytes) -> int:
        """Add an object, and return its number."""
        self.contents.append(content)
        return len(self.contents) - 1

    def extend(self, number: int, entries: bytes) -> None:
        """Add `entries` to the dictionary that has this number."""
        held = self.contents[number].rstrip()
        if not held.endswith(b">>"):
            raise ValueError(f"object {number} is not a dictionary")
        self.contents[number] = held[:-2] + entries + b">>"

    def identity(self) -> bytes:
        """Return 32 bytes that are other ones as soon as any object is."""
        return hashlib.sha256(_OBJECT_ENDS.join(self.contents)).digest()

    def file(self, catalog: int, information: int, identity: bytes) -> bytes:
        """Return the file; `identity` are the 16 bytes by which it is told from others."""
        parts, rows, at = [_HEADER], [_ROW.pack(_FREE, 0, _LAST_GENERATION)], len(_HEADER)
        packed: list[bytes] = []
        heads: list[bytes] = []
        place, held = 0, len(self.contents)
        for number, content in enumerate(self.contents[1:], 1):
            if content.endswith(_STREAM_ENDS):
                written = b"%d 0 obj\n%s\nendobj\n" % (number, content)
                parts.append(written)
                rows.append(_ROW.pack(_IN_FILE, at, 0))
                at += len(written)
            else:
                heads.append(b"%d %d" % (number, place))
                rows.append(_ROW.pack(_IN_STREAM, held, len(packed)))
                packed.append(content)
                place += len(content) + 1
        head = b" ".join(heads) + b"\n"
        entries = b"/Type/ObjStm/N %d/First %d" % (len(packed), len(head))
        container = b"%d 0 obj\n%s\nendobj\n" % (
            held,
            stream(entries, head + b"\n".join(packed)),
        )
        rows += [_ROW.pack(_IN_FILE, at, 0), _ROW.pack(_IN_FILE, at + len(container), 0)]
        entries = b"/Type/XRef/W[1 4 4]/Size %d/Root %d 0 R/Info %d 0 R/ID[<%s><%s>]" % (
            len(rows),
            catalog,
            information,
            identity.hex().encode(),
            identity.hex().encode(),
        )
        table = b"%d 0 obj\n%s\nendobj\n" % (held + 1, stream(entries, b"".join(rows)))
        end = b"startxref\n%d\n%%%%EOF\n" % (at + len(container))
        return b"".join((*parts, container, table, end))


class DrawnFile(NamedTuple):
    """The objects of a file that was drawn: the number of its catalog, and those of its pages."""

    objects: Objects
    catalog: int
    pages: list[int]


def stream(entries: bytes, data: bytes) -> bytes:
    """Return an object that holds `data`, compressed; `entries` are what is said of it."""
    packed = compressed(data)
    told = b"<<%s/Filter/FlateDecode/Length %d>>\nstream\n" % (entries, len(packed))
    return told + packed + _STREAM_ENDS


def compressed(data: bytes) -> bytes:
    """Return data in the form called FlateDecode (7.4.4)."""
    return zlib.compress(data, _EFFORT)


def raw_stream(written: bytes, end: bytes) -> bytes:
    """Return an object with data as another library wrote it, up to `end`, which it ends with."""
    return written[: -len(end)] + _STREAM_ENDS


def text_string(text: str) -> bytes:
    """Return text as a file holds it (7.9.2.2)."""
    if text.isascii() and text.isprintable():
        return b"(%s)" % _ESCAPED.sub(rb"\\\g<0>", text.encode())
    return b"<FEFF%s>" % text.encode("utf-16-be", "replace").hex().upper().encode()


def name(text: str) -> bytes:
    """Return a name as a file holds it (7.3.5)."""
    return b"/" + b"".join(
        b"%c" % byte if 0x21 <= byte <= 0x7E and byte not in b"#()<>[]{}/%" else b"#%02X" % byte
        for byte in text.encode()
    )
