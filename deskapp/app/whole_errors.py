"""Keeps one release of Qt for Python from ending the program over an error, on Python 3.11.

PySide6 6.12.0 keeps an error of a method that Qt calls, such as `paintEvent`, where that happens
within a call from Python, and looks into the error at once. Until Python 3.12 an error raised by
the interpreter itself, such as a wrong number of arguments, is not an object yet by then, and the
process ends without a word. An error that was caught is one, so each such method catches what goes
wrong in it and raises it again.
"""

from __future__ import annotations

import sys
from functools import wraps
from types import FunctionType
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject

if TYPE_CHECKING:
    from collections.abc import Callable

_QT = ("pyside6.", "shiboken")
_DONE = "_raises_whole_errors"


def keep_errors_whole() -> bool:
    """See to all classes there are, and to those to come; return whether that is called for."""
    if sys.version_info >= (3, 12):
        return False
    QObject.__init_subclass__ = classmethod(_see_to_new)  # pyright: ignore[reportAttributeAccessIssue]
    wait: list[type] = [QObject]
    while wait:
        one = wait.pop()
        wait += one.__subclasses__()
        _see_to(one)
    return True


def _see_to_new(cls: type[QObject], **options: Any) -> None:
    super(QObject, cls).__init_subclass__(**options)
    _see_to(cls)


def _see_to(cls: type) -> None:
    """Let each method that stands in for one of Qt raise errors that are objects."""
    of_qt = [base for base in cls.__mro__ if base.__module__.lower().startswith(_QT)]
    for owner in cls.__mro__:
        if owner in of_qt or owner is object:
            continue
        for name, method in list(vars(owner).items()):
            stands_in = isinstance(method, FunctionType) and not name.startswith("__")
            if stands_in and _DONE not in vars(method) and any(name in vars(b) for b in of_qt):
                setattr(owner, name, _raising_whole(method))


def _raising_whole(method: Callable[..., object]) -> Callable[..., object]:
    @wraps(method)
    def call(*values: Any, **named: Any) -> object:
        try:
            return method(*values, **named)
        except Exception:  # caught, it is an object
            raise

    setattr(call, _DONE, True)
    return call
