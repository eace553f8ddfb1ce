"""A draft in the mail program of Windows, by the interface for simple mail (MAPI)."""

from __future__ import annotations

import ctypes
import sys
from typing import TYPE_CHECKING, ClassVar

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

_TO = 1
_ASK_TO_LOG_ON, _SHOW_DRAFT = 0x1, 0x8
_DONE, _CLOSED_BY_PERSON = 0, 1
_AT_THE_END = 0xFFFFFFFF


class Person(ctypes.Structure):
    """`MapiRecipDescW` of the interface."""

    _fields_: ClassVar = [
        ("reserved", ctypes.c_ulong),
        ("role", ctypes.c_ulong),
        ("name", ctypes.c_wchar_p),
        ("address", ctypes.c_wchar_p),
        ("entry_size", ctypes.c_ulong),
        ("entry", ctypes.c_void_p),
    ]


class File(ctypes.Structure):
    """`MapiFileDescW` of the interface."""

    _fields_: ClassVar = [
        ("reserved", ctypes.c_ulong),
        ("flags", ctypes.c_ulong),
        ("position", ctypes.c_ulong),
        ("path", ctypes.c_wchar_p),
        ("name", ctypes.c_wchar_p),
        ("kind", ctypes.c_void_p),
    ]


class Message(ctypes.Structure):
    """`MapiMessageW` of the interface."""

    _fields_: ClassVar = [
        ("reserved", ctypes.c_ulong),
        ("subject", ctypes.c_wchar_p),
        ("text", ctypes.c_wchar_p),
        ("kind", ctypes.c_wchar_p),
        ("received", ctypes.c_wchar_p),
        ("conversation", ctypes.c_wchar_p),
        ("flags", ctypes.c_ulong),
        ("sender", ctypes.POINTER(Person)),
        ("people_count", ctypes.c_ulong),
        ("people", ctypes.POINTER(Person)),
        ("file_count", ctypes.c_ulong),
        ("files", ctypes.POINTER(File)),
    ]


def message_of(to: Sequence[str], subject: str, text: str, files: Sequence[Path]) -> Message:
    """Return a mail as the interface takes it."""
    people = (Person * len(to))(*(Person(0, _TO, one, f"SMTP:{one}", 0, None) for one in to))
    attached = (File * len(files))(
        *(File(0, 0, _AT_THE_END, str(path.absolute()), path.name, None) for path in files)
    )
    message = Message(0, subject, text.replace("\n", "\r\n"))
    if to:
        message.people_count, message.people = len(to), people
    message.file_count, message.files = len(files), attached
    return message


def open_draft(to: Sequence[str], subject: str, text: str, files: Sequence[Path]) -> bool:
    """Open a draft and wait until it is closed; False where no mail program takes it."""
    if sys.platform != "win32":
        return False
    try:
        send = ctypes.WinDLL("mapi32").MAPISendMailW
    except (OSError, AttributeError):
        return False
    message = message_of(to, subject, text, files)
    code = send(None, None, ctypes.byref(message), _ASK_TO_LOG_ON | _SHOW_DRAFT, 0)
    return code in (_DONE, _CLOSED_BY_PERSON)
