"""What was worked out before, kept by the identity of the records it follows from."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

Result = TypeVar("Result")


class Memo:
    """Results of the last evaluation, to be taken again where nothing they follow from changed.

    A change of a job shares every record it did not touch with the job before, so the same record
    is enough to know that nothing changed; equal ones that are not the same are worked out again.
    It holds what two evaluations in a row used and no more. Whoever evaluates one job over and
    over owns one, and uses it in one thread.
    """

    def __init__(self) -> None:
        self._before: dict[tuple[object, ...], tuple[tuple[object, ...], Any]] = {}
        self._now: dict[tuple[object, ...], tuple[tuple[object, ...], Any]] = {}

    def begin(self) -> None:
        """Start an evaluation: what the last one did not use is let go."""
        self._before, self._now = self._now, {}

    def kept(self, name: str, parts: tuple[object, ...], work: Callable[[], Result]) -> Result:
        """Return what `work` gives, or what it gave before for the very same `parts`.

        Args:
            name: what is worked out; tells apart results of the same parts.
            parts: all that the result follows from. They are held, so that none is replaced by
                another one of the same identity.
            work: gives the result, which must be frozen.
        """
        key = (name, *map(id, parts))
        entry = self._now.get(key) or self._before.get(key) or (parts, work())
        self._now[key] = entry
        return entry[1]
