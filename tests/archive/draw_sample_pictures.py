"""Draw the pictures of the sample jobs; they are drawings and say so.

Run from the project folder: python tests/archive/draw_sample_pictures.py FOLDER
It writes the drawings to FOLDER and prints their digests, which the entries of the samples name.
"""

from __future__ import annotations

import io
import math
import sys
from collections.abc import Callable
from pathlib import Path

from sample_shapes import (
    BOARD,
    DARK,
    JACKET,
    SOIL,
    STEEL,
    STEEL_DARK,
    WIDTH,
    WOOD,
    Sheet,
)

from deskapp.archive.photo_files import take_in


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


def _garden() -> Sheet:
    sheet = Sheet(("#cfe3f1", "#e3eef5", "#f4f6f3"))
    sheet.face([(0, 680), (WIDTH, 680), (WIDTH, 848), (0, 848)], ("#b9cba4", "#a3b98c", "#8ea678"))
    sheet.face([(560, 700), (680, 700), (740, 848), (480, 848)], ("#d9d5cc", "#cbc6ba", "#b9b3a5"))
    return sheet


def _window(sheet: Sheet, x: float, y: float, width: float = 130, height: float = 120) -> None:
    frame = [(x, y), (x + width, y), (x + width, y + height), (x, y + height)]
    sheet.face(frame, ("#8fb0c4", "#b7cfdd", "#d9e6ee"))
    sheet.line([(x + width / 2, y), (x + width / 2, y + height)], "#ffffff", 5)
    sheet.line([(x, y + height / 2), (x + width, y + height / 2)], "#ffffff", 5)


def _open_door(sheet: Sheet, x: float, y: float, height: float) -> None:
    sheet.slit([(x, y), (x + 100, y), (x + 100, y + height), (x, y + height)])
    leaf = [(x, y), (x + 40, y + 16), (x + 40, y + height + 16), (x, y + height)]
    sheet.face(leaf, ("#b5714a", "#a3623e", "#8a5132"))


def two_story_front() -> Sheet:
    """The front of a two-story house being built, its door open."""
    sheet = _garden()
    wall = ("#f3efe6", "#e9e2d3", "#d8cfbc")
    sheet.face([(260, 260), (940, 260), (940, 700), (260, 700)], wall)
    sheet.face([(200, 270), (600, 90), (1000, 270)], ("#8d949a", "#7b838a", "#666e75"))
    sheet.line([(260, 480), (940, 480)], "#b3a88f", 6)
    for x in (320, 535, 750):
        _window(sheet, x, 320)
    for x in (320, 750):
        _window(sheet, x, 530)
    _open_door(sheet, 550, 520, 180)
    sheet.letters("14", (668, 570), 44)
    return sheet


def ranch_front() -> Sheet:
    """The front of a one-story house, its door open."""
    sheet = _garden()
    wall = ("#d9b79a", "#cba588", "#b58d70")
    sheet.face([(130, 430), (1070, 430), (1070, 700), (130, 700)], wall)
    sheet.face([(70, 440), (230, 250), (970, 250), (1130, 440)], ("#7d6a5c", "#6d5b4f", "#594a40"))
    for x in (200, 380, 760, 930):
        _window(sheet, x, 490, 110, 110)
    _open_door(sheet, 560, 510, 190)
    sheet.letters("220", (668, 560), 44)
    return sheet


def manufactured_front() -> Sheet:
    """The front of a manufactured home with skirting, its door shut."""
    sheet = _garden()
    sheet.face([(70, 350), (1130, 350), (1130, 620), (70, 620)], ("#eef1ee", "#e1e6e1", "#ced5ce"))
    sheet.face([(50, 360), (90, 290), (1110, 290), (1150, 360)], ("#9aa2a6", "#888f94", "#757c81"))
    sheet.face([(80, 620), (1120, 620), (1120, 700), (80, 700)], ("#c7c2b6", "#b9b3a5", "#a69f8f"))
    for x in range(80, 1130, 60):
        sheet.line([(x, 624), (x, 698)], "#8f887a", 2)
    for x in (150, 350, 780, 960):
        _window(sheet, x, 420, 120, 100)
    sheet.face([(560, 420), (660, 420), (660, 620), (560, 620)], ("#7f98a8", "#708a9b", "#5d7687"))
    sheet.face([(530, 620), (690, 620), (720, 700), (500, 700)], WOOD)
    sheet.letters("52", (684, 480), 44)
    return sheet


def _set_up(duct: str, signal: str) -> Sheet:
    sheet = Sheet(("#f6f3ec", "#efeae0", "#e2dccf"))
    sheet.face([(0, 720), (WIDTH, 720), (WIDTH, 848), (0, 848)], WOOD)
    sheet.face([(90, 300), (370, 300), (370, 560), (90, 560)], BOARD)
    sheet.hole(130, 330, 200, 200, "#9aa6ae")
    sheet.pipe(200, 370, 330, 150, JACKET)
    sheet.ribs(200, 370, 330, 150, 14)
    sheet.box(540, 330, 190, 390, 70)
    sheet.hole(562, 400, 146, 146, "#66747e")
    sheet.hole(596, 434, 78, 78, DARK)
    for x in (520, 730):
        sheet.line([(x, 720), (x + 20, 690)], width=6)
    sheet.box(880, 330, 230, 150, 30)
    sheet.face(
        [(900, 350), (1090, 350), (1090, 460), (900, 460)], ("#e8efe6", "#dde7da", "#cfdccb")
    )
    sheet.letters(f"{duct} Pa", (924, 356), 38)
    sheet.letters(f"{signal} Pa", (924, 408), 38)
    for x in (930, 1060):
        sheet.line([(995, 480), (x, 720)], width=6)
    tube = [(880, 440), (820, 540), (760, 560), (700, 500)]
    sheet.line(tube, "#6b757c", 7)
    sheet.line([(940, 330), (860, 200), (500, 150), (0, 140)], "#6b757c", 7)
    sheet.note("to the pressure tap", (90, 190), (140, 142))
    sheet.note("ring fitted", (430, 600), (586, 510))
    return sheet


def set_up_retrofit() -> Sheet:
    """Fan at the hall return, gauge reading the second run after sealing."""
    return _set_up("25.0", "49.6")


def set_up_manufactured() -> Sheet:
    """Fan at the furnace opening, gauge reading the run after the repair."""
    return _set_up("50.0", "162.2")


def set_up_new() -> Sheet:
    """Fan at the return box, gauge reading a depressurized run."""
    return _set_up("-25.0", "32.6")


PICTURES: dict[str, Callable[[], Sheet]] = {
    "front-14.jpg": two_story_front,
    "front-220.jpg": ranch_front,
    "front-52.jpg": manufactured_front,
    "set-up-hall.jpg": set_up_retrofit,
    "set-up-furnace.jpg": set_up_manufactured,
    "set-up-return-box.jpg": set_up_new,
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
    for name, scene in PICTURES.items():
        buffer = io.BytesIO()
        scene().finished().save(buffer, "JPEG", quality=95)
        photo, stored = take_in(buffer.getvalue(), name)
        (folder / f"{photo.digest}.jpg").write_bytes(stored)
        print(f"{name} {photo.digest} {len(stored) // 1000} kB")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
