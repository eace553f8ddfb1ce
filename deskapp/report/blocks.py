"""A report as data: finished text and the numbers to draw, in printing order.

Building a report ends here and drawing starts here. A block holds nothing that still has to be
decided: the drawing side looks up no job, no limit and no unit.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.report.fact_blocks import Fact as Fact
from deskapp.report.fact_blocks import FactColumns as FactColumns
from deskapp.report.fact_blocks import FactRow as FactRow
from deskapp.report.fact_blocks import Facts as Facts
from deskapp.report.picture_blocks import Bar as Bar
from deskapp.report.picture_blocks import Bars as Bars
from deskapp.report.picture_blocks import Picture as Picture
from deskapp.report.picture_blocks import Pictures as Pictures
from deskapp.report.picture_blocks import RegisterRow as RegisterRow
from deskapp.report.picture_blocks import RegisterWalk as RegisterWalk
from deskapp.report.picture_blocks import Sign as Sign
from deskapp.report.picture_blocks import Sketch as Sketch

if TYPE_CHECKING:
    from datetime import date


class Paper(StrEnum):
    """The sheet a report is laid out for."""

    LETTER = "letter"
    A4 = "a4"


class TextRole(StrEnum):
    """The part a paragraph plays on the page."""

    LEAD = "lead"
    BODY = "body"
    QUIET = "quiet"
    FINE = "fine"


class Align(StrEnum):
    """How a table column is set."""

    LEFT = "left"
    RIGHT = "right"


@dataclass(frozen=True, slots=True)
class TextSpan:
    """A stretch of text, set strong or not."""

    text: str
    strong: bool = False


Text = tuple[TextSpan, ...]


@dataclass(frozen=True, slots=True)
class Heading:
    """A heading; level 1 opens a part, 2 a section, 3 a piece of a section."""

    text: str
    level: int = 2


@dataclass(frozen=True, slots=True)
class Paragraph:
    """Running text."""

    text: Text
    role: TextRole = TextRole.BODY


@dataclass(frozen=True, slots=True)
class Letterhead:
    """The top of page 1: who reports, and what this paper is.

    `logo_description` says in words what the logo is; empty where there is none.
    """

    company: str
    contact: tuple[str, ...]
    title: str
    subtitle: tuple[str, ...]
    logo_description: str = ""


@dataclass(frozen=True, slots=True)
class Banner:
    """A statement in a panel: a sign, its word, and some paragraphs; the answer is `large`."""

    sign: Sign
    word: str
    texts: tuple[Text, ...] = ()
    large: bool = False


@dataclass(frozen=True, slots=True)
class SignedLine:
    """One line of a list that starts with a sign and its word."""

    sign: Sign
    word: str
    text: Text


@dataclass(frozen=True, slots=True)
class SignedLines:
    """Several short statements, each with its own sign and word."""

    lines: tuple[SignedLine, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """A number to stand out, with what it is."""

    label: str
    value: str


@dataclass(frozen=True, slots=True)
class VerdictCard:
    """The outcome of one system against one limit."""

    sign: Sign
    word: str
    title: str
    figures: tuple[Figure, ...]
    text: Text = ()
    warning: str = ""


@dataclass(frozen=True, slots=True)
class Zone:
    """A stretch of a scale and its name; `clear` zones are left plain, others hatched."""

    start: float
    end: float
    label: str
    clear: bool


@dataclass(frozen=True, slots=True)
class ScaleMark:
    """A point on a scale to compare with."""

    at: float
    label: str


@dataclass(frozen=True, slots=True)
class Scale:
    """One measured number between zero and `maximum`, its limit, and marks to compare with.

    `before` is the result of the test that was repeated; the way from there is drawn with a point
    at its end where the change is `told_apart` from none. `low` and `high` span the range a
    converted number may lie in, and `note` says so. `description` says in words what the picture
    shows.
    """

    title: str
    unit: str
    sign: Sign
    maximum: float
    measured: ScaleMark
    limit: ScaleMark | None
    zones: tuple[Zone, ...]
    marks: tuple[ScaleMark, ...] = ()
    before: ScaleMark | None = None
    told_apart: bool = False
    low: float | None = None
    high: float | None = None
    note: str = ""
    description: str = ""


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table; `weight` is its share of the width."""

    title: str
    align: Align = Align.LEFT
    weight: float = 1.0


@dataclass(frozen=True, slots=True)
class Table:
    """A table whose headings repeat on each page; the last row may be a strong `total`.

    The last `kept` rows stay on one page. `path` is what of the job it lists, as in `Fact`.
    """

    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    caption: str = ""
    total: bool = False
    kept: int = 1
    path: str = ""


@dataclass(frozen=True, slots=True)
class PlotPoint:
    """A point of a plot; one that `is_off` the curve is drawn as a ring with its label."""

    x: float
    y: float
    label: str = ""
    is_off: bool = False


