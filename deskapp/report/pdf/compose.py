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
from deskapp.report.pdf.headed import Headed, kept_together

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.pdf.look import Look


_OPENING = (blocks.Heading, blocks.PageBreak, blocks.Part)
_SHORT_TEXT = 320
"""Text of no more characters than this below a heading is taken for an introduction."""


@dataclass(frozen=True, slots=True)
class Composed:
    """The pieces of a document in printing order, and what they are in reading order."""

    story: list[Flowable]
    structure: Element


def compose(look: Look, document: blocks.Document) -> Composed:
    """Return the pieces of a document and its structure, which drawing them fills."""
    structure, outline = Element(Role.DOCUMENT), Outline()
    story: list[Flowable] = []
    heads: list[Flowable] = []
    printed = _without_empty_ends(document.blocks)
    for block, following in zip(printed, (*printed[1:], None), strict=False):
        pieces = _pieces(look, block, structure, outline)
        if isinstance(block, blocks.Heading) or (heads and _introduces(block, following)):
            heads += pieces
        elif isinstance(block, blocks.PageBreak):
            story += [*heads, *pieces]
            heads = []
        elif pieces:
            if heads:
                pieces[0] = Headed(heads, pieces[0], look.height)
                heads = []
            story += pieces
    return Composed([*story, *heads] or [Spacer(1.0, 1.0)], structure)


def _introduces(block: blocks.Block, following: blocks.Block | None) -> bool:
    """Say whether a block is short text that stays with what follows it under the same heading."""
    if following is None or isinstance(following, _OPENING):
        return False
    return isinstance(block, blocks.Paragraph) and (
        sum(len(span.text) for span in block.text) <= _SHORT_TEXT
    )


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
        case blocks.Part():
            return letterhead.part(look, block, under, outline.role(1))
        case blocks.Bars():
            return kept_together(bars.bars(look, block, under), look.height)
        case blocks.IssueMark():
            return kept_together(issue_mark.issue_mark(look, block, under), look.height)
        case blocks.Scale():
            return kept_together(scale.scale(look, block, under), look.height)
        case blocks.Pictures():
            return pictures.pictures(look, block, under)
        case blocks.LeakEntries():
            return pictures.leak_entries(look, block, under)
        case blocks.Sketch():
            return kept_together(sketch.sketch(look, block, under), look.height)
        case blocks.RegisterWalk():
            return kept_together(register_walk.register_walk(look, block, under), look.height)
        case blocks.Facts():
            return tables.facts(look, block, under)
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
