"""The very drawing of a finished report, taken off its pages and drawn again on a bare canvas.

What the pages hold (strings with font, size, color and place; lines and shapes; pictures) is read
from the file once. `Replay.draw` then does nothing but call the canvas of the library: places are
those of the page, a color or a width is set only where it changes, and a JPEG is named by its file,
which the library never decodes. So no layout, tags or finishing are in it, and no detours of ours.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
from reportlab.pdfbase import pdfmetrics
from reportlab.pdfbase.ttfonts import TTFont
from reportlab.pdfgen.canvas import Canvas
from reportlab.pdfgen.pathobject import PDFPathObject

Call = tuple[str, tuple[Any, ...]]
"""A method of the canvas, and what it is called with."""
_STOCK = "stock-"
"""Before the names of the fonts: those of the program are not lent to the bare canvas."""
_CHARACTER = re.compile(rb"<([0-9A-F]{2})> <([0-9A-F]{4,})>")
_PAINTS = {"S": (1, 0), "s": (1, 0), "f": (0, 1), "f*": (0, 1), "B": (1, 1), "B*": (1, 1)}


@dataclass
class _State:
    """What one level of the page holds: the way to the paper, and how things are drawn there."""

    matrix: pikepdf.Matrix = field(default_factory=pikepdf.Matrix)
    looks: dict[str, tuple[Any, ...]] = field(default_factory=dict)
    clips: int = 0

    def copy(self) -> _State:
        return _State(self.matrix, dict(self.looks), 0)


@dataclass(frozen=True)
class Replay:
    """The pages of a report as calls of a canvas, with the size of each page."""

    pages: list[tuple[tuple[float, float], list[Call]]]

    def draw(self) -> bytes:
        """Draw the pages with a bare canvas."""
        buffer = BytesIO()
        canvas = Canvas(buffer, pageCompression=1, invariant=1)
        for size, calls in self.pages:
            canvas.setPageSize(size)
            for name, given in calls:
                (_DRAWN.get(name) or getattr(Canvas, name))(canvas, *given)
            canvas.showPage()
        canvas.save()
        return buffer.getvalue()


def replay_of(report: bytes, folder: Path, fonts: Path) -> Replay:
    """Read a report; its pictures are put into `folder`, and `fonts` has the typefaces."""
    with pikepdf.open(BytesIO(report)) as pdf:
        return Replay([_Reader(page, folder, fonts).read() for page in pdf.pages])


class _Reader:
    """Turns the operators of one page (ISO 32000-1, Annex A) into calls of a canvas."""

    def __init__(self, page: pikepdf.Page, folder: Path, fonts: Path) -> None:
        self._page = page
        self._size = tuple(float(side) for side in page.mediabox)[2:]
        self._state = _State()
        self._above: list[_State] = []
        self._known: dict[str, tuple[Any, ...]] = {}
        self._calls: list[Call] = []
        self._path: list[Call] = []
        self._words: list[Call] = []
        self._clips = False
        self._pictures = {
            name: _picture(item, folder)
            for name, item in page.resources.get("/XObject", {}).items()
        }
        self._fonts = {
            name: _font(item, fonts) for name, item in page.resources.get("/Font", {}).items()
        }
        self._text: dict[str, Any] = {}

    def read(self) -> tuple[tuple[float, float], list[Call]]:
        for item in pikepdf.parse_content_stream(self._page):
            name = str(item.operator)
            given = list(item.operands)
            step = getattr(self, f"_on_{_SPELLED.get(name, name)}", None)
            if step is not None:
                step(*given)
            elif name in _PAINTS:
                self._paint(*_PAINTS[name])
            elif name in _LOOKS:
                self._state.looks[_LOOKS[name]] = _plain(given)
            elif name not in _TELLS_NOTHING:
                raise ValueError(f"the page holds {name}, which is not drawn again")
        return self._size, self._calls

    def _on_q(self) -> None:
        self._above.append(self._state)
        self._state = self._state.copy()

    def _on_Q(self) -> None:
        for _clip in range(self._state.clips):
            self._calls.append(("restoreState", ()))
            self._known = {}
        self._state = self._above.pop()

    def _on_cm(self, *given: Any) -> None:
        self._state.matrix = pikepdf.Matrix(*_plain(given)) @ self._state.matrix

    def _on_m(self, *at: Any) -> None:
        self._path.append(("moveTo", self._placed(at)))

    def _on_l(self, *at: Any) -> None:
        self._path.append(("lineTo", self._placed(at)))

    def _on_c(self, *at: Any) -> None:
        self._path.append(("curveTo", self._placed(at)))

    def _on_h(self) -> None:
        self._path.append(("close", ()))

    def _on_re(self, *given: Any) -> None:
        x, y, width, height = _plain(given)
        corners = ((x, y), (x + width, y), (x + width, y + height), (x, y + height))
        names = ("moveTo", "lineTo", "lineTo", "lineTo")
        self._path += [
            (name, self._placed(corner)) for name, corner in zip(names, corners, strict=True)
        ]
        self._path.append(("close", ()))

    def _on_clip(self) -> None:
        self._clips = True

    def _on_n(self) -> None:
        if self._clips:
            self._calls += [("saveState", ()), ("clip", (self._path,))]
            self._state.clips += 1
        self._path, self._clips = [], False

    def _paint(self, stroke: int, fill: int) -> None:
        if stroke:
            self._set("stroke", "setStrokeColorRGB")
            for look in ("setLineWidth", "setLineCap", "setLineJoin", "setDash"):
                self._set(look, look)
        if fill:
            self._set("fill", "setFillColorRGB")
        self._calls.append(("path", (self._path, stroke, fill)))
        self._path = []

    def _on_Do(self, name: Any) -> None:
        matrix = self._state.matrix
        size = (matrix.a, matrix.d)
        self._calls.append(("drawImage", (self._pictures[str(name)], matrix.e, matrix.f, *size)))

    def _on_BT(self) -> None:
        self._text = {"at": pikepdf.Matrix(), "leading": 0.0}
        self._words = []

    def _on_ET(self) -> None:
        start = self._words.pop(0)[1] if self._words else (0.0, 0.0)
        self._calls.append(("words", (start, self._words)))

    def _on_Tm(self, *given: Any) -> None:
        self._text["at"] = pikepdf.Matrix(*_plain(given))
        self._text["moved"] = True

    def _on_Td(self, *by: Any) -> None:
        self._text["at"] = pikepdf.Matrix(1, 0, 0, 1, *_plain(by)) @ self._text["at"]
        self._text["moved"] = True

    def _on_next_line(self) -> None:
        self._on_Td(0, -self._state.looks["leading"][0])

    def _on_Tf(self, name: Any, size: Any) -> None:
        self._state.looks["font"] = (str(name), float(size))

    def _on_Tj(self, told: Any) -> None:
        name, size = self._state.looks["font"]
        font, letters = self._fonts[name]
        way = self._text["at"] @ self._state.matrix
        size *= way.d
        if self._text.pop("moved", False):
            self._words.append(("setTextOrigin", (way.e, way.f)))
        if self._text.get("font") != (font, size):
            self._text["font"] = (font, size)
            self._words.append(("setFont", (font, size)))
        fill = self._state.looks.get("fill", (0.0, 0.0, 0.0))
        if self._known.get("fill") != fill:
            self._known["fill"] = fill
            self._words.append(("setFillColorRGB", fill))
        self._words.append(("_textOut", ("".join(letters[code] for code in bytes(told)),)))

    def _set(self, look: str, method: str) -> None:
        value = self._state.looks.get(look, _USUAL[look])
        if look == "setLineWidth":
            value = (value[0] * self._state.matrix.a,)
        if self._known.get(look, _USUAL[look]) != value:
            self._known[look] = value
            self._calls.append((method, value))

    def _placed(self, at: Any) -> tuple[float, ...]:
        flat = _plain(at)
        pairs = zip(flat[::2], flat[1::2], strict=True)
        return tuple(part for pair in pairs for part in self._state.matrix.transform(pair))


_SPELLED = {"T*": "next_line", "W": "clip", "W*": "clip"}
_LOOKS = {
    "rg": "fill",
    "RG": "stroke",
    "w": "setLineWidth",
    "J": "setLineCap",
    "j": "setLineJoin",
    "d": "setDash",
    "TL": "leading",
}
_USUAL: dict[str, tuple[Any, ...]] = {
    "fill": (0.0, 0.0, 0.0),
    "stroke": (0.0, 0.0, 0.0),
    "setLineWidth": (1.0,),
    "setLineCap": (0,),
    "setLineJoin": (0,),
    "setDash": ([], 0),
}
_TELLS_NOTHING = {"BMC", "BDC", "EMC"}


def _plain(given: Any) -> tuple[Any, ...]:
    """Numbers of a file as those of Python."""
    return tuple(
        [float(part) for part in one] if isinstance(one, pikepdf.Array) else float(one)
        for one in given
    )


def _picture(item: Any, folder: Path) -> str:
    if item.get("/Filter") not in ("/DCTDecode", pikepdf.Array([pikepdf.Name.DCTDecode])):
        raise ValueError("only pictures that are JPEG files are drawn again")
    path = folder / f"{item.objgen[0]}.jpg"
    path.write_bytes(item.read_raw_bytes())
    return str(path)


def _font(item: Any, fonts: Path) -> tuple[str, dict[int, str]]:
    """The name of a font, registered as the library does it, and its letters by their codes."""
    name = str(item.BaseFont).partition("+")[2]
    if _STOCK + name not in pdfmetrics.getRegisteredFontNames():
        path = min(fonts.glob(f"{name}*.ttf"), key=lambda file: len(file.stem))
        pdfmetrics.registerFont(TTFont(_STOCK + name, str(path)))
    pairs = _CHARACTER.findall(item.ToUnicode.read_bytes())
    return _STOCK + name, {
        int(code, 16): bytes.fromhex(letter.decode()).decode("utf-16-be") for code, letter in pairs
    }


def _path_on(canvas: Canvas, steps: list[Call]) -> PDFPathObject:
    path = canvas.beginPath()
    for name, given in steps:
        getattr(path, name)(*given)
    return path


def _draw_path(canvas: Canvas, steps: list[Call], stroke: int, fill: int) -> None:
    canvas.drawPath(_path_on(canvas, steps), stroke=stroke, fill=fill)


def _clip(canvas: Canvas, steps: list[Call]) -> None:
    canvas.clipPath(_path_on(canvas, steps), stroke=0, fill=0)


def _draw_words(canvas: Canvas, start: tuple[float, float], steps: list[Call]) -> None:
    text = canvas.beginText(*start)
    for name, given in steps:
        getattr(text, name)(*given)
    canvas.drawText(text)


_DRAWN: dict[str, Callable[..., None]] = {"path": _draw_path, "clip": _clip, "words": _draw_words}
