"""Blocks that lay the whole test open, for an official."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field, field_validator

from deskapp.domain.choices import Metric
from deskapp.domain.finding import Level
from deskapp.report.template_base import BlockSpec, Situation, Wording
from deskapp.report.template_common import known_field
from deskapp.report.template_homeowner import VerdictWording


class Needed(Wording):
    """What must be stated in some situation, beyond the fields that always must.

    Of fields parted by ``|`` one is enough. With `metric`, fields of tests are needed only where
    that was measured. `rows` are lists that must have a row.
    """

    when: tuple[Situation, ...] = ()
    metric: Metric | None = None
    fields: tuple[str, ...] = ()
    rows: tuple[Literal["systems", "gauges", "fans", "tests", "photos"], ...] = ()

    @field_validator("fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        for entry in fields:
            for path in entry.split("|"):
                known_field(path)
        return fields


class MissingSpec(BlockSpec):
    """How many needed entries are not recorded, and which."""

    names: ClassVar[tuple[str, ...]] = ("count", "entries")

    kind: Literal["missing"]
    none_missing: str
    none_missing_text: str
    one: str
    several: str
    text: str


class LongTextsSpec(BlockSpec):
    """The texts for which there was no room before, whole; it stands last.

    A template without it prints each text whole in its place.
    """

    names: ClassVar[tuple[str, ...]] = ("label", "words")

    kind: Literal["long_texts"]
    text: str


class VerdictsSpec(BlockSpec):
    """A card for each system and limit: verdict, measured, limit, margin, what it rests on.

    `sure` tells how sure the measured value is, `alone` the same of the flow in it, where a
    `figure` beside the flow counts as well; `one_reading` where the test has no other. `unsettled`
    names the aspects that leave open whether the limit binds here; each of `misfits` tells that it
    does not, by what is entered.
    """

    names: ClassVar[tuple[str, ...]] = (
        *VerdictWording.names,
        "uncertainty",
        "chance",
        "figure",
        "flow_uncertainty",
        "aspects",
        "place_misfit",
        "date_misfit",
        "building_misfit",
    )

    kind: Literal["verdicts"]
    passes: VerdictWording
    fails: VerdictWording
    undecided: VerdictWording
    waived: VerdictWording
    sure: str
    alone: str = ""
    one_reading: str = ""
    unsettled: str = ""
    misfits: tuple[str, ...] = ()
    title: str
    measured: str
    limit: str
    required: str
    to_spare: str
    over: str
    short: str


class LimitsSpec(BlockSpec):
    """Rule, arithmetic, clause, edition and status of each limit, line by line.

    A system that no limit was held against says why: `none_chosen`, or `undecided` where one is.
    """

    names: ClassVar[tuple[str, ...]] = (
        "system",
        "edition",
        "body",
        "clause",
        "row",
        "rule",
        "source",
        "note",
        "reason",
        "status",
        "exceptions",
    )

    kind: Literal["limits"]
    title: str
    conditions: str
    considered: str
    unsettled: str = ""
    misfit: str = ""
    fits: str
    fits_not: str
    fits_open: str
    about: tuple[str, ...]
    none_chosen: str
    undecided: str = "**{system}**: {reason}"


class MoreFacts(Wording):
    """Fields printed with the others `when` something is the case."""

    when: tuple[Situation, ...] = ()
    fields: tuple[str, ...] = Field(min_length=1)

    @field_validator("fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        return _of_a_system(fields)


class SystemFactsSpec(BlockSpec):
    """Fields of the system, and of the test its verdict rests on.

    Paths are written ``systems.*.name`` and ``tests.*.setup.ring``. With `apart`, what is alike in
    all systems is printed once, and what differs side by side under heads of that wording; `entry`
    stands above the labels there.
    """

    names: ClassVar[tuple[str, ...]] = ("system", "serves")

    kind: Literal["system_facts"]
    columns: Literal[1, 2, 3, 4] = 2
    fields: tuple[str, ...] = Field(min_length=1)
    also: tuple[MoreFacts, ...] = ()
    apart: str = ""
    entry: str = ""

    @field_validator("fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        return _of_a_system(fields)


def _of_a_system(fields: tuple[str, ...]) -> tuple[str, ...]:
    for path in fields:
        if not known_field(path).startswith(("systems.*.", "tests.*.")):
            raise ValueError(f"{path} is no field of a system or of its test")
    return fields


class TestSpec(BlockSpec):
    """Base of blocks printed for each test of a system, with a line that names the test."""

    __test__ = False

    names: ClassVar[tuple[str, ...]] = ("test", "day", "stage", "metric", "system")

    title: str = ""
    earlier_too: bool = True


class SetUpSpec(TestSpec):
    """How a test was arranged; paths are written ``tests.*.setup.ring``."""

    kind: Literal["set_up"]
    columns: Literal[1, 2, 3, 4] = 2
    fields: tuple[str, ...] = Field(min_length=1)

    @field_validator("fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(known_field(path) for path in fields)


class ReadingColumns(Wording):
    """Column headings of the readings."""

    number: str
    duct_pressure: str
    baseline: str
    induced: str
    signal: str
    indicated: str
    actual: str
    factor: str
    at_target: str
    mean: str
    from_curve: str


class ReadingsSpec(TestSpec):
    """The readings of a test and what was worked out from each."""

    names: ClassVar[tuple[str, ...]] = (
        *TestSpec.names,
        "flow",
        "low",
        "high",
        "spread",
        "per_area",
        "fan_share",
        "exponent",
        "pressure",
        "reached",
    )

    kind: Literal["readings"]
    columns: ReadingColumns
    result: str
    result_of_curve: str
    spread: str
    per_area: str
    fan_share: str
    extrapolated: str
    extrapolated_curve: str
    no_result: str
    no_readings: str
    one_reading: str = ""
    one_reading_held: str = ""


class ComparisonColumns(Wording):
    """Column headings of the comparison of tests."""

    test: str
    day: str
    stage: str
    flow: str
    per_area: str
    fan_share: str
    change: str


class ComparisonSpec(BlockSpec):
    """The tests of a system side by side, where there are several."""

    names: ClassVar[tuple[str, ...]] = ("system",)

    kind: Literal["comparison"]
    columns: ComparisonColumns
    note: str = ""


class ArithmeticSpec(TestSpec):
    """The arithmetic of a test, line by line."""

    kind: Literal["arithmetic"]
    note: str = ""
    no_result: str


class RingColumns(Wording):
    """Column headings of the rings of a fan."""

    flow_range: str
    coefficient: str
    exponent: str
    signal_range: str
    used: str


class InstrumentsSpec(BlockSpec):
    """Gauges and fans with certificate, dates, field check, and the rings of each fan."""

    names: ClassVar[tuple[str, ...]] = ("instrument", "serial", "ring", "pairs")

    kind: Literal["instruments"]
    gauge_title: str
    fan_title: str
    columns: Literal[1, 2, 3, 4] = 2
    gauge_fields: tuple[str, ...]
    fan_fields: tuple[str, ...]
    rings: RingColumns
    pairs: str
    formula: str
    used: str
    none_recorded: str

    @field_validator("gauge_fields", "fan_fields")
    @classmethod
    def _are_fields(cls, fields: tuple[str, ...]) -> tuple[str, ...]:
        return tuple(known_field(path) for path in fields)


class FindingsSpec(BlockSpec):
    """What the program found, of the given levels, as it stands in the window."""

    kind: Literal["findings"]
    levels: tuple[Level, ...] = tuple(Level)
    none_found: str


class SignatureLineSpec(Wording):
    """A line to sign on; `field` is the job's entry printed above it."""

    label: str
    field: str = ""

    @field_validator("field")
    @classmethod
    def _is_field(cls, path: str) -> str:
        return known_field(path) if path else path


class SignatureSpec(BlockSpec):
    """The statement of the tester and lines to sign on."""

    names: ClassVar[tuple[str, ...]] = ("verdicts",)

    kind: Literal["signature"]
    statement: str
    lines: tuple[SignatureLineSpec, ...] = Field(min_length=1)
