"""Blocks about what could hurt someone, and about how the house was left."""

from __future__ import annotations

from typing import ClassVar, Literal

from deskapp.report.template_base import BlockSpec, Wording


class ApplianceColumns(Wording):
    """Column headings of the appliances."""

    number: str
    appliance: str
    fuel: str
    vent: str
    place: str
    own_air: str


class AppliancesSpec(BlockSpec):
    """The appliances that burn fuel, with vent, place and air."""

    kind: Literal["appliances"]
    columns: ApplianceColumns


class StopsSpec(BlockSpec):
    """What of safety is open, in a panel on page 1: no verdict speaks of it.

    `open_stop` tells of a stop nobody has acknowledged, `went_on`, where given, of one that
    somebody has, `lasting`, where given, of one of these that is a danger to people and was not
    cleared, and `aside` that what follows is about leakage alone. What the panel of dangers tells
    of already is not said twice.
    """

    names: ClassVar[tuple[str, ...]] = ("stop", "todo", "name", "when")

    kind: Literal["stops"]
    word: str
    open_stop: str
    went_on: str = ""
    lasting: str = ""
    aside: str


class AcknowledgedSpec(BlockSpec):
    """The stops on which somebody went on: what was answered, who went on, why, and when."""

    names: ClassVar[tuple[str, ...]] = ("stop", "answer", "name", "reason", "when", "source")

    kind: Literal["acknowledged"]
    word: str
    text: str
    source: str


class BeforeAfterColumns(Wording):
    """Column headings of what was measured before and after the work."""

    what: str
    before: str
    after: str
    compared: str


class BeforeAfterSpec(BlockSpec):
    """Carbon monoxide, pressure and spillage before and after the work, and their levels."""

    names: ClassVar[tuple[str, ...]] = ("levels", "status")

    kind: Literal["before_after"]
    columns: BeforeAfterColumns
    begins: str
    zone_limit: str


class LeftColumns(Wording):
    """Column headings of what was changed on arrival."""

    what: str
    was: str
    seals: str
    state: str


class LeftAsFoundSpec(BlockSpec):
    """What was changed on arrival and how it was left, and who closed the list.

    With `short`, what was put back without seals is only named.
    """

    names: ClassVar[tuple[str, ...]] = ("name", "when", "things", "on", "off", "why")

    kind: Literal["left_as_found"]
    short: bool = False
    columns: LeftColumns
    restored: str
    seals: str
    put_back: str
    explained: str
    still_open: str
    unchanged: str
    unanswered: str
    closed: str
    not_closed: str


class StillChangedSpec(BlockSpec):
    """What is not as it was found, for the people who live there.

    `unrecorded` is said where nobody answered whether it was put back.
    """

    names: ClassVar[tuple[str, ...]] = ("what", "why")

    kind: Literal["still_changed"]
    word: str
    text: str
    unexplained: str
    unrecorded: str = ""
