"""Keeps one release of Qt for Python from ending the program on Python 3.11.

PySide6 6.12.0 returns None, True and False as if they could never be used up. That is so from
Python 3.12 on (PEP 683, immortal objects); on 3.11 every such return takes one of their counted
references away, and after some thousands of calls the interpreter stops with "deallocating None".
Here these objects are given so many references that they last.
"""

from __future__ import annotations

import sys

_PLENTY = 1 << 40
_CALLS = 64
_SINGLE = (None, True, False, NotImplemented, Ellipsis)


def loses_references() -> bool:
    """Say whether calls into Qt without a value take references to None away (measured)."""
    from PySide6.QtCore import QObject

    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(_CALLS):
        thing.setObjectName("")
    return before - sys.getrefcount(None) > _CALLS // 2


def keep_alive() -> bool:
    """Give the single objects references to last for the whole run if Qt uses them up.

    Returns whether that was called for and done.
    """
    if sys.version_info >= (3, 12) or not loses_references():
        return False
    from ctypes import c_ssize_t

    for thing in _SINGLE:
        count = c_ssize_t.from_address(id(thing))
        if abs(count.value - sys.getrefcount(thing)) < _CALLS:
            count.value += _PLENTY
    return all(sys.getrefcount(thing) > _PLENTY // 2 for thing in _SINGLE)
