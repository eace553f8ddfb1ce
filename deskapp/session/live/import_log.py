"""Import of a text log: its lines, a mapping to confirm, a preview, then readings or samples.

A log is either a list of averaged readings or a recording of many samples; `to_readings` takes
each row as a reading, `to_samples` gives what `steadiness.averages` makes readings of.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from itertools import islice
from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import Measured
from deskapp.domain.trial import Reading
from deskapp.i18n import _
from deskapp.session.live.cells import read_cell, read_moment, typed_text
from deskapp.session.live.columns import (
    ColumnMapping,
    ColumnUse,
    Proposal,
    SampleField,
    propose,
    split_line,
)
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.lines import LONGEST_LINE, decoded
from deskapp.session.live.log_shape import LogShape, shape_with, sniff
from deskapp.session.live.reader import LineIntake, RefusedLine, Tally
from deskapp.units.entry import Problem
from deskapp.units.problems import shortened

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from deskapp.session.live.samples import Sample
    from deskapp.units.numbers import NumberStyle

LARGEST_LOG = 20_000_000
"""Largest log taken in [bytes]: two readings a second for more than two days."""

MOST_READINGS = 500
"""Rows taken as readings from one log."""

RECORDING_ROWS = 30
"""A log with more rows than this is taken for a recording (house rule)."""

READING_FIELDS = {
    SampleField.DUCT_PRESSURE: "duct_pressure",
    SampleField.FAN_SIGNAL: "fan_signal",
    SampleField.FLOW: "indicated_flow",
}
"""What a reading can hold, and the name of its field there."""


@dataclass(frozen=True, slots=True)
class TextLog:
    """A log that was taken in: its name, its lines, and how they are written."""

    name: str
    lines: tuple[str, ...]
    shape: LogShape

    @property
    def width(self) -> int:
        """How many columns the first line of data has."""
        return len(split_line(self.lines[self.shape.first_row], self.shape.delimiter))

    @property
    def is_recording(self) -> bool:
        """Whether it has more rows than a test has readings, and should be averaged."""
        return sum(1 for _row in islice(self.rows(), RECORDING_ROWS + 1)) > RECORDING_ROWS

    def rows(self) -> Iterator[tuple[int, str]]:
        """Yield number (from 1) and text of each line from the first line of data on."""
        for place in range(self.shape.first_row, len(self.lines)):
            if self.lines[place].strip():
                yield place + 1, self.lines[place]

    def proposal(self, flow_unit: str | None = None) -> Proposal:
        """Return what the header words suggest; without a header nothing is suggested."""
        return propose(self.shape.header, flow_unit)

    def mapping(self, columns: tuple[ColumnUse, ...]) -> ColumnMapping:
        """Return the mapping for columns a person confirmed; ValueError where they cannot work."""
        shape = self.shape
        return ColumnMapping(
            columns=columns, delimiter=shape.delimiter, style=shape.style, header=shape.header
        )

    def fits(self, mapping: ColumnMapping) -> bool:
        """Say whether `mapping` was made for a log laid out like this one."""
        if mapping.header or self.shape.header:
            same = [word.lower() for word in mapping.header]
            return same == [word.lower() for word in self.shape.header]
        return max(column.position for column in mapping.columns) < self.width


def open_log(path: Path) -> TextLog | Finding:
    """Take in a log; say in words why it cannot be."""
    try:
        with path.open("rb") as stream:
            data = stream.read(LARGEST_LOG + 1)
    except OSError as error:
        why = error.strerror or type(error).__name__
        return _not_taken(path.name, _("it cannot be read ({why})").format(why=why))
    if len(data) > LARGEST_LOG:
        return _not_taken(path.name, _("it is larger than {n} MB").format(n=LARGEST_LOG // 10**6))
    return log_from_bytes(data, path.name)


def log_from_bytes(data: bytes, name: str) -> TextLog | Finding:
    """Take in the bytes of a log, in UTF-8, UTF-16 with its mark, or Latin-1."""
    text = _text_of(data)
    if "\0" in text:
        return _not_taken(name, _("it is not a text file"))
    lines = tuple(
        line if len(line) <= LONGEST_LINE else "" for line in re.split(r"\r\n|\r|\n", text)
    )
    return log_of_lines(lines, name)


def log_of_lines(lines: tuple[str, ...], name: str) -> TextLog | Finding:
    """Take in lines that are parted already."""
    shape = sniff(lines)
    if shape is None:
        return _not_taken(name, _("no line at its beginning holds a number"))
    return TextLog(name, lines, shape)


def reshaped(log: TextLog, delimiter: str, style: NumberStyle) -> TextLog | Finding:
    """Return the log as read with a delimiter and number style that a person chose."""
    shape = shape_with(log.lines, delimiter, style)
    if shape is None:
        return _not_taken(log.name, _("no line holds a number when its columns are parted so"))
    return replace(log, shape=shape)


@dataclass(frozen=True, slots=True)
class PreviewRow:
    """A row to show before importing: its cells, and what cannot be read, by column."""

    number: int
    cells: tuple[str, ...]
    problems: dict[int, str]


def preview(log: TextLog, mapping: ColumnMapping | None = None, most: int = 8) -> list[PreviewRow]:
    """Return the first rows, with what a mapping could not read in them."""
    shown: list[PreviewRow] = []
    for number, line in log.rows():
        cells = split_line(line, log.shape.delimiter)
        problems: dict[int, str] = {}
        for column in mapping.columns if mapping is not None else ():
            cell = cells[column.position] if column.position < len(cells) else ""
            problem = _problem_in(cell, column, log.shape.style) if cell else None
            if problem is not None:
                problems[column.position] = problem.text
        shown.append(PreviewRow(number, tuple(cells), problems))
        if len(shown) == most:
            break
    return shown


@dataclass(frozen=True, slots=True)
class ImportedRow:
    """One reading: the line it stood in, the text for each field, and the record of the job."""

    number: int
    texts: dict[str, str]
    reading: Reading


@dataclass(frozen=True, slots=True)
class Imported:
    """What a log gave: readings, and the lines left out with the reason."""

    rows: tuple[ImportedRow, ...]
    left_out: tuple[RefusedLine, ...]


def to_readings(log: TextLog, mapping: ColumnMapping, style: NumberStyle) -> Imported:
    """Take each row of a log as a reading.

    Args:
        log: the log.
        mapping: which column holds what; times and house pressures have no place in a reading.
        style: how the person writes decimals; texts are put so that they read alike there.

    Returns:
        The readings, at most 500. A cell that cannot be read keeps its text without a value, as
        if it had been typed; a row without one value that can be read is left out and named.
    """
    rows: list[ImportedRow] = []
    left_out: list[RefusedLine] = []
    for number, line in log.rows():
        found = _reading_in(line, mapping, style)
        if isinstance(found, str):
            left_out.append(RefusedLine(number, shortened(line[:200]), found))
        elif len(rows) == MOST_READINGS:
            words = _("Only the first {n} rows are taken as readings.").format(n=MOST_READINGS)
            left_out.append(RefusedLine(number, shortened(line[:200]), words))
            break
        else:
            rows.append(ImportedRow(number, *found))
    return Imported(tuple(rows), tuple(left_out))


def to_samples(log: TextLog, mapping: ColumnMapping) -> tuple[list[Sample], Tally]:
    """Return the samples of a recording, and what became of its lines.

    Without a time column the rows are taken to be a second apart.
    """
    intake = LineIntake(CommaReader(mapping))
    taken = (intake.take(line, float(place)) for place, (_n, line) in enumerate(log.rows()))
    return [sample for sample in taken if sample is not None], intake.tally


def _reading_in(
    line: str, mapping: ColumnMapping, style: NumberStyle
) -> tuple[dict[str, str], Reading] | str:
    cells = split_line(line, mapping.delimiter)
    values: dict[str, Measured] = {}
    reason = _("The line has no reading in its columns.")
    for column in mapping.columns:
        field = READING_FIELDS.get(column.field)
        cell = cells[column.position] if column.position < len(cells) else ""
        if field is None or not cell:
            continue
        found = read_cell(cell, column.field.kind, column.unit, mapping.style)
        if isinstance(found, Problem):
            values[field] = Measured(si=None, typed=cell)
            reason = f"{column.field.label}: {found.what}"
        else:
            typed = typed_text(cell, column.unit, mapping.style, style)
            values[field] = Measured(si=found.si, unit=found.unit, typed=typed)
    if all(value.si is None for value in values.values()):
        return reason
    reading = Reading(
        duct_pressure=values.get("duct_pressure"),
        fan_signal=values.get("fan_signal"),
        indicated_flow=values.get("indicated_flow"),
    )
    return {field: value.typed for field, value in values.items()}, reading


def _problem_in(cell: str, column: ColumnUse, style: NumberStyle) -> Problem | None:
    if column.field is SampleField.TIME:
        moment = read_moment(cell, column.unit, style)
        return moment if isinstance(moment, Problem) else None
    found = read_cell(cell, column.field.kind, column.unit, style)
    return found if isinstance(found, Problem) else None


def _text_of(data: bytes) -> str:
    if data.startswith((b"\xff\xfe", b"\xfe\xff")):
        return data.decode("utf-16", errors="replace")
    return decoded(data.removeprefix(b"\xef\xbb\xbf"))


def _not_taken(name: str, why: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="log-not-taken",
        what=_("The log “{name}” cannot be taken in: {why}.").format(name=name, why=why),
        allowed=_("A text file with one reading a line is needed, its columns parted by one mark."),
        mend=_("Choose another file, or paste the columns into the readings."),
    )
