"""From blocks to pieces of the page, headings tied to what follows them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable, PageBreak, Spacer

from deskapp.report import blocks
from deskapp.report.pdf import bars, letterhead, pictures, plot, scale, statements, tables
from deskapp.report.pdf.headed import Headed, kept_together

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.report.pdf.look import Look


def compose(look: Look, document: blocks.Document) -> list[Flowable]:
    """Return the pieces of a document in printing order."""
    story: list[Flowable] = []
    heads: list[Flowable] = []
    for block in _without_empty_ends(document.blocks):
        pieces = _pieces(look, block)
        if isinstance(block, blocks.Heading):
            heads += pieces
        elif isinstance(block, blocks.PageBreak):
            story += [*heads, *pieces]
            heads = []
        elif pieces:
            if heads:
                pieces[0] = Headed(heads, pieces[0], look.height)
                heads = []
            story += pieces
    return [*story, *heads] or [Spacer(1.0, 1.0)]


def _without_empty_ends(items: tuple[blocks.Block, ...]) -> tuple[blocks.Block, ...]:
    """Leave out page breaks at either end, which would only print an empty page."""
    kept = list(items)
    while kept and isinstance(kept[0], blocks.PageBreak):
        kept.pop(0)
    while kept and isinstance(kept[-1], blocks.PageBreak):
        kept.pop()
    return tuple(kept)


def _pieces(look: Look, block: blocks.Block) -> list[Flowable]:
    """Return the pieces of one block."""
    match block:
        case blocks.PageBreak():
            return [PageBreak()]
        case blocks.KeepTogether():
            parts = _flat(_pieces(look, part) for part in block.blocks)
            return kept_together(parts, look.height)
        case blocks.Letterhead():
            return letterhead.letterhead(look, block)
        case blocks.Part():
            return letterhead.part(look, block)
        case blocks.Bars():
            return kept_together(bars.bars(look, block), look.height)
        case blocks.Scale():
            return kept_together(scale.scale(look, block), look.height)
        case blocks.Pictures():
            return pictures.pictures(look, block)
        case blocks.LeakEntries():
            return pictures.leak_entries(look, block)
        case blocks.Facts():
            return tables.facts(look, block)
        case blocks.Table():
            return tables.table(look, block)
        case blocks.Plot():
            return kept_together(plot.plot(look, block), look.height)
        case blocks.Steps():
            return tables.steps(look, block)
        case _:
            return _statement(look, block)


def _statement(
    look: Look,
    block: blocks.Heading
    | blocks.Paragraph
    | blocks.Banner
    | blocks.SignedLines
    | blocks.VerdictCard
    | blocks.Lines
    | blocks.Numbered
    | blocks.Notices
    | blocks.Signature,
) -> list[Flowable]:
    match block:
        case blocks.Heading():
            return statements.heading(look, block)
        case blocks.Paragraph():
            return statements.running_text(look, block)
        case blocks.Banner():
            return statements.banner(look, block)
        case blocks.SignedLines():
            return statements.signed_lines(look, block)
        case blocks.VerdictCard():
            return statements.verdict_card(look, block)
        case blocks.Lines():
            return statements.lines(look, block)
        case blocks.Numbered():
            return statements.numbered(look, block)
        case blocks.Notices():
            return statements.notices(look, block)
        case blocks.Signature():
            return kept_together(statements.signature(look, block), look.height)


def _flat(groups: Iterable[list[Flowable]]) -> list[Flowable]:
    return [piece for group in groups for piece in group]
