"""A result typed for a unit beside the threshold of its plan: whether both tell the same."""

from __future__ import annotations

import re
from collections.abc import Iterator

from deskapp.i18n import _
from deskapp.limits.sampling import SamplingProblem
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

# A threshold with one of these words is one to be reached; others are not to be exceeded.
_TO_BE_REACHED = frozenset(
    ("least", "minimum", "min", "min.", "mínimo", "minimo", "menos", "moins")
)
_KINDS = ((Kind.FLOW, "cfm"), (Kind.FLOW_PER_AREA, "cfm/100ft2"))
_NUMBER = re.compile(r"(?<![\w.,/])\d[\d.,]*")
_LONGEST_UNIT = 6
"""Words after a number that may belong to its unit, as in 4 cfm per 100 square feet."""


def refuse_contradiction(threshold: str, measured: str, style: NumberStyle) -> None:
    """Raise SamplingProblem where a check that met its threshold has a result above it.

    Both are free text. They are held against each other only where each names one number of the
    same kind, air flow or air flow per area; whatever else they say is left to whoever typed it. A
    check that failed with a low result may have failed for another reason.
    """
    words = threshold.casefold().split()
    if not _TO_BE_REACHED.isdisjoint(words) or any(sign in threshold for sign in "≥>"):
        return
    for kind, unit in _KINDS:
        limit, result = _only(threshold, kind, unit, style), _only(measured, kind, unit, style)
        if limit is None or result is None or result <= limit:
            continue
        text = _(
            "The result “{measured}” is above the threshold, “{threshold}”, and so does not meet "
            "it. Correct the result, or record that the unit did not meet the threshold."
        )
        raise SamplingProblem(
            "contradicts", text.format(measured=measured.strip(), threshold=threshold.strip())
        )


def _only(text: str, kind: Kind, unit: str, style: NumberStyle) -> float | None:
    """Return the one quantity of this kind in a text, SI; None where there is none, or several."""
    bare = parse(text.strip(), kind, unit, style) if _is_number(text) else None
    if isinstance(bare, Quantity):
        return bare.si if kind is Kind.FLOW else None
    found = list(_quantities(text, kind, unit, style))
    return found[0] if len(found) == 1 else None


def _is_number(text: str) -> bool:
    return _NUMBER.fullmatch(text.strip()) is not None


def _quantities(text: str, kind: Kind, unit: str, style: NumberStyle) -> Iterator[float]:
    """Yield each number of a text whose unit, as far as words after it spell one, fits `kind`."""
    matches = list(_NUMBER.finditer(text))
    for at, match in enumerate(matches):
        if at and text[matches[at - 1].end() : match.start()].rstrip().endswith(("/", "per")):
            continue
        words = text[match.end() :].split()
        for count in range(min(_LONGEST_UNIT, len(words)), 0, -1):
            spelled = f"{match[0]} {' '.join(words[:count])}".rstrip(".,;:)")
            read = parse(spelled, kind, unit, style)
            if isinstance(read, Quantity):
                yield read.si
                break
