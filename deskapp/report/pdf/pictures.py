"""Drawing of photographs, the logo, and leaks with their photographs."""

from __future__ import annotations

from typing import TYPE_CHECKING

from reportlab.platypus import Flowable

from deskapp.i18n import _
from deskapp.report.pdf.drawn import Drawn
from deskapp.report.pdf.grid import Cell, grid, padding, rule_above
from deskapp.report.pdf.look import QUIET, RULE, SHADE, sign_color
from deskapp.report.pdf.picture_file import open_picture
from deskapp.report.pdf.signs import sign_mark
from deskapp.report.pdf.statements import number_disc, spaced
from deskapp.report.pdf.text import paragraph

if TYPE_CHECKING:
    from deskapp.report import blocks
    from deskapp.report.pdf.look import Look
    from deskapp.report.pdf.pen import Pen

_GAP = 12.0
_LEAK_PHOTO_HEIGHT = 74.0
_PHOTO_HEIGHT = 112.0
_EMPTY_HEIGHT = 54.0


def pictures(look: Look, block: blocks.Pictures) -> list[Flowable]:
    """Draw photographs two side by side, each with its caption below it."""
    width = (look.width - _GAP) / 2
    cells = [_captioned(look, picture, width, _PHOTO_HEIGHT) for picture in block.pictures]
    if not cells:
        return []
    if len(cells) % 2:
        cells.append([])
    rows: list[list[Cell]] = [
        [cells[position], "", cells[position + 1]] for position in range(0, len(cells), 2)
    ]
    table = grid(look, rows, [width, _GAP, width], padding((0, 0), (-1, -1), bottom=10.0))
    return [spaced(table, 0.0, 6.0)]


def leak_entries(look: Look, block: blocks.LeakEntries) -> list[Flowable]:
    """Draw one leak below the other: number and words at the left, photographs at the right."""
    return [_leak_entry(look, entry) for entry in block.entries]


def logo(look: Look, height: float, width: float) -> Flowable | None:
    """Return the logo, fitted into `width` by `height` points; None where there is none to draw."""
    if look.logo is None:
        return None
    image = _image(look.logo, width, height)
    if image is None:
        look.problems.append(_("The logo file holds no picture that can be printed."))
    return image


def _leak_entry(look: Look, entry: blocks.LeakEntry) -> Flowable:
    sizes = look.sizes
    disc = sizes.body * 1.75
    number = disc + 10.0
    words: list[Flowable] = [
        paragraph(look, entry.title, sizes.piece, face=look.faces.strong, leading=1.25),
    ]
    if entry.details:
        words.append(paragraph(look, entry.details, sizes.small, color=QUIET, after=3.0))
    room = look.width - number
    photos = _photo_strip(look, entry.pictures, room * 0.5)
    text_room = room if photos is None else room * 0.5 - _GAP
    words.append(_status(look, entry, text_room))
    if entry.text:
        words.append(paragraph(look, entry.text, sizes.body, leading=1.3))
    widths = [number, room] if photos is None else [number, room * 0.5, room * 0.5]
    row: list[Cell] = [number_disc(look, entry.number, disc), words]
    commands = [
        rule_above((0, 0), (-1, 0)),
        *padding((0, 0), (-1, -1), top=7.0, bottom=7.0),
    ]
    if photos is not None:
        row.append(photos)
        commands += padding((1, 0), (1, 0), right=_GAP)
    return grid(look, [row], widths, commands)


def _status(look: Look, entry: blocks.LeakEntry, width: float) -> Flowable:
    size = look.sizes.body
    mark = size * 1.2
    words = paragraph(look, entry.word, size, face=look.faces.strong, color=sign_color(entry.sign))
    return grid(
        look,
        [[sign_mark(entry.sign, mark), words]],
        [mark + 6.0, width - mark - 6.0],
        padding((0, 0), (-1, -1), bottom=3.0),
    )


def _photo_strip(
    look: Look, photos: tuple[blocks.Picture, ...], width: float
) -> list[Flowable] | None:
    """Return photographs in a strip `width` points wide: one large, or two in each row."""
    if not photos:
        return None
    if len(photos) == 1:
        return _captioned(look, photos[0], width, _LEAK_PHOTO_HEIGHT)
    half = (width - _GAP) / 2
    cells = [_captioned(look, photo, half, _LEAK_PHOTO_HEIGHT) for photo in photos]
    if len(cells) % 2:
        cells.append([])
    rows: list[list[Cell]] = [
        [cells[position], "", cells[position + 1]] for position in range(0, len(cells), 2)
    ]
    return [grid(look, rows, [half, _GAP, half], padding((0, 0), (-1, -1), bottom=4.0))]


def _captioned(look: Look, picture: blocks.Picture, width: float, height: float) -> list[Flowable]:
    pieces: list[Flowable] = []
    data = look.photos.get(picture.digest)
    image = _image(data, width, height) if data else None
    if image is not None:
        pieces.append(image)
    else:
        if data:
            look.problems.append(
                _("The photo “{name}” holds no picture that can be printed.").format(
                    name=picture.caption or picture.digest[:8]
                )
            )
        pieces.append(_empty_frame(look, picture.missing, width))
    if picture.caption:
        pieces.append(Drawn(width, 3.0, _nothing))
        pieces.append(paragraph(look, picture.caption, look.sizes.small, color=QUIET, leading=1.25))
    return pieces


def _image(data: bytes, width: float, height: float) -> Drawn | None:
    """Return the picture fitted into a box; None where the bytes hold no picture."""
    reader = open_picture(data)
    if reader is None:
        return None
    across, down = reader.getSize()
    scale = min(width / across, height / down)

    def paint(pen: Pen) -> None:
        pen.picture(reader, across * scale, down * scale)

    return Drawn(across * scale, down * scale, paint)


def _empty_frame(look: Look, words: str, width: float) -> Flowable:
    text = paragraph(look, words, look.sizes.small, color=QUIET)
    text.wrap(width - 16.0, _EMPTY_HEIGHT)

    def paint(pen: Pen) -> None:
        pen.box(0.0, 0.0, width, _EMPTY_HEIGHT, fill=SHADE, outline=RULE, line=0.6)

    class _Framed(Drawn):
        def draw(self) -> None:
            super().draw()
            text.drawOn(self.canv, 8.0, _EMPTY_HEIGHT - 8.0 - text.height)

    return _Framed(width, _EMPTY_HEIGHT, paint)


def _nothing(pen: Pen) -> None:
    del pen
