"""Blocks that say in plain words how sure the answer is and what leakage means to the owner."""

from __future__ import annotations

from typing import ClassVar, Literal

from pydantic import Field

from deskapp.report.template_base import BlockSpec, Wording


class CloseSpec(BlockSpec):
    """A remark for each system whose result is too close to its limit to be sure."""

    names: ClassVar[tuple[str, ...]] = ("system", "serves", "chance")

    kind: Literal["close"]
    word: str
    text: str


class DeliveryColumns(Wording):
    """Column headings of the shares delivered."""

    what: str
    before: str
    now: str
    tight: str


class AssumedColumns(Wording):
    """Column headings of the figures an estimate rests on."""

    what: str
    value: str
    source: str


class DeliverySpec(BlockSpec):
    """The share of heating and cooling that reaches the rooms, and what leakage costs in a year.

    With `assumed` every figure the estimate rests on is printed with its source.
    """

    names: ClassVar[tuple[str, ...]] = ("system", "serves", "low", "high")

    kind: Literal["delivery"]
    intro: str
    columns: DeliveryColumns
    heating: str
    cooling: str
    of_system: str
    cost: str
    saved: str
    rests_on: str
    assumed: AssumedColumns | None = None


class WorstRegistersSpec(BlockSpec):
    """The registers whose pan readings call for the most, in words; mended ones only if worded."""

    names: ClassVar[tuple[str, ...]] = ("register", "tells", "before", "count")

    kind: Literal["worst_registers"]
    most: int = Field(default=4, ge=1)
    intro: str = ""
    stop: str
    slow: str
    go: str
    line: str
    mended: str = ""
    others: str
