"""Draw the pictures of the sample jobs; they are drawings and say so.

Run from the project folder: python tests/archive/draw_sample_pictures.py FOLDER
It writes the drawings to FOLDER and prints their digests, which the entries of the samples name.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Sequence
from pathlib import Path

from PIL import Image, ImageDraw, ImageFont, ImageOps

from deskapp.archive.photo_files import take_in

SCALE = 2
WIDTH, HEIGHT = 1200, 900
INK = "#2b3a42"
DARK = "#14191d"
AIR = "#2a78a8"
MARK = "#b3431f"

Point = tuple[float, float]
Tones = tuple[str, str, str]

STEEL: Tones = ("#dfe5e9", "#b4c0c8", "#7f8e98")
STEEL_DARK: Tones = ("#b9c4cb", "#93a1aa", "#66747e")
WOOD: Tones = ("#e8cfa4", "#d6b784", "#b8935c")
JACKET: Tones = ("#f4f4f2", "#cfd3d6", "#8f979d")
BOARD: Tones = ("#f7f4ee", "#ece7dd", "#d9d2c4")
SOIL: Tones = ("#b9a58c", "#9a866e", "#7a6853")


class Sheet:
    """A canvas with the few shapes that ducts are made of; coordinates in pixels of the result."""

    def __init__(self, sky: Tones = ("#f3f5f6", "#e9edef", "#d8dee2")) -> None:
        self.image = Image.new("RGB", (WIDTH * SCALE, HEIGHT * SCALE))
        self.draw = ImageDraw.Draw(self.image)
        self.face([(0, 0), (WIDTH, 0), (WIDTH, HEIGHT), (0, HEIGHT)], sky, outline=False)

    def face(
        self, corners: Sequence[Point], tones: Tones, *, turned: bool = False, outline: bool = True
    ) -> None:
        """Fill a polygon with a run of tones, from top to bottom or from left to right."""
        points = [(x * SCALE, y * SCALE) for x, y in corners]
        left, top = (int(min(axis)) for axis in zip(*points, strict=True))
        right, bottom = (int(max(axis)) + 1 for axis in zip(*points, strict=True))
        ramp = Image.linear_gradient("L")
        if turned:
            ramp = ramp.rotate(90)
        size = (max(1, right - left), max(1, bottom - top))
        colors = ImageOps.colorize(ramp.resize(size), tones[0], tones[2], mid=tones[1])
        mask = Image.new("L", size, 0)
        ImageDraw.Draw(mask).polygon([(x - left, y - top) for x, y in points], fill=255)
        self.image.paste(colors, (left, top), mask)
        if outline:
            self.line([*corners, corners[0]])

    def box(self, x: float, y: float, width: float, height: float, depth: float = 60) -> None:
        """Draw a metal box seen from its front and a little from above and the right."""
        lift = depth * 0.6
        top = [(x, y), (x + depth, y - lift), (x + width + depth, y - lift), (x + width, y)]
        side = [
            (x + width, y),
            (x + width + depth, y - lift),
            (x + width + depth, y + height - lift),
            (x + width, y + height),
        ]
        front = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
        self.face(top, ("#eef2f4", "#e3e9ec", "#d3dbe0"))
        self.face(side, STEEL_DARK)
        self.face(front, STEEL)

    def pipe(self, x: float, y: float, width: float, height: float, tones: Tones = STEEL) -> None:
        """Draw a round duct lying across, with its rounded ends."""
        bulge = height * 0.16
        steps = [math.pi * step / 24 for step in range(25)]
        right = [
            (x + width + bulge * math.sin(a), y + height / 2 - height / 2 * math.cos(a))
            for a in steps
        ]
        left = [(x + bulge * math.sin(a), y + height / 2 + height / 2 * math.cos(a)) for a in steps]
        self.face([(x, y), *right, (x, y + height), *left], tones)

    def upright(
        self, x: float, y: float, width: float, height: float, tones: Tones = STEEL
    ) -> None:
        """Draw a round duct standing."""
        bulge = width * 0.14
        steps = [math.pi * step / 24 for step in range(25)]
        low = [
            (x + width / 2 + width / 2 * math.cos(a), y + height + bulge * math.sin(a))
            for a in steps
        ]
        high = [(x + width / 2 - width / 2 * math.cos(a), y - bulge * math.sin(a)) for a in steps]
        self.face([*high, *low], tones, turned=True)
        self.arc((x, y - bulge, x + width, y + bulge), 0, 180)

    def ribs(self, x: float, y: float, width: float, height: float, count: int) -> None:
        """Draw the ribs of flexible duct over a round duct lying across."""
        for number in range(1, count):
            left = x + width * number / count
            self.arc((left - height * 0.16, y, left + height * 0.16, y + height), -90, 90)

    def hole(self, x: float, y: float, width: float, height: float, color: str = DARK) -> None:
        """Draw a dark opening, round or flat, or another round patch."""
        self.draw.ellipse(self._scaled((x, y, x + width, y + height)), fill=color)

    def slit(self, corners: Sequence[Point]) -> None:
        """Draw a dark gap with straight edges."""
        self.draw.polygon([(x * SCALE, y * SCALE) for x, y in corners], fill=DARK)

    def line(self, points: Sequence[Point], color: str = INK, width: float = 2.5) -> None:
        """Draw a line through points."""
        scaled = [(x * SCALE, y * SCALE) for x, y in points]
        self.draw.line(scaled, fill=color, width=round(width * SCALE), joint="curve")

    def arc(self, box: tuple[float, float, float, float], start: float, end: float) -> None:
        """Draw part of an ellipse."""
        self.draw.arc(self._scaled(box), start, end, fill=INK, width=round(2 * SCALE))

    def dots(self, points: Sequence[Point], size: float = 6) -> None:
        """Draw screw heads."""
        for x, y in points:
            box = self._scaled((x - size, y - size, x + size, y + size))
            self.draw.ellipse(box, fill="#eef1f3", outline=INK, width=SCALE)
            self.line([(x - size / 2, y), (x + size / 2, y)], width=1.2)

    def air(self, x: float, y: float, degrees: float, *, length: float = 120) -> None:
        """Draw three wavy lines of moving air, ending in arrow heads."""
        turn = math.radians(degrees)
        across = (-math.sin(turn), math.cos(turn))
        for offset, share in ((-26, 0.8), (0, 1.0), (26, 0.8)):
            reach = length * share
            path: list[Point] = []
            for step in range(41):
                along = reach * step / 40
                sway = offset + 7 * math.sin(along / 15)
                path.append(
                    (
                        x + along * math.cos(turn) + sway * across[0],
                        y + along * math.sin(turn) + sway * across[1],
                    )
                )
            self.line(path, AIR, 4)
            self._head(path[-1], turn, AIR, 15)

    def note(self, text: str, at: Point, target: Point) -> None:
        """Write a word on a light plate and point with it."""
        font = ImageFont.load_default(size=34 * SCALE)
        x, y = at
        left, top, right, bottom = self.draw.textbbox((x * SCALE, y * SCALE), text, font=font)
        pad = 14 * SCALE
        plate = (left - pad, top - pad, right + pad, bottom + pad)
        center = ((left + right) / 2 / SCALE, (top + bottom) / 2 / SCALE)
        turn = math.atan2(target[1] - center[1], target[0] - center[0])
        self.line([center, target], MARK, 5)
        self._head(target, turn, MARK, 24)
        self.draw.rounded_rectangle(
            plate, 12 * SCALE, fill="#ffffff", outline=MARK, width=2 * SCALE
        )
        self.draw.text((x * SCALE, y * SCALE), text, fill=INK, font=font)

    def finished(self) -> Image.Image:
        """Return the picture with its foot line, in its final size."""
        self.draw.rectangle(self._scaled((0, HEIGHT - 52, WIDTH, HEIGHT)), fill="#ffffff")
        font = ImageFont.load_default(size=24 * SCALE)
        words = "Drawing for a sample job, not a photograph. Everything in it is invented."
        self.draw.text((24 * SCALE, (HEIGHT - 40) * SCALE), words, fill="#4c5a63", font=font)
        return self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)

    def _head(self, tip: Point, turn: float, color: str, size: float) -> None:
        wings = [
            (tip[0] - size * math.cos(turn + spread), tip[1] - size * math.sin(turn + spread))
            for spread in (-0.45, 0.45)
        ]
        points = [(x * SCALE, y * SCALE) for x, y in (tip, *wings)]
        self.draw.polygon(points, fill=color)

    def _scaled(self, box: tuple[float, float, float, float]) -> tuple[float, float, float, float]:
        return (box[0] * SCALE, box[1] * SCALE, box[2] * SCALE, box[3] * SCALE)


def _joists(sheet: Sheet, y: float, height: float) -> None:
    for x in range(-40, WIDTH, 330):
        sheet.face([(x, y), (x + 70, y), (x + 70, y + height), (x, y + height)], WOOD, turned=True)


def collar_north() -> Sheet:
    """An open collar at a trunk in a roof space."""
    sheet = Sheet()
    _joists(sheet, 0, 240)
    sheet.box(-40, 430, 1190, 260, 120)
    for x in (270, 940):
        sheet.line([(x, 430), (x, 690)])
        sheet.line([(x, 430), (x + 120, 358)])
    sheet.hole(488, 352, 268, 92)
    sheet.upright(528, 300, 174, 80)
    sheet.upright(520, 60, 190, 256, JACKET)
    for y in range(80, 284, 26):
        sheet.arc((520, y - 14, 710, y + 40), 0, 180)
    sheet.air(470, 392, 200)
    sheet.air(772, 392, -20)
    sheet.note("open all around", (800, 180), (742, 366))
    return sheet


def return_box() -> Sheet:
    """A return box between ceiling joists with two open edges."""
    sheet = Sheet()
    _joists(sheet, 0, 640)
    sheet.face([(0, 640), (WIDTH, 640), (WIDTH, 848), (0, 848)], BOARD)
    sheet.box(330, 300, 470, 340, 110)
    sheet.slit([(330, 296), (800, 290), (800, 312), (330, 304)])
    sheet.slit([(796, 300), (816, 296), (822, 640), (796, 640)])
    sheet.dots([(350, 340), (350, 600), (770, 340), (770, 600)])
    sheet.face([(380, 690), (770, 690), (770, 790), (380, 790)], ("#ffffff", "#f4f6f7", "#e3e8eb"))
    for y in range(706, 790, 16):
        sheet.line([(392, y), (758, y)], "#9aa6ae", 2)
    sheet.air(560, 150, 90)
    sheet.air(990, 470, 180)
    sheet.note("two open edges", (840, 250), (812, 360))
    return sheet


def closet_return() -> Sheet:
    """A return plenum with an open seam beside a water heater."""
    sheet = Sheet(("#f6f3ec", "#efeae0", "#e2dccf"))
    sheet.face([(0, 780), (WIDTH, 780), (WIDTH, 848), (0, 848)], WOOD)
    sheet.box(120, 420, 360, 360, 70)
    sheet.box(150, 120, 300, 300, 60)
    sheet.line([(150, 270), (450, 270)])
    sheet.slit([(146, 414), (454, 404), (454, 426), (146, 424)])
    sheet.face([(190, 520), (410, 520), (410, 700), (190, 700)], STEEL_DARK)
    for y in range(540, 700, 22):
        sheet.line([(206, y), (394, y)], width=2)
    sheet.upright(760, 330, 230, 440, ("#fbfbfa", "#e3e5e6", "#a9b0b4"))
    sheet.face([(840, 690), (910, 690), (910, 750), (840, 750)], STEEL_DARK)
    sheet.face([(820, 250), (930, 250), (960, 316), (790, 316)], STEEL)
    sheet.upright(838, 0, 74, 240)
    sheet.air(650, 414, 180, length=150)
    sheet.note("suction here", (500, 560), (450, 424))
    sheet.note("burner close by", (880, 600), (876, 690))
    return sheet


def plenum_collars() -> Sheet:
    """A gap around one of three collars of a supply plenum."""
    sheet = Sheet()
    sheet.box(60, 190, 520, 560, 130)
    for y, gap in ((196, False), (410, True), (610, False)):
        if gap:
            sheet.hole(606, y - 38, 78, 178)
        else:
            sheet.hole(616, y - 6, 50, 114, "#d8c69f")
        sheet.pipe(644, y + 6, 120, 90)
        sheet.pipe(740, y, 400, 102, JACKET)
        sheet.ribs(740, y, 400, 102, 14)
    sheet.dots([(90, 220), (550, 220), (90, 720), (550, 720)])
    sheet.air(694, 362, -8, length=110)
    sheet.air(694, 558, 8, length=110)
    sheet.note("gap at the collar", (200, 430), (612, 456))
    return sheet


def torn_flex() -> Sheet:
    """A torn flexible duct lying over joists."""
    sheet = Sheet(("#e6e2da", "#d9d3c8", "#c6beb0"))
    _joists(sheet, 600, 248)
    for x in range(0, WIDTH, 44):
        low = 640 + 14 * math.sin(x)
        sheet.hole(x - 20, low, 90, 860 - low, "#e7b7b0")
    sheet.pipe(-60, 330, 1260, 260, JACKET)
    sheet.ribs(-60, 330, 1260, 260, 26)
    tear = [
        (520, 352), (590, 338), (668, 362), (742, 344), (780, 420), (744, 470),
        (770, 540), (676, 520), (610, 566), (560, 500), (500, 528), (530, 440),
    ]  # fmt: skip
    sheet.face(tear, ("#e9c7a0", "#e2b58a", "#c99666"))
    inner = [(562, 402), (640, 384), (720, 412), (728, 480), (650, 498), (590, 520), (556, 462)]
    sheet.slit(inner)
    for x in (600, 650, 700):
        sheet.arc((x - 20, 396, x + 20, 506), -90, 90)
    sheet.air(640, 330, -90)
    sheet.note("torn liner", (860, 190), (742, 400))
    return sheet


def floor_boot() -> Sheet:
    """A boot that does not meet the floor, seen from the side as a cut."""
    sheet = Sheet()
    sheet.face([(0, 300), (WIDTH, 300), (WIDTH, 330), (0, 330)], ("#c99f6b", "#bb8f5a", "#a67a47"))
    sheet.face([(0, 330), (WIDTH, 330), (WIDTH, 400), (0, 400)], WOOD)
    sheet.slit([(420, 298), (780, 298), (780, 402), (420, 402)])
    sheet.face([(462, 312), (738, 312), (738, 470), (462, 470)], STEEL)
    sheet.face([(462, 470), (738, 470), (800, 640), (400, 640)], STEEL)
    sheet.pipe(800, 530, 420, 120, JACKET)
    sheet.ribs(800, 530, 420, 120, 14)
    sheet.face([(396, 286), (804, 286), (804, 300), (396, 300)], ("#f3efe7", "#e3dccd", "#cfc5b0"))
    for x in range(430, 790, 28):
        sheet.line([(x, 288), (x, 298)], "#8d8471", 4)
    for x in (90, 1010):
        sheet.face([(x, 400), (x + 90, 400), (x + 90, 640), (x, 640)], WOOD, turned=True)
    sheet.face([(0, 780), (WIDTH, 760), (WIDTH, 848), (0, 848)], SOIL)
    sheet.air(440, 420, 120, length=100)
    sheet.air(760, 420, 60, length=80)
    sheet.note("open to the crawl space", (60, 690), (438, 402))
    return sheet


def filter_slot() -> Sheet:
    """A filter slot without a cover."""
    sheet = Sheet(("#f6f3ec", "#efeae0", "#e2dccf"))
    sheet.face([(0, 790), (WIDTH, 790), (WIDTH, 848), (0, 848)], WOOD)
    sheet.box(440, 120, 520, 660, 130)
    sheet.line([(440, 400), (960, 400)])
    sheet.face([(500, 470), (900, 470), (900, 720), (500, 720)], STEEL_DARK)
    sheet.dots([(520, 490), (880, 490), (520, 700), (880, 700)])
    sheet.box(-80, 200, 440, 170, 60)
    sheet.slit([(360, 176), (442, 176), (442, 384), (360, 384)])
    fold = [(372, 150), (430, 150), (430, 392), (372, 392)]
    sheet.face(fold, ("#fdfdfc", "#efeee9", "#d9d7cd"))
    for y in range(164, 390, 14):
        sheet.line([(372, y), (401, y + 7), (430, y)], "#a9a799", 2)
    sheet.air(400, 30, 90, length=100)
    sheet.air(400, 510, -90, length=100)
    sheet.note("no cover on the slot", (60, 560), (366, 396))
    return sheet


def crossover() -> Sheet:
    """A crossover duct off its collar under a manufactured home."""
    sheet = Sheet(("#e4e7e8", "#d5d9da", "#c0c5c7"))
    sheet.face([(0, 0), (WIDTH, 0), (WIDTH, 150), (0, 150)], ("#9aa6ad", "#8a969d", "#77838a"))
    for x in (180, 940):
        sheet.face([(x, 110), (x + 60, 110), (x + 60, 250), (x, 250)], STEEL_DARK, turned=True)
    sheet.face([(0, 690), (WIDTH, 670), (WIDTH, 848), (0, 848)], SOIL)
    sheet.upright(330, 150, 150, 110)
    sheet.upright(760, 150, 150, 110)
    sheet.upright(322, 230, 166, 250, JACKET)
    for y in range(270, 470, 26):
        sheet.arc((322, y - 14, 488, y + 30), 0, 180)
    sheet.pipe(536, 560, 284, 160, JACKET)
    sheet.ribs(562, 560, 258, 160, 10)
    quarter = [math.pi / 2 * step / 20 for step in range(21)]
    outer = [(562 - 240 * math.cos(a), 480 + 240 * math.sin(a)) for a in quarter]
    inner = [(562 - 74 * math.cos(a), 480 + 80 * math.sin(a)) for a in reversed(quarter)]
    sheet.face([*outer, *inner], JACKET)
    for a in quarter[3::3]:
        sheet.line(
            [
                (562 - 240 * math.cos(a), 480 + 240 * math.sin(a)),
                (562 - 74 * math.cos(a), 480 + 80 * math.sin(a)),
            ],
            width=2,
        )
    sheet.hole(806, 556, 66, 168)
    sheet.hole(764, 236, 142, 44)
    sheet.air(836, 300, 90, length=110)
    sheet.note("collar came off", (930, 330), (878, 278))
    sheet.note("run on the ground", (40, 760), (600, 716))
    return sheet


PICTURES: dict[str, Callable[[], Sheet]] = {
    "collar-north.jpg": collar_north,
    "return-box.jpg": return_box,
    "closet-return.jpg": closet_return,
    "plenum-collars.jpg": plenum_collars,
    "torn-flex.jpg": torn_flex,
    "floor-boot.jpg": floor_boot,
    "filter-slot.jpg": filter_slot,
    "crossover.jpg": crossover,
}


def main(folder: Path) -> None:
    """Draw all pictures into `folder`, each named by its digest."""
    import io

    for name, scene in PICTURES.items():
        buffer = io.BytesIO()
        scene().finished().save(buffer, "JPEG", quality=95)
        photo, stored = take_in(buffer.getvalue(), name)
        (folder / f"{photo.digest}.jpg").write_bytes(stored)
        print(f"{name} {photo.digest} {len(stored) // 1000} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
