"""Blocks that are pictures: photographs, the sketch of the house, bars; and the signs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from deskapp.domain.ink import Inked


class Sign(StrEnum):
    """What a statement means, drawn as a shape of its own and never told by color alone."""

    PASS = "pass"
    FAIL = "fail"
    NONE = "none"
    DANGER = "danger"
    WARNING = "warning"
    NOTE = "note"


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
    """Photographs side by side; `height` is the greatest one, as a share of their column.

    They are larger where the report still takes no more than so many `pages`, and smaller, down
    to `least` if it is not 0, where that spares a page.
    """

    pictures: tuple[Picture, ...]
    height: float = 0.35
    pages: int = 0
    least: float = 0.0


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
    """One bar of a chart: its length is `share`, from 0 to 1, and `value` says it in figures.

    What was so before the work is drawn otherwise than what is so now.
    """

    label: str
    share: float
    value: str
    is_before: bool = False


@dataclass(frozen=True, slots=True)
class Bars:
    """Horizontal bars on one scale, such as shares; `description` tells them in words.

    Bars of a whole have marks at its quarters. `unit` says what is drawn, and `limit` is a line
    across all bars, at its share, with its words at its foot.
    """

    title: str
    bars: tuple[Bar, ...]
    description: str = ""
    unit: str = ""
    limit: Bar | None = None


@dataclass(frozen=True, slots=True)
class RegisterRow:
    """One register: bars before and after the work, from 0 to 1, their figures, and its band.

    A bar that was not read is None.
    """

    label: str
    before: float | None
    after: float | None
    before_text: str
    after_text: str
    sign: Sign
    word: str


@dataclass(frozen=True, slots=True)
class RegisterWalk:
    """Registers by pan reading, the worst first; `before` and `after` name the two sorts of bars.

    `more` says how many are left out, `description` in words what the picture shows.
    """

    rows: tuple[RegisterRow, ...]
    before: str
    after: str
    more: str = ""
    description: str = ""
