"""Blocks that are pictures: photographs, the sketch of the house, and bars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from deskapp.domain.ink import Inked


@dataclass(frozen=True, slots=True)
class Picture:
    """A photograph by its digest; `missing` is printed in its place where there are no bytes.

    `marks` are drawn over it, `slate` stands in a strip below it and ties it to its job.
    """

    digest: str
    caption: str = ""
    description: str = ""
    missing: str = ""
    marks: tuple[Inked, ...] = ()
    slate: str = ""


@dataclass(frozen=True, slots=True)
class Pictures:
    """Photographs side by side."""

    pictures: tuple[Picture, ...]


@dataclass(frozen=True, slots=True)
class Sketch:
    """The sketch of the house on a sheet with these `sides`, over the picture of a plan if any.

    Of its `items`, a register that is `heavy` stands out. `key` tells in words what the signs mean
    and which registers are drawn; `missing` is printed where the plan has no bytes. It is as wide
    as a `share` of the text at most.
    """

    sides: tuple[float, float]
    items: tuple[Inked, ...]
    plan: str = ""
    share: float = 1.0
    key: str = ""
    missing: str = ""
    description: str = ""


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar of a chart: its length is `share`, from 0 to 1, and `value` says it in figures."""

    label: str
    share: float
    value: str


@dataclass(frozen=True, slots=True)
class Bars:
    """Horizontal bars on one scale, such as shares; `description` tells them in words."""

    title: str
    bars: tuple[Bar, ...]
    description: str = ""
