"""An answer about a report: what it means, and its words."""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum, auto

from deskapp.i18n import N_, _

MOST_NAMED = 5


class AnswerLevel(Enum):
    """What one answer means: as it should be, worth knowing, or not as it should be."""

    GOOD = auto()
    KNOW = auto()
    BAD = auto()


STANDING_WORDS = {
    AnswerLevel.GOOD: N_("In order"),
    AnswerLevel.KNOW: N_("Note"),
    AnswerLevel.BAD: N_("Not in order"),
}


@dataclass(frozen=True, slots=True)
class Answer:
    """One answer about a report."""

    standing: AnswerLevel
    text: str


def quoted(lines: tuple[str, ...]) -> str:
    """Return words in quotes, the first of them where they are many."""
    named = "; ".join(_("“{words}”").format(words=one) for one in lines[:MOST_NAMED])
    return f"{named}; …" if len(lines) > MOST_NAMED else named
