"""The shapes that the drawings of the sample jobs are made of."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PIL import Image, ImageDraw, ImageFont, ImageOps

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

    def letters(self, text: str, at: Point, size: float) -> None:
        """Write plain text."""
        font = ImageFont.load_default(size=size * SCALE)
        self.draw.text((at[0] * SCALE, at[1] * SCALE), text, fill=INK, font=font)

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
