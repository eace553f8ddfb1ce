"""Drawing of photographs, the logo, and leaks with their photographs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable

from deskapp.domain.ink import LETTERS_ACROSS
from deskapp.i18n import _
from deskapp.report.archival.structure import Role
from deskapp.report.blocks import LeakEntries
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, grid, ground, padding, rule_above
from deskapp.report.pdf.ink_pen import draw_ink
from deskapp.report.pdf.look import INK, QUIET, RULE, SHADE, WHITE, sign_color
from deskapp.report.pdf.picture_file import open_picture
from deskapp.report.pdf.signs import sign_mark
from deskapp.report.pdf.statements import number_disc, spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from deskapp.domain.ink import Inked
    from deskapp.report import blocks
    from deskapp.report.archival.structure import Element
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen
    from deskapp.report.pdf.tagged import TaggedCanvas

_GAP = 12.0
_LEAK_PHOTO_HEIGHT = 74.0
_STRIP, _WIDE_STRIP = 0.5, 0.6
"""Shares of the width that photographs of leaks take: one each, and where some have several."""
LARGER = (2.2, 1.8, 1.5, 1.3, 1.15)
"""How many times their usual size photographs may have, the largest first."""
SMALLER = (0.9, 0.8, 0.7, 0.6)
"""How many times their usual size they may have where that spares a page."""
_TALLEST = 0.75
_EMPTY_HEIGHT = 54.0
_LOGO_SHARE = 0.4
_SMALLEST_MARK = 8.0


def role_of(block: blocks.LeakEntries | blocks.Pictures) -> Role:
    """Return what the element of photographs is."""
    return Role.NUMBERED_LIST if isinstance(block, LeakEntries) else Role.GROUP


def photo_block(
    look: Look, block: blocks.LeakEntries | blocks.Pictures, element: Element, times: float = 1.0
) -> list[Flowable]:
    """Draw photographs, so many `times` as large as they are at least."""
    if isinstance(block, LeakEntries):
        size = _size(block, times)
        return [_leak_entry(look, one, element.add(Role.ITEM), size) for one in block.entries]
    return _pictures(look, block, element, _share(block, times))


def resized(
    look: Look,
    block: blocks.LeakEntries | blocks.Pictures,
    element: Element,
    pieces: list[Flowable],
    times: float,
) -> list[Flowable]:
    """Return `pieces` of `photo_block` with photographs so many `times` as large."""
    items = list(element.parts)
    element.parts.clear()
    if not isinstance(block, LeakEntries):
        return photo_block(look, block, element, times)
    size = _size(block, times)
    redrawn: list[Flowable] = []
    for one, piece, item in zip(block.entries, pieces, items, strict=True):
        if one.pictures:
            redrawn.append(_leak_entry(look, one, element.add(Role.ITEM), size))
        else:
            element.parts.append(item)
            redrawn.append(piece)
    return redrawn


def _size(block: blocks.LeakEntries, times: float) -> tuple[float, float]:
    several = any(len(one.pictures) > 1 for one in block.entries)
    return (_WIDE_STRIP if several else _STRIP), _LEAK_PHOTO_HEIGHT * times


def growth(look: Look, block: blocks.LeakEntries | blocks.Pictures, times: float) -> list[float]:
    """Return the points by which each piece of photographs is taller when so much larger."""
    if isinstance(block, LeakEntries):
        return [_LEAK_PHOTO_HEIGHT * (times - 1.0) * bool(one.pictures) for one in block.entries]
    more = (look.width - _GAP) / 2 * (_share(block, times) - block.height)
    return [more * ((len(block.pictures) + 1) // 2)]


def _share(block: blocks.Pictures, times: float) -> float:
    if times < 1.0:
        return max(block.least or block.height, block.height * times)
    return max(block.height, min(_TALLEST, block.height * times))


def _pictures(look: Look, block: blocks.Pictures, under: Element, share: float) -> list[Flowable]:
    """Draw photographs two side by side, each with its caption below it."""
    width = (look.width - _GAP) / 2
    cells = [_captioned(look, picture, width, width * share, under) for picture in block.pictures]
    if not cells:
        return []
    if len(cells) % 2:
        cells.append([])
    rows: list[list[Cell]] = [
        [cells[position], "", cells[position + 1]] for position in range(0, len(cells), 2)
    ]
    table = grid(look, rows, [width, _GAP, width], padding((0, 0), (-1, -1), bottom=10.0))
    return [spaced(table, 0.0, 6.0)]


def logo(look: Look, block: blocks.Letterhead, height: float, under: Element) -> Flowable | None:
    """Return the logo, `height` points high at most; None where there is none to draw."""
    if look.logo is None or not block.logo_description:
        return None
    figure = under.add_figure(block.logo_description)
    image = fitted_picture(look, look.logo, look.width * _LOGO_SHARE, height, figure)
    if image is None:
        look.problems.append(_("The logo file holds no picture that can be printed."))
    return image


def _leak_entry(
    look: Look, entry: blocks.LeakEntry, item: Element, size: tuple[float, float]
) -> Flowable:
    """Draw a leak: number and words at the left, photographs at the right.

    `size` is the share of the width the photographs take, and their greatest height in points.
    """
    label, body = item.add(Role.LABEL), item.add(Role.BODY)
    told, shown = body.add(Role.GROUP), body.add(Role.GROUP)
    sizes = look.sizes
    disc = sizes.body * 1.75
    number = disc + 10.0
    words: list[Flowable] = [
        paragraph(
            look,
            entry.title,
            sizes.piece,
            told.add(Role.PARAGRAPH),
            face=look.faces.strong,
            leading=1.25,
        ),
    ]
    if entry.details:
        details = told.add(Role.PARAGRAPH)
        words.append(paragraph(look, entry.details, sizes.small, details, color=QUIET, after=3.0))
    room = look.width - number
    strip = room * size[0]
    photos = _photo_strip(look, entry.pictures, strip, size[1], shown)
    text_room = room if photos is None else room - strip - _GAP
    words.append(_status(look, entry, text_room, told.add(Role.PARAGRAPH)))
    if entry.text:
        words.append(paragraph(look, entry.text, sizes.body, told.add(Role.PARAGRAPH), leading=1.3))
    widths = [number, room] if photos is None else [number, room - strip, strip]
    row: list[Cell] = [number_disc(look, entry.number, disc, label), words]
    commands = [
        rule_above((0, 0), (-1, 0)),
        *padding((0, 0), (-1, -1), top=7.0, bottom=7.0),
    ]
    if photos is not None:
        row.append(photos)
        commands += padding((1, 0), (1, 0), right=_GAP)
    return grid(look, [row], widths, commands)


def _status(look: Look, entry: blocks.LeakEntry, width: float, element: Element) -> Flowable:
    size = look.sizes.body
    mark = size * 1.2
    color = sign_color(entry.sign)
    words = paragraph(look, entry.word, size, element, face=look.faces.strong, color=color)
    return grid(
        look,
        [[sign_mark(entry.sign, mark), words]],
        [mark + 6.0, width - mark - 6.0],
        padding((0, 0), (-1, -1), bottom=3.0),
    )


def _photo_strip(
    look: Look,
    photos: tuple[blocks.Picture, ...],
    width: float,
    height: float,
    under: Element,
) -> list[Flowable] | None:
    """Return photographs in a strip `width` points wide: one large, or two in each row."""
    if not photos:
        return None
    if len(photos) == 1:
        return _captioned(look, photos[0], width, height, under)
    half = (width - _GAP) / 2
    cells = [_captioned(look, photo, half, height, under) for photo in photos]
    if len(cells) % 2:
        cells.append([])
    rows: list[list[Cell]] = [
        [cells[position], "", cells[position + 1]] for position in range(0, len(cells), 2)
    ]
    return [grid(look, rows, [half, _GAP, half], padding((0, 0), (-1, -1), bottom=4.0))]


def _captioned(
    look: Look, picture: blocks.Picture, width: float, height: float, under: Element
) -> list[Flowable]:
    pieces: list[Flowable] = []
    data = look.photos.get(picture.digest)
    figure = under.add_figure(picture.description)
    image = fitted_picture(look, data, width, height, figure, picture.marks) if data else None
    if image is not None:
        pieces.append(image)
        if picture.slate:
            slate = under.add(Role.PARAGRAPH)
            pieces.append(_slate(look, picture.slate, image.width, slate))
    else:
        if data:
            look.problems.append(
                _("The photo “{name}” holds no picture that can be printed.").format(
                    name=picture.caption or picture.digest[:8]
                )
            )
        figure = None
        pieces.append(_empty_frame(look, picture.missing, width, under.add(Role.PARAGRAPH)))
    if picture.caption:
        caption = under.add(Role.PARAGRAPH) if figure is None else figure.add(Role.CAPTION)
        pieces.append(Drawn(width, 3.0))
        pieces.append(
            paragraph(look, picture.caption, look.sizes.small, caption, color=QUIET, leading=1.25)
        )
    return pieces


def _slate(look: Look, words: str, width: float, element: Element) -> Flowable:
    """Return a dark strip with light words, as wide as the picture above it."""
    size = look.sizes.small * 0.9
    text = paragraph(look, words, size, element, face=look.faces.strong, color=WHITE, leading=1.2)
    sides = padding((0, 0), (-1, -1), top=1.5, bottom=2.5, left=4.0, right=4.0)
    return grid(look, [[text]], [width], [ground((0, 0), (-1, -1), INK), *sides])


def fitted_picture(
    look: Look,
    data: bytes,
    width: float,
    height: float,
    element: Element | None,
    marks: tuple[Inked, ...] = (),
) -> Drawn | None:
    """Return the picture fitted into a box, its marks over it; None where there is no picture."""
    if data not in look.pictures:
        look.pictures[data] = open_picture(data)
    reader = look.pictures[data]
    if reader is None:
        return None
    across, down = reader.getSize()
    scale = min(width / across, height / down)

    def paint(pen: Pen) -> None:
        pen.picture(reader, across * scale, down * scale)
        letter = max(_SMALLEST_MARK, across * scale / LETTERS_ACROSS)
        with pen.inside(0.0, 0.0, across * scale, down * scale):
            draw_ink(pen, look, marks, across * scale, down * scale, letter)

    return Drawn(across * scale, down * scale, paint, element)


def _empty_frame(look: Look, words: str, width: float, element: Element) -> Flowable:
    text = paragraph(look, words, look.sizes.small, element, color=QUIET)
    text.wrap(width - 16.0, _EMPTY_HEIGHT)

    def paint(pen: Pen) -> None:
        pen.box(0.0, 0.0, width, _EMPTY_HEIGHT, fill=SHADE, outline=RULE, line=0.6)

    class _Framed(Drawn):
        def place(self, canvas: TaggedCanvas, x: float, y: float) -> None:
            super().place(canvas, x, y)
            text.place(canvas, x + 8.0, y + _EMPTY_HEIGHT - 8.0 - text.height)

    return _Framed(width, _EMPTY_HEIGHT, paint)
