"""Blocks that make a report a paper to file: its parts, issues, editions and instruments."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from deskapp.report.template_base import BlockSpec, Wording


class PartSpec(BlockSpec):
    """Another part of the report, such as an annex: a new page under a title of its own.

    `header` takes the place of the running header of the template from here on. What stands before
    it is set a little smaller where that keeps it on so many `pages`.
    """

    kind: Literal["part"]
    pages: int = Field(default=0, ge=0, le=20)
    title: str
    text: str = ""
    header: str = ""


class RevisionColumns(Wording):
    """Column headings of the issues of a report."""

    number: str
    day: str
    by: str
    reason: str


class RevisionsSpec(BlockSpec):
    """The issues of a report, oldest first; nothing where none is recorded."""

    kind: Literal["revisions"]
    columns: RevisionColumns


class IssueMarkSpec(BlockSpec):
    """The code of an issued report, to be read by a camera, and what it stands for."""

    names: ClassVar[tuple[str, ...]] = (
        *("revision", "before", "mark", "by", "changes", "reason", "further"),
    )

    kind: Literal["issue_mark"]
    lines: tuple[str, ...] = Field(min_length=1)
    alternative: str


class EditionColumns(Wording):
    """Column headings of the editions kept with a job."""

    edition: str
    body: str
    rows: str
    judged: str
    status: str


class EditionsSpec(BlockSpec):
    """The editions of limits that are kept inside the job."""

    kind: Literal["editions"]
    columns: EditionColumns
    note: str = ""


class InstrumentColumns(Wording):
    """Column headings of gauges and fans."""

    what: str
    serial: str
    certificate: str
    laboratory: str
    calibrated: str
    due: str


class InstrumentTableSpec(BlockSpec):
    """Gauges and fans with their calibration, a row each."""

    names: ClassVar[tuple[str, ...]] = ()

    kind: Literal["instrument_table"]
    columns: InstrumentColumns
    gauge: str
    fan: str
    none_recorded: str


class DifferenceColumns(Wording):
    """Column headings of set-ups that differ, and the words for how much that weighs."""

    what: str
    before: str
    now: str
    weight: str
    breaks: str
    minor: str


class WhatChangedSpec(BlockSpec):
    """Each retest held against the test it repeats: bars, the change with its uncertainty."""

    names: ClassVar[tuple[str, ...]] = (
        *("system", "now_test", "before_test", "now_day", "before_day", "pressure"),
        *("reduction", "uncertainty", "share", "parts"),
    )

    kind: Literal["what_changed"]
    title: str
    chart: str
    before: str
    now: str
    limit: str
    change: str
    more: str
    not_told_apart: str
    in_common: str
    alike: str
    differs: str
    differences: DifferenceColumns
    note: str = ""
