"""Readers: what turns the lines of a stream into samples, and how another package adds one.

A reader is any object with the one method of `Reader`. It is given the lines of one stream in
order, without their ends, and answers each with a sample, with a `Refusal` in words, or with None
for a line that holds no reading (a header, a comment, a blank line)::

    class TwoNumbers:
        def read(self, line, arrived):
            if line.startswith("#"):
                return None
            duct, signal = line.split()
            return Sample(arrived, float(duct), float(signal))

`arrived` is when the line came, in seconds since the stream began, for streams that carry no time.
Values are in Pa, m3/s and s; the duct pressure keeps its sign. Whatever `read` raises counts as a
refusal of that line.

A package adds its reader through an entry point of the group ``ductfolio.readers``; the name of
the entry point is what people choose by, its object is called without arguments for each stream::

    [project.entry-points."ductfolio.readers"]
    "two numbers a line" = "my_package.readers:TwoNumbers"

Entry points are listed when asked for, and imported only once somebody has chosen one.
"""

from __future__ import annotations

from collections import deque
from dataclasses import dataclass
from importlib.metadata import EntryPoint, entry_points
from typing import Protocol, cast, runtime_checkable

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.live.samples import Sample
from deskapp.units.problems import shortened

GROUP = "ductfolio.readers"
KEPT_REFUSALS = 5
FIRST_LINES = 40
"""Lines from the beginning that are kept, to name their columns by."""


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why a line gave no sample, in a sentence."""

    reason: str


@runtime_checkable
class Reader(Protocol):
    """Turns the lines of one stream into samples; see the head of this module."""

    def read(self, line: str, arrived: float) -> Sample | Refusal | None:
        """Return the sample in `line`, why there is none, or None for a line without reading."""
        ...


@dataclass(frozen=True, slots=True)
class RefusedLine:
    """A line that gave no sample: its number from 1, its beginning, and why."""

    number: int
    excerpt: str
    reason: str


@dataclass(frozen=True, slots=True)
class Tally:
    """What became of the lines so far; `last_refused` keeps the latest few, newest last."""

    lines: int = 0
    samples: int = 0
    passed_over: int = 0
    refused: int = 0
    last_refused: tuple[RefusedLine, ...] = ()

    @property
    def text(self) -> str:
        """One line for a person; empty while there is nothing to remark."""
        if not self.refused:
            return ""
        last = self.last_refused[-1]
        return _(
            "{refused} of {lines} lines gave no reading. The last one: “{line}”. {why}"
        ).format(refused=self.refused, lines=self.lines, line=last.excerpt, why=last.reason)


class LineIntake:
    """Hands lines to a reader and counts what becomes of them. Never raises."""

    def __init__(self, reader: Reader) -> None:
        self._reader = reader
        self._lines = self._samples = self._passed_over = self._refused = 0
        self._last: deque[RefusedLine] = deque(maxlen=KEPT_REFUSALS)
        self._first: list[str] = []

    @property
    def tally(self) -> Tally:
        """The counts so far."""
        counts = (self._lines, self._samples, self._passed_over, self._refused)
        return Tally(*counts, tuple(self._last))

    @property
    def first_lines(self) -> tuple[str, ...]:
        """The lines from the beginning of the stream, blank ones left out."""
        return tuple(self._first)

    def take(self, line: str, arrived: float) -> Sample | None:
        """Return the sample in `line`, or None after counting why there is none."""
        self._lines += 1
        if len(self._first) < FIRST_LINES and line.strip():
            self._first.append(line)
        found = self._asked(line, arrived)
        if isinstance(found, Sample):
            self._samples += 1
            return found
        if found is None:
            self._passed_over += 1
        else:
            self._refuse(line, found.reason)
        return None

    def drop(self, count: int) -> None:
        """Count lines that were too long to be kept."""
        for _each in range(count):
            self._lines += 1
            self._refuse("", _("The line was longer than any reading."))

    def _asked(self, line: str, arrived: float) -> Sample | Refusal | None:
        try:
            found = cast("object", self._reader.read(line, arrived))
        except Exception as error:
            return Refusal(_("The reader stumbled over it ({why}).").format(why=_named(error)))
        if found is None or isinstance(found, Sample | Refusal):
            return found
        return Refusal(_("The reader answered with something else than a sample."))

    def _refuse(self, line: str, reason: str) -> None:
        self._refused += 1
        self._last.append(RefusedLine(self._lines, shortened(line[:200]), reason))


@dataclass(frozen=True, slots=True)
class OfferedReader:
    """A reader another package adds; `title` is what people choose by."""

    title: str
    package: str
    entry_point: EntryPoint


def offered_readers() -> tuple[OfferedReader, ...] | Finding:
    """List the readers other packages add, by title; none of them is imported yet.

    Where the list itself cannot be read, because a package is damaged, that is told instead.
    """
    try:
        offers = [
            OfferedReader(point.name, point.dist.name if point.dist else "", point)
            for point in entry_points(group=GROUP)
        ]
    except Exception as error:
        return Finding(
            level=Level.CHECK,
            code="readers-not-listed",
            what=_("The readers of other packages cannot be listed: {why}.").format(
                why=_named(error).rstrip(".")
            ),
            allowed=_("The reader for comma-separated lines works without them."),
            mend=_("Install the package named, or the one installed last, once more."),
        )
    return tuple(sorted(offers, key=lambda offer: (offer.title.lower(), offer.package)))


def open_reader(offer: OfferedReader) -> Reader | Finding:
    """Import an offered reader and make one for a new stream; say in words why that cannot be."""
    try:
        make = offer.entry_point.load()
        made = cast("object", make())
    except Exception as error:
        return _not_opened(offer, _named(error))
    if not isinstance(made, Reader):
        return _not_opened(offer, _("it has no method “read”"))
    return made


def _not_opened(offer: OfferedReader, why: str) -> Finding:
    what = _("The reader “{title}” of {package} cannot be used: {why}.").format(
        title=offer.title, package=offer.package or _("another package"), why=why.rstrip(".")
    )
    mend = _("Choose another reader, or ask whoever supplies that package.")
    return Finding(level=Level.CHECK, code="reader-not-opened", what=what, mend=mend)


def _named(error: Exception) -> str:
    try:
        words = " ".join(str(error).split())[:120]
    except Exception:
        words = ""
    return f"{type(error).__name__}: {words}" if words else type(error).__name__
