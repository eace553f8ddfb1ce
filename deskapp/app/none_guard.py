"""Keeps one release of Qt for Python from ending the program on Python 3.11.

PySide6 6.12.0 returns None from calls without a value as if None could never be used up. That is
so from Python 3.12 on (PEP 683, immortal objects); on 3.11 every such call takes one of the counted
references to None away, and after some thousands of calls the interpreter stops with "deallocating
None". Here None is given so many references that they last.
"""

from __future__ import annotations

import sys

_PLENTY = 1 << 40
_CALLS = 64


def loses_references() -> bool:
    """Say whether calls into Qt without a value take references to None away (measured)."""
    from PySide6.QtCore import QObject

    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(_CALLS):
        thing.setObjectName("")
    return before - sys.getrefcount(None) > _CALLS // 2


def keep_none() -> bool:
    """Give None references to last for the whole run if Qt uses them up; say whether it did so."""
    if sys.version_info >= (3, 12) or not loses_references():
        return False
    from ctypes import c_ssize_t

    count = c_ssize_t.from_address(id(None))
    if abs(count.value - sys.getrefcount(None)) < _CALLS:
        count.value += _PLENTY
    return sys.getrefcount(None) > _PLENTY // 2
