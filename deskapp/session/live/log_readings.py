"""What comes of a log with its columns named: the readings, and words about them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.i18n import _, ngettext
from deskapp.session.live.import_log import to_readings, to_samples
from deskapp.session.live.live_words import reading_texts
from deskapp.session.live.steadiness import averages

if TYPE_CHECKING:
    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.import_log import TextLog
    from deskapp.session.live.rules import LiveRules
    from deskapp.session.settings import Preferences


@dataclass(frozen=True, slots=True)
class LogWish:
    """A log and how it is to be read.

    `averaging` is how long an average takes in [s]; None takes each row as a reading.
    """

    log: TextLog
    mapping: ColumnMapping
    preferences: Preferences
    rules: LiveRules
    averaging: float | None


@dataclass(frozen=True, slots=True)
class LogReadings:
    """The readings made, as texts by field name; how many in words, and what to look at."""

    readings: list[dict[str, str]]
    outcome: str
    remark: str


def readings_of_log(wish: LogWish) -> LogReadings:
    """Read a whole log. A long one takes a while, so this is done beside the window."""
    return _each_row(wish) if wish.averaging is None else _averaged(wish, wish.averaging)


def _averaged(wish: LogWish, averaging: float) -> LogReadings:
    samples, tally = to_samples(wish.log, wish.mapping)
    captures = averages(samples, wish.rules, averaging)
    words = ngettext(
        "{n} average from {samples} samples.",
        "{n} averages from {samples} samples.",
        len(captures),
    )
    none = _("No stretch is steady for long enough. Turn averaging off to take each row.")
    return LogReadings(
        [reading_texts(capture, wish.preferences.formatter) for capture in captures],
        words.format(n=len(captures), samples=len(samples)),
        tally.text or ("" if captures else none),
    )


def _each_row(wish: LogWish) -> LogReadings:
    found = to_readings(wish.log, wish.mapping, wish.preferences.number_style)
    words = ngettext(
        "{n} reading, one for each row.", "{n} readings, one for each row.", len(found.rows)
    )
    left = ""
    if found.left_out:
        first = found.left_out[0]
        told = ngettext(
            "{n} row is left out, line {number}: {why}",
            "{n} rows are left out; the first is line {number}: {why}",
            len(found.left_out),
        )
        left = told.format(n=len(found.left_out), number=first.number, why=first.reason)
    return LogReadings(
        [row.texts for row in found.rows],
        words.format(n=len(found.rows)),
        left or _doubt(wish.log),
    )


def _doubt(log: TextLog) -> str:
    """Say what a person should look at before trusting the columns."""
    if not log.shape.is_sure:
        return _("The marks between columns could be read in another way. Compare the rows.")
    return " ".join(log.proposal().remarks)
