"""What was worked out before, kept by the identity of the records it follows from."""

from __future__ import annotations

from collections import OrderedDict
from typing import TYPE_CHECKING, Any, TypeVar

if TYPE_CHECKING:
    from collections.abc import Callable

Result = TypeVar("Result")

KEPT_FOR = 8
"""How many evaluations an entry lasts since it was used, so that going to and fro between the rows
of a list, and taking a few steps back, still finds what did not change inside them."""

_PLAIN = frozenset((str, int, bool))
"""Kinds of parts that are told apart by what they say: they are made anew each time."""


class Memo:
    """Results of the last evaluations, to be taken again where nothing they follow from changed.

    A change of a job shares every record it did not touch with the job before, so the same record
    is enough to know that nothing changed; equal ones that are not the same are worked out again.
    It lets go of what the last `KEPT_FOR` evaluations did not use. Whoever evaluates one job over
    and over owns one, and uses it in one thread.
    """

    def __init__(self) -> None:
        self._turn = 0
        self._entries: OrderedDict[tuple[object, ...], tuple[int, tuple[object, ...], Any]] = (
            OrderedDict()
        )

    def begin(self) -> None:
        """Start an evaluation: what was not used for long is let go."""
        self._turn += 1
        entries, last = self._entries, self._turn - KEPT_FOR
        while entries:
            key, entry = entries.popitem(last=False)
            if entry[0] >= last:
                entries[key] = entry
                entries.move_to_end(key, last=False)
                return

    def kept(self, name: str, parts: tuple[object, ...], work: Callable[[], Result]) -> Result:
        """Return what `work` gives, or what it gave before for the very same `parts`.

        Args:
            name: what is worked out; tells apart results of the same parts.
            parts: all that the result follows from: records, taken by their identity, and plain
                texts and numbers, taken by what they say. They are held, so that none is replaced
                by another one of the same identity.
            work: gives the result, which must be frozen.
        """
        key = (name, *[part if type(part) in _PLAIN else id(part) for part in parts])
        entry = self._entries.get(key)
        result = work() if entry is None else entry[2]
        self._entries[key] = (self._turn, parts, result)
        self._entries.move_to_end(key)
        return result
