"""Looks into folders that may not answer, such as a share, and does not wait for ever."""

from __future__ import annotations

from contextvars import copy_context
from functools import partial
from threading import Thread
from typing import TYPE_CHECKING, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable

Found = TypeVar("Found")
PATIENCE = 3.0
"""Seconds without a sign of life after which a folder counts as not reachable."""


def all_of(items: Callable[[], Iterable[Found]], patience: float = PATIENCE) -> list[Found] | None:
    """Return all items, or None where the next one does not come in `patience` seconds.

    They are asked for in a thread of their own that nobody waits for then, not even the end of the
    program: a file on a share that is gone may hold up whoever asks for it for minutes.
    """
    found: list[Found] = []
    errors: list[BaseException] = []

    def collect() -> None:
        try:
            for item in items():
                found.append(item)
        except BaseException as error:  # raised again below, where it is asked for
            errors.append(error)

    thread = Thread(target=partial(copy_context().run, collect), daemon=True)
    thread.start()
    seen = -1
    while thread.is_alive():
        thread.join(patience)
        if thread.is_alive() and len(found) == seen:
            return None
        seen = len(found)
    if errors:
        raise errors[0]
    return found
