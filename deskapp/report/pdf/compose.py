"""From blocks to pieces of the page, headings tied to what follows them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak, Spacer

from deskapp.report import blocks
from deskapp.report.archival.structure import Element, Outline, Role
from deskapp.report.pdf import (
    bars,
    issue_mark,
    letterhead,
    pictures,
    plot,
    register_walk,
    scale,
    signature,
    sketch,
    statements,
    tables,
)
from deskapp.report.pdf.headed import Footed, Headed, kept_together
from deskapp.report.pdf.room import pages_of, pages_taken

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.pdf.look import Look


_OPENING = (blocks.Heading, blocks.PageBreak, blocks.PartStart)
_ROWS = (blocks.Table, blocks.Steps, blocks.Facts, blocks.FactColumns)
"""Blocks whose rows stand under their heading on each page."""
_SHORT_TEXT = 320
"""Text of no more characters than this below a heading is taken for an introduction."""
_FEW_FACTS = 8
"""No more facts than this below a heading are taken to introduce the table that follows."""
_TIGHTER = (0.96, 0.92, 0.88)
"""Shares of its size at which text may be set so that page 1 is complete in itself."""
_THIN = 0.2
"""Share of the last page below which text is set tighter if that spares the page."""
_SMALLEST_BODY = 8.2
"""Points below which running text is not set smaller for that."""
_SMALLEST_PROMISED = 7.9
"""The same where a number of pages was promised, as of a certificate."""
_LONGEST_REMARK = 600
"""Text of no more characters than this below a table is taken to speak of it."""


@dataclass(frozen=True, slots=True)
class Composed:
    """The pieces of a document in printing order, and what they are in reading order."""

    story: list[Flowable]
    structure: Element


def compose(look: Look, document: blocks.Document) -> Composed:
    """Return the pieces of a document and its structure, which drawing them fills.

    What stands before the first page break is set a little smaller where it would just run over
    page 1, or over the pages a part allows it; so is the rest where it takes one page more than its
    photographs speak of, or would leave a few lines on a page of their own.
    """
    printed = _without_empty_ends(document.blocks)
    at, allowed = _opening(printed)

    def composed(share: float) -> _Story:
        story = _opened(look, printed[:at], allowed, document.running.continued)
        story.look = look.tighter(share)
        story.add(printed[at:])
        return story

    story = composed(1.0)
    if story.pages_over() == 1:
        tighter = (composed(share) for share in _shares(look))
        story = next((one for one in tighter if one.pages_over() != 1), None) or composed(1.0)
    story.fit_photos()
    pages, filled = story.taken()
    if pages > 1 and filled < _THIN:
        tighter = (composed(share).fit_photos() for share in _shares(look))
        story = next((one for one in tighter if one.taken()[0] < pages), None)
        story = story or composed(1.0).fit_photos()
    return Composed(story.pieces or [Spacer(1.0, 1.0)], story.structure)


def _opening(printed: tuple[blocks.Block, ...]) -> tuple[int, int]:
    """Return how many blocks stand before the first new page, and the pages they may take."""
    for at, block in enumerate(printed):
        if isinstance(block, blocks.PageBreak):
            return at, 1
        if isinstance(block, blocks.PartStart) and block.pages:
            return at, block.pages
    return 0, 0


def _shares(look: Look, least: float = _SMALLEST_BODY) -> tuple[float, ...]:
    """Return the shares of its size at which text may be set smaller, the largest first."""
    return tuple(one for one in _TIGHTER if one * look.sizes.body >= least)


def _opened(look: Look, printed: tuple[blocks.Block, ...], allowed: int, continued: str) -> _Story:
    """Compose what is to stand on the first pages, as large as it fits; none may be given."""

    def composed(share: float) -> _Story:
        story = _Story(look.tighter(share), continued)
        story.add(printed)
        return story

    story = composed(1.0)
    if not printed or pages_of(story.pieces, look, {}) <= allowed:
        return story
    tighter = (composed(share) for share in _shares(look, _SMALLEST_PROMISED))
    return next((one for one in tighter if pages_of(one.pieces, look, {}) <= allowed), story)


class _Story:
    """The pieces composed so far, and the structure they fill."""

    def __init__(self, look: Look, continued: str) -> None:
        self.look = look
        self._continued = continued
        look.shown.clear()  # by an earlier try of the same document
        self.pieces: list[Flowable] = []
        self.structure = Element(Role.DOCUMENT)
        self._outline = Outline()
        self._photos: list[_PhotoBlock] = []

    def add(self, printed: tuple[blocks.Block, ...]) -> None:
        """Compose blocks, headings tied to what follows them."""
        look, heads = self.look, list[Flowable]()
        heading: blocks.Heading | None = None
        around = zip((None, *printed), printed, (*printed[1:], None), strict=False)
        for before, block, following in around:
            pieces = self._composed(block, heads)
            if isinstance(block, blocks.Heading) or (
                heads and _introduces(block, following, heading)
            ):
                heads += pieces
            elif isinstance(block, blocks.PageBreak):
                self.pieces += [*heads, *pieces]
                heads = []
            elif not heads and self.pieces and _is_about(block, before):
                self.pieces[-1] = Footed(self.pieces[-1], pieces[0], look.height)
            elif pieces:
                again = self._again(block, heading) if heads else None
                self.pieces += _with_heads(look, heads, pieces, again)
                heads = []
            heading = block if isinstance(block, blocks.Heading) else heading
        self.pieces += heads

    def _again(self, block: blocks.Block, heading: blocks.Heading | None) -> Flowable | None:
        """Return the heading for rows that a page break parts from it; None for other blocks."""
        if not self._continued or heading is None or not isinstance(block, _ROWS):
            return None
        text = self._continued.replace("{heading}", heading.text)
        return statements.heading_again(self.look, text)

    def _composed(self, block: blocks.Block, heads: list[Flowable]) -> list[Flowable]:
        if not isinstance(block, blocks.LeakEntries | blocks.Pictures):
            return _pieces(self.look, block, self.structure, self._outline)
        element = self.structure.add(pictures.role_of(block))
        pieces = pictures.photo_block(self.look, block, element)
        if pieces and (block.pages or (isinstance(block, blocks.Pictures) and block.least)):
            place = len(self.pieces)
            self._photos.append(_PhotoBlock(block, element, list(heads), place, pieces))
        return pieces

    @property
    def _allowed(self) -> int:
        return min((one.block.pages for one in self._photos if one.block.pages), default=0)

    def pages_over(self) -> int:
        """Return how many pages there are more than the photographs speak of, if they do."""
        return pages_of(self.pieces, self.look, {}) - self._allowed if self._allowed else 0

    def taken(self) -> tuple[int, float]:
        """Return how many pages there are, and the share of the last one that is filled."""
        return pages_taken(self.pieces, self.look, {})

    def fit_photos(self) -> _Story:
        """Set photographs as large as there is room for, and return the story."""
        self.enlarge_photos()
        self.shrink_photos()
        return self

    def enlarge_photos(self) -> None:
        """Set photographs, those of leaks first, as large as the pages allow they speak of."""
        leaks = [one for one in self._photos if isinstance(one.block, blocks.LeakEntries)]
        for times in pictures.LARGER if self._allowed else ():
            for some in (self._photos, leaks) if leaks else (self._photos,):
                if pages_of(self.pieces, self.look, self._grown(some, times)) <= self._allowed:
                    self._resize(some, times)
                    return

    def shrink_photos(self) -> None:
        """Set photographs smaller that may be so, where that spares a page, and no more than so."""
        some = [one for one in self._photos if not one.block.pages]
        usual = pages_of(self.pieces, self.look, {}) if some else 0
        for times in pictures.SMALLER if some else ():
            if pages_of(self.pieces, self.look, self._grown(some, times)) < usual:
                self._resize(some, times)
                return

    def _grown(self, some: list[_PhotoBlock], times: float) -> dict[int, float]:
        """Return how much taller the pieces at each place would be."""
        return {
            one.place + number: points
            for one in some
            for number, points in enumerate(pictures.growth(self.look, one.block, times))
        }

    def _resize(self, some: list[_PhotoBlock], times: float) -> None:
        for one in some:
            pieces = pictures.resized(self.look, one.block, one.element, one.pieces, times)
            end = one.place + len(one.pieces)
            self.pieces[one.place : end] = _with_heads(self.look, one.heads, pieces)


@dataclass(frozen=True, slots=True)
class _PhotoBlock:
    """Photographs whose size may change: block and element, heads, and where the pieces stand."""

    block: blocks.LeakEntries | blocks.Pictures
    element: Element
    heads: list[Flowable]
    place: int
    pieces: list[Flowable]


def _with_heads(
    look: Look, heads: list[Flowable], pieces: list[Flowable], again: Flowable | None = None
) -> list[Flowable]:
    if not heads:
        return pieces
    return [Headed(heads, pieces[0], look.height, again=again), *pieces[1:]]


def _introduces(
    block: blocks.Block, following: blocks.Block | None, heading: blocks.Heading | None
) -> bool:
    """Say whether a block is short and stays with what follows it under the same heading.

    A heading below that one belongs to what follows.
    """
    is_text = isinstance(block, blocks.Paragraph) and _length(block) <= _SHORT_TEXT
    if isinstance(following, blocks.Heading) and heading is not None:
        return is_text and following.level > heading.level
    if following is None or isinstance(following, _OPENING):
        return False
    if isinstance(block, blocks.Facts):
        return isinstance(following, blocks.Table) and len(block.rows) <= _FEW_FACTS
    return is_text


def _is_about(block: blocks.Block, before: blocks.Block | None) -> bool:
    """Say whether a block is text about what stands right above it, or a panel without a word."""
    if isinstance(block, blocks.Banner):
        return not block.word and isinstance(before, blocks.Paragraph)
    if not isinstance(block, blocks.Paragraph) or _length(block) > _LONGEST_REMARK:
        return False
    is_quiet = block.role is blocks.TextRole.QUIET
    return isinstance(before, blocks.Table) or (
        is_quiet and isinstance(before, blocks.Lines | blocks.Banner)
    )


def _length(block: blocks.Paragraph) -> int:
    return sum(len(span.text) for span in block.text)


def _without_empty_ends(items: tuple[blocks.Block, ...]) -> tuple[blocks.Block, ...]:
    """Leave out page breaks at either end, which would only print an empty page."""
    kept = list(items)
    while kept and isinstance(kept[0], blocks.PageBreak):
        kept.pop(0)
    while kept and isinstance(kept[-1], blocks.PageBreak):
        kept.pop()
    return tuple(kept)


def _pieces(look: Look, block: blocks.Block, under: Element, outline: Outline) -> list[Flowable]:
    """Return the pieces of one block; what they are goes `under` an element."""
    match block:
        case blocks.PageBreak():
            return [PageBreak()]
        case blocks.KeepTogether():
            parts = _flat(_pieces(look, part, under, outline) for part in block.blocks)
            return kept_together(parts, look.height)
        case blocks.Letterhead():
            return letterhead.letterhead(look, block, under, outline.role(0))
        case blocks.Heading():
            return statements.heading(look, block, under.add(outline.role(block.level)))
        case blocks.PartStart():
            return letterhead.part(look, block, under, outline.role(1))
        case blocks.Bars():
            return kept_together(bars.bars(look, block, under), look.height)
        case blocks.IssueMark():
            return kept_together(issue_mark.issue_mark(look, block, under), look.height)
        case blocks.Scale():
            return kept_together(scale.scale(look, block, under), look.height)
        case blocks.Pictures() | blocks.LeakEntries():
            return pictures.photo_block(look, block, under.add(pictures.role_of(block)))
        case blocks.Sketch():
            return kept_together(sketch.sketch(look, block, under), look.height)
        case blocks.RegisterWalk():
            return kept_together(register_walk.register_walk(look, block, under), look.height)
        case blocks.Facts():
            return tables.facts(look, block, under)
        case blocks.FactColumns():
            return tables.fact_columns(look, block, under)
        case blocks.Table():
            return tables.table(look, block, under)
        case blocks.Plot():
            return kept_together(plot.plot(look, block, under), look.height)
        case blocks.Steps():
            return tables.steps(look, block, under)
        case _:
            return _statement(look, block, under)


def _statement(
    look: Look,
    block: blocks.Paragraph
    | blocks.Banner
    | blocks.SignedLines
    | blocks.VerdictCard
    | blocks.Lines
    | blocks.Numbered
    | blocks.Notices
    | blocks.Signature,
    under: Element,
) -> list[Flowable]:
    match block:
        case blocks.Paragraph():
            return statements.running_text(look, block, under)
        case blocks.Banner():
            return statements.banner(look, block, under)
        case blocks.SignedLines():
            return statements.signed_lines(look, block, under)
        case blocks.VerdictCard():
            return statements.verdict_card(look, block, under)
        case blocks.Lines():
            return statements.lines(look, block, under)
        case blocks.Numbered():
            return statements.numbered(look, block, under)
        case blocks.Notices():
            return statements.notices(look, block, under)
        case blocks.Signature():
            return kept_together(signature.signature(look, block, under), look.height)


def _flat(groups: Iterable[list[Flowable]]) -> list[Flowable]:
    return [piece for group in groups for piece in group]
