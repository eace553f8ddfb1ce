"""Blocks that any report template may ask for."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, field_validator

from deskapp.domain.fields import field_at
from deskapp.domain.limit import Verification
from deskapp.domain.vocabulary import CautionLevel
from deskapp.report.blocks import TextRole
from deskapp.report.template_base import BlockSpec, Sentence, Wording


class LetterheadSpec(BlockSpec):
    """Company, contact lines and title; `subtitle` lines without a value are left out."""

    kind: Literal["letterhead"]
    title: str
    subtitle: tuple[str, ...] = ()


class TextSpec(BlockSpec):
    """Running text."""

    kind: Literal["text"]
    role: TextRole = TextRole.BODY
    sentences: tuple[Sentence, ...] = Field(min_length=1)


class CautionsSpec(BlockSpec):
    """The cautions the job calls for, of the given levels; `sources` prints where they are from.

    `already` are the ids of those that another part of the template says.
    """

    kind: Literal["cautions"]
    levels: tuple[CautionLevel, ...] = tuple(CautionLevel)
    already: tuple[str, ...] = ()
    sources: bool = False


class FactsSpec(BlockSpec):
    """Fields of the job in one to four columns; an empty one is printed only if it is needed."""

    kind: Literal["facts"]
    columns: Literal[1, 2, 3, 4] = 2
    fields: tuple[str, ...] = Field(min_length=1)
    estimated_area: str = ""

    @field_validator("fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        for path in fields:
            known_field(path)
            if "*" in path:
                raise ValueError(f"{path} belongs to a list; use a block that prints its rows")
        return fields


class RepairWords(Wording):
    """Words for whether a leak was repaired."""

    sealed: str
    open: str
    unanswered: str


class LeaksSpec(BlockSpec):
    """The leaks, each with its photographs; `pages` as in `PhotosSpec`.

    Of more than `most` the most pressing are shown, and `others` counts the rest; 0 shows all.
    """

    names: ClassVar[tuple[str, ...]] = ("count", "open")

    kind: Literal["leaks"]
    most: int = Field(default=0, ge=0)
    others: str = ""
    pages: int = Field(default=0, ge=0, le=20)
    none_found: str
    intro: str = ""
    words: RepairWords
    photos: bool = True
    photo_missing: str


class LeakColumns(Wording):
    """Column headings of the leak table."""

    number: str
    place: str
    system: str
    severity: str
    found_by: str
    repair: str


class SealingColumns(Wording):
    """Column headings of what to mind when closing the leaks."""

    leaks: str
    rule: str
    source: str
    status: dict[Verification, str]


class LeakTableSpec(BlockSpec):
    """The leaks as a table without photographs, and with `sealing` also what rules
    say about closing them.

    `size` tells the size as guessed, and `size_note` says so below the table; `given` tells a
    severity that a person gave.
    """

    names: ClassVar[tuple[str, ...]] = ("size", "reason")

    kind: Literal["leak_table"]
    none_found: str
    words: RepairWords
    columns: LeakColumns
    size: str
    size_note: str = ""
    given: str
    sealing: SealingColumns | None = None
    sealing_note: str = ""


class LedgerColumns(Wording):
    """Column headings of the ledger of a repair."""

    reading: str
    leaks: str
    flow: str
    gain: str
    told: str


class LedgerSpec(BlockSpec):
    """What each repair gained by quick readings between repairs, and what was left to close."""

    names: ClassVar[tuple[str, ...]] = ("test", "excess", "limit", "leaks")

    kind: Literal["ledger"]
    columns: LedgerColumns
    start: str
    in_all: str
    real: str
    risen: str
    not_told_apart: str
    no_flow: str
    note: str
    above: str
    open_leaks: str
    met: str


class RetestSpec(BlockSpec):
    """A retest beside the test it repeats, with what was set up otherwise.

    `fields` are those that make another measurement of it, `shares` those that only leave less in
    common; both with the entries of the two tests, in the form of `differs` where there are any.
    """

    names: ClassVar[tuple[str, ...]] = (
        "test",
        "first",
        "before",
        "now",
        "reduction",
        "uncertainty",
        "share",
        "share_uncertainty",
        "fields",
        "shares",
        "field",
        "entry",
        "entry_before",
    )

    kind: Literal["retest"]
    text: str
    more: str
    no_change: str
    alike: str
    unlike: str
    less_in_common: str = ""
    differs: str = "{field}"


class PhotosSpec(BlockSpec):
    """Photographs of the job that belong to no leak, two beside each other.

    `height` is the greatest one of a photo, as a share of the width of its column. It is larger
    where the report still takes no more than so many `pages`, and smaller, down to `least`, where
    that spares a page; 0 keeps it.
    """

    kind: Literal["photos"]
    pages: int = Field(default=0, ge=0, le=20)
    height: float = Field(default=0.35, ge=0.2, le=1.0)
    least: float = Field(default=0.0, ge=0.0, le=1.0)
    photo_missing: str


class SketchSpec(BlockSpec):
    """The sketch of the house with its key: what the signs mean, the numbers drawn.

    `heavy` is printed where registers stand out; `share` is that of the width of the text.
    """

    names: ClassVar[tuple[str, ...]] = ("leaks", "registers")

    kind: Literal["sketch"]
    share: float = Field(default=1.0, ge=0.3, le=1.0)
    key: str
    leaks: str
    registers: str
    heavy: str
    plan_missing: str
    description: str


class PageBreakSpec(BlockSpec):
    """The next block starts a page."""

    kind: Literal["page_break"]


def known_field(path: str) -> str:
    """Return `path` if it is in the field table; ValueError otherwise."""
    try:
        field_at(path)
    except KeyError as error:
        raise ValueError(f"{path} is not a field of the job") from error
    return path
