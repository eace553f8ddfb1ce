"""Work that takes more than a moment: it tells its steps, and may be given up between them."""

from __future__ import annotations

from threading import Lock
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Callable


class GivenUp(Exception):  # noqa: N818 - a person wished it
    """The work was given up before anything of it was kept."""


def _tell_nobody(_number: int, _count: int, _name: str) -> None:
    pass


class LongWork:
    """How one piece of work goes; its worker calls `step` and `settle`, its asker `give_up`.

    Both sides may be different threads.
    """

    def __init__(self, tell: Callable[[int, int, str], None] = _tell_nobody) -> None:
        """Begin; `tell` gets number, count and name of each step, in the thread of the worker."""
        self._tell = tell
        self._lock = Lock()
        self._is_settled = False
        self._is_given_up = False

    def step(self, number: int, count: int, name: str) -> None:
        """Say that step `number` of `count` begins. Raises GivenUp if nobody waits for it."""
        self.look_up()
        self._tell(number, count, name)

    def look_up(self) -> None:
        """Raise GivenUp if nobody waits for the work any more; to be called while one waits."""
        if self._is_given_up:
            raise GivenUp

    def settle(self) -> None:
        """Pass the point from which the work is brought to its end.

        To be called right before files are written. Raises GivenUp if it was given up before.
        """
        with self._lock:
            if self._is_given_up:
                raise GivenUp
            self._is_settled = True

    def give_up(self) -> bool:
        """Ask for an end; return False where it is too late, because files are being written."""
        with self._lock:
            self._is_given_up = not self._is_settled
            return self._is_given_up
