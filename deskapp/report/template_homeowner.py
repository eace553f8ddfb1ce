"""Blocks that say the outcome in plain words, for the people who live there."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from deskapp.domain.limit import Verification
from deskapp.report.template_base import BlockSpec, Sentence, Situation, Wording


class DangersSpec(BlockSpec):
    """The cautions of level danger that the job calls for, in one large panel.

    `also` are the ids of those of another level that belong there: of a danger that was measured
    and was over when the work was done. Where they stand alone, `aside` follows them.
    """

    kind: Literal["dangers"]
    also: tuple[str, ...] = ()
    aside: str = ""


class VerdictWording(Wording):
    """What one verdict is called and what is said about it."""

    names: ClassVar[tuple[str, ...]] = (
        "system",
        "serves",
        "systems",
        "failing",
        "failing_count",
        "reason",
        "edition",
        "clause",
        "measured",
        "limit",
        "margin",
        "unit",
        "measured_exact",
        "limit_exact",
        "margin_exact",
        "rule",
        "waiver",
        "status",
    )

    word: str
    text: str = ""


class AnswerSpec(BlockSpec):
    """The outcome of the whole job, large."""

    kind: Literal["answer"]
    passes: VerdictWording
    fails: VerdictWording
    undecided: VerdictWording


class SystemLinesSpec(BlockSpec):
    """One line for each system, with its verdict."""

    kind: Literal["system_lines"]
    passes: VerdictWording
    fails: VerdictWording
    undecided: VerdictWording


class Orientation(Wording):
    """A mark on the scale to compare with: `rate` in `unit`, times the floor area served."""

    names: ClassVar[tuple[str, ...]] = ("value",)

    label: str
    rate: float = Field(gt=0)
    unit: Literal["cfm/100ft2", "L/s/m2"]
    pressure_pa: float = Field(gt=0)
    status: Verification
    source: str = Field(min_length=1)
    note: str


class ScaleSpec(BlockSpec):
    """The drawn scale of each system, the worst ones if there are more than `most`.

    Only the worst one is drawn where one of the situations `one_when` is the case, and none where
    all of `none_when` are.
    `description_alone` describes a scale without a limit; `description` does where it is empty.
    Below a retest stands one of `gained`, `grew` and `no_change`, and `unlike` where it was not set
    up like the test it repeats. Names of these are flows with their unit.
    """

    names: ClassVar[tuple[str, ...]] = (
        "system",
        "serves",
        "measured",
        "limit",
        "before",
        "unit",
        "pressure",
        "low",
        "high",
        "before_flow",
        "now_flow",
        "change",
        "uncertainty",
    )

    kind: Literal["scale"]
    most: int = Field(default=2, ge=1, le=8)
    one_when: tuple[Situation, ...] = ()
    none_when: tuple[Situation, ...] = ()
    title: str
    unit: str
    unit_alone: str
    measured: str
    limit: str
    required: str
    meets: str
    misses: str
    before: str
    range_note: str
    description: str
    description_alone: str = ""
    description_before: str = ""
    gained: str = ""
    grew: str = ""
    no_change: str = ""
    unlike: str = ""
    marks: tuple[Orientation, ...] = ()
    no_result: str


class NextStepsSpec(BlockSpec):
    """What to do next, at most `most` steps."""

    names: ClassVar[tuple[str, ...]] = ()

    kind: Literal["next_steps"]
    most: int = Field(default=6, ge=1)
    steps: tuple[Sentence, ...] = Field(min_length=1)


class Everyday(Wording):
    """A thing everybody knows, and its area; `source` says where its size is from."""

    text: str
    area: float = Field(gt=0)
    unit: Literal["in2", "cm2"]
    source: str = Field(min_length=1)


class HoleSpec(BlockSpec):
    """How big one hole would be that leaks as much at the test pressure.

    A thing is named whose area differs from the hole by at most the factor `likeness`.
    """

    names: ClassVar[tuple[str, ...]] = ("system", "area", "diameter", "thing", "before_area")

    kind: Literal["hole"]
    text: str
    like: str
    before: str = ""
    likeness: float = Field(default=1.35, gt=1)
    things: tuple[Everyday, ...] = Field(min_length=1)
