"""Which ring of one record of a fan is which ring of another."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.instrument import Ring
from deskapp.domain.measured import si_of

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from deskapp.domain.measured import Measured

Match = tuple[Ring | None, Ring | None]

_DIGITS = 9
_NEAR = 1.25
"""Ratio within which two figures can be one that was corrected. House rule."""


def matched_rings(theirs: Sequence[Ring], ours: Sequence[Ring]) -> list[Match]:
    """Pair the rings of two records of one fan.

    A ring is known by its flow range, or else by its law; an empty ring stands for any. One ring
    left over on each side is taken for one ring that was corrected, if no figure of the one is
    further from the other than a correction goes. Pairs come in the order of `ours`, then what
    only `theirs` has; None stands where a ring has no partner.
    """
    left = list(theirs)
    partners: dict[int, Ring] = {}
    for mark_of in (_name, _law):
        for position, ring in enumerate(ours):
            mark = mark_of(ring)
            if position not in partners and mark is not None:
                _take(partners, position, left, mark_of, mark)
    for position in range(len(ours)):
        empty = next((ring for ring in left if ring == Ring(key=ring.key)), None)
        if position not in partners and empty is not None:
            partners[position] = empty
            left.remove(empty)
    alone = [position for position in range(len(ours)) if position not in partners]
    if len(alone) == 1 and len(left) == 1 and _are_near(left[0], ours[alone[0]]):
        partners[alone[0]] = left.pop()
    pairs: list[Match] = [(partners.get(n), ring) for n, ring in enumerate(ours)]
    return [*pairs, *((ring, None) for ring in left)]


def _take(
    partners: dict[int, Ring],
    position: int,
    left: list[Ring],
    mark_of: Callable[[Ring], tuple[str, str] | None],
    mark: tuple[str, str],
) -> None:
    found = next((ring for ring in left if mark_of(ring) == mark), None)
    if found is not None:
        partners[position] = found
        left.remove(found)


def _are_near(one: Ring, other: Ring) -> bool:
    """Say whether flow ranges and coefficients are near each other, as far as both are known."""
    for name in ("flow_low", "flow_high", "coefficient"):
        first, second = si_of(getattr(one, name)), si_of(getattr(other, name))
        if first is None or second is None:
            continue
        low, high = sorted((abs(first), abs(second)))
        if high > _NEAR * low:
            return False
    return True


def _name(ring: Ring) -> tuple[str, str] | None:
    return _both(ring.flow_low, ring.flow_high)


def _law(ring: Ring) -> tuple[str, str] | None:
    return _both(ring.coefficient, ring.exponent)


def _both(first: Measured | None, second: Measured | None) -> tuple[str, str] | None:
    """Return two values to compare; None unless both are known."""
    one, other = si_of(first), si_of(second)
    if one is None or other is None:
        return None
    return f"{one:.{_DIGITS}g}", f"{other:.{_DIGITS}g}"