@dataclass(frozen=True, slots=True)
class Plot:
    """Points and a curve on logarithmic axes, with facts beside them.

    `band` holds x, its lower and its upper edge; ticks are marks on the axes. `key` tells how the
    signs are drawn, `description` in words what the picture shows.
    """

    x_title: str
    y_title: str
    x_ticks: tuple[ScaleMark, ...]
    y_ticks: tuple[ScaleMark, ...]
    points: tuple[PlotPoint, ...]
    curve: tuple[tuple[float, float], ...]
    band: tuple[tuple[float, float, float], ...] = ()
    target: PlotPoint | None = None
    caption: str = ""
    facts: tuple[Fact, ...] = ()
    key: str = ""
    description: str = ""


@dataclass(frozen=True, slots=True)
class ArithmeticStep:
    """One line of arithmetic: what, the formula, the numbers put in, the result, its source."""

    label: str
    formula: str
    numbers: str
    result: str
    source: str = ""


@dataclass(frozen=True, slots=True)
class Steps:
    """Arithmetic, line by line."""

    rows: tuple[ArithmeticStep, ...]


@dataclass(frozen=True, slots=True)
class Lines:
    """Lines of arithmetic in words and numbers, set apart from running text."""

    rows: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Numbered:
    """Things to do, in order."""

    items: tuple[Text, ...]


@dataclass(frozen=True, slots=True)
class LeakEntry:
    """One leak with its number, what is known of it, and its photographs."""

    number: str
    title: str
    details: str
    sign: Sign
    word: str
    text: str
    pictures: tuple[Picture, ...] = ()


@dataclass(frozen=True, slots=True)
class LeakEntries:
    """The leaks, in the order of their numbers; `pages` as in `Pictures`."""

    entries: tuple[LeakEntry, ...]
    pages: int = 0


@dataclass(frozen=True, slots=True)
class Notice:
    """A caution or a finding: its sign and word, what it says, and where it comes from.

    `word` is empty where the notice before it has the same one.
    """

    sign: Sign
    word: str
    text: Text
    source: str = ""


@dataclass(frozen=True, slots=True)
class Notices:
    """Cautions or findings, the weightiest first."""

    items: tuple[Notice, ...]


@dataclass(frozen=True, slots=True)
class SignatureLine:
    """A line to write on, or what already stands above it: an answer, or a picture."""

    label: str
    value: str = ""
    picture: Picture | None = None


@dataclass(frozen=True, slots=True)
class Signature:
    """A statement and the lines to sign it on, kept on one page."""

    statement: str
    lines: tuple[SignatureLine, ...]


@dataclass(frozen=True, slots=True)
class PartStart:
    """The start of another part of a report, on a new page: its title and what it holds.

    From here on `header` stands at the top of the pages; empty leaves what stood there. What comes
    before is to take no more than so many `pages`; 0 allows any number.
    """

    title: str
    text: Text = ()
    header: str = ""
    pages: int = 0


@dataclass(frozen=True, slots=True)
class IssueMark:
    """The code of an issued report for a camera, with what it says beside it.

    `code` is the text of the code, `description` says in words what the drawing is.
    """

    code: str
    lines: tuple[Text, ...]
    description: str


@dataclass(frozen=True, slots=True)
class PageBreak:
    """The next block starts a page."""


@dataclass(frozen=True, slots=True)
class KeepTogether:
    """Blocks that stay on one page where they fit on one."""

    blocks: tuple[Block, ...]


Block = (
    Heading
    | Paragraph
    | Letterhead
    | Banner
    | SignedLines
    | VerdictCard
    | Scale
    | Facts
    | FactColumns
    | Table
    | Plot
    | Steps
    | Lines
    | Numbered
    | Pictures
    | LeakEntries
    | Sketch
    | RegisterWalk
    | Notices
    | Signature
    | PartStart
    | Bars
    | IssueMark
    | PageBreak
    | KeepTogether
)


@dataclass(frozen=True, slots=True)
class Running:
    """What stands at the top and foot of the pages; page x of y is added while drawing.

    `page_words` holds the places ``{page}`` and ``{pages}``. `continued` holds the place
    ``{heading}`` and stands above the rows of a table that a page break parts from its heading;
    empty leaves them without.
    """

    header_left: str
    header_right: str
    footer_left: str
    page_words: str
    continued: str = ""


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report. `accent` is a color #rrggbb that text may be set in on white."""

    title: str
    subject: str
    author: str
    language: str
    paper: Paper
    accent: str
    text_size: float
    issued_on: date
    running: Running
    blocks: tuple[Block, ...]
    logo: bytes | None = None

    @property
    def has_issue_mark(self) -> bool:
        """Whether the code of an issue is printed on it."""
        return any(isinstance(block, IssueMark) for block in self.blocks)
