"""The start page and pages of a sample job look as they did, by small pictures in pages/.

They are drawn in processes of their own by `draw_window.py`: light and dark, with a font 6 points
larger, in a language with longer words, and at 125, 150 and 200 percent. Cells of eight by eight
points are compared, not points: letters may be drawn a little otherwise, a block may not move. To
draw the pictures anew after a wanted change, run once with WRITE_WINDOW_PICTURES=1 in the
environment and look at them before keeping them. Such a run never passes.

The least contrast of text, 4.5:1, is that of success criterion 1.4.3 of the Web Content
Accessibility Guidelines 2.1 (from memory).
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial
from pathlib import Path
from typing import Any, NamedTuple, cast

import pytest
from PIL import Image, ImageChops

from deskapp.catalog.files import PSEUDO
from deskapp.session.colors import READABLE, contrast
from deskapp.session.pages import PAGES

ROOT = Path(__file__).resolve().parents[2]
KEPT = Path(__file__).parent / "pages"
SWITCH = "WRITE_WINDOW_PICTURES"
SIZE = (1024, 768)
CELLS = (SIZE[0] // 8, SIZE[1] // 8)
NOTICED = 20
"""Levels, of 255, by which one color of a cell must differ to count."""
ALLOWED = 0.005
EVERY = ("start", *(page.id for page in PAGES))
FEW = ("start", "house", "readings", "result", "report")
DENSITIES = (1.25, 1.5, 2.0)


class Look(NamedTuple):
    """One way to draw the window."""

    appearance: str = "light"
    points: int = 10
    language: str = "en"
    density: float = 1.0


LOOKS = {
    "light": Look(),
    "dark": Look("dark"),
    "large": Look(points=16),
    "longer": Look(language=PSEUDO),
}
ALL = (*LOOKS.values(), *(Look(density=one) for one in DENSITIES), Look("dark", density=2.0))
Drawn = Callable[[Look], Path]


def draw(look: Look, folder: Path) -> Path:
    """Draw all pages in one way; return the folder."""
    folder.mkdir()
    command = [sys.executable, str(Path(__file__).with_name("draw_window.py")), str(folder)]
    command += [look.appearance, str(look.points), look.language]
    variables = {
        **os.environ,
        "PYTHONPATH": str(ROOT),
        "QT_QPA_PLATFORM": "offscreen",
        "QT_SCALE_FACTOR": str(look.density),
        "DUCTFOLIO_LANGUAGE": look.language,
    }
    made = subprocess.run(command, env=variables, capture_output=True, text=True, timeout=300)
    assert made.returncode == 0, made.stderr
    return folder


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Drawn]:
    """Where the pictures of a look are; they are drawn side by side, each once."""
    place = tmp_path_factory.mktemp("drawn")
    made: dict[Look, Future[Path]] = {}
    with ThreadPoolExecutor(2) as pool:

        def folder_of(look: Look) -> Path:
            for at, one in enumerate(ALL):
                if one not in made:
                    made[one] = pool.submit(partial(draw, one, place / str(at)))
            return made[look].result()

        yield folder_of
        pool.shutdown(cancel_futures=True)


def told(folder: Path, page: str) -> dict[str, list[Any]]:
    """What `draw_window.py` says of a page."""
    return json.loads((folder / "seen.json").read_text("utf-8"))["pages"][page]


def cells_of(file: Path) -> Image.Image:
    """The mean color of each cell of a picture, whatever its density."""
    with Image.open(file) as picture:
        return picture.convert("RGB").resize(CELLS, Image.Resampling.BOX)


def share_that_differs(one: Image.Image, other: Image.Image) -> float:
    """The share of the cells by which two pictures differ."""
    points = ImageChops.difference(one, other).tobytes()
    far = [max(points[at : at + 3]) > NOTICED for at in range(0, len(points), 3)]
    return sum(far) / len(far)


@pytest.mark.parametrize("page", FEW)
@pytest.mark.parametrize("look", LOOKS)
def test_that_a_page_looks_as_it_did(drawn: Drawn, look: str, page: str) -> None:
    folder = drawn(LOOKS[look])
    cells, kept = cells_of(folder / f"{page}.png"), KEPT / f"{page}_{look}.png"
    if os.environ.get(SWITCH):
        KEPT.mkdir(exist_ok=True)
        cells.save(kept, optimize=True)
        pytest.fail(f"{kept.name} was drawn anew; run again without {SWITCH}")
    with Image.open(kept) as before:
        assert share_that_differs(before.convert("RGB"), cells) <= ALLOWED
    assert told(folder, page)["wrong"] == []


@pytest.mark.parametrize("page", EVERY)
@pytest.mark.parametrize("density", DENSITIES)
def test_that_a_page_is_the_same_and_sharp_at_any_density(
    drawn: Drawn, density: float, page: str
) -> None:
    usual, dense = drawn(Look()), drawn(Look(density=density))
    with Image.open(dense / f"{page}.png") as picture:
        assert picture.size == tuple(round(side * density) for side in SIZE)
    one, other = (cells_of(folder / f"{page}.png") for folder in (usual, dense))
    assert share_that_differs(one, other) <= ALLOWED
    assert told(dense, page)["wrong"] == []


@pytest.mark.parametrize("page", EVERY)
@pytest.mark.parametrize("look", LOOKS)
def test_that_nothing_of_a_page_is_cut_or_scrolls_sideways(
    drawn: Drawn, look: str, page: str
) -> None:
    assert told(drawn(LOOKS[look]), page)["wrong"] == []


@pytest.mark.parametrize("page", EVERY)
@pytest.mark.parametrize("appearance", ["light", "dark"])
def test_that_all_words_on_a_page_can_be_read(drawn: Drawn, appearance: str, page: str) -> None:
    folder = drawn(Look(appearance, density=2.0))
    with Image.open(folder / f"{page}.png") as file:
        picture = file.convert("RGB")
    words = told(folder, page)["words"]
    assert len(words) > 8
    dim: list[tuple[str, float]] = []
    for text, (left, top, width, height) in words:
        box = (2 * left, 2 * top, 2 * (left + width), 2 * (top + height))
        part = picture.crop(box)
        if part.width < 8 or part.height < 8:
            continue  # words for a screen reader alone
        counts = part.getcolors(part.width * part.height) or []
        ground = hex_of(max(counts)[1])
        best = max(contrast(hex_of(color), ground) for _count, color in counts)
        if best < READABLE:
            dim.append((text, round(best, 2)))
    assert dim == []


def hex_of(color: object) -> str:
    """A color of a picture as #rrggbb."""
    assert isinstance(color, tuple)
    return "#" + "".join(f"{int(part):02x}" for part in cast("tuple[int, ...]", color))


def test_that_a_moved_block_would_be_seen(drawn: Drawn) -> None:
    with Image.open(drawn(Look()) / "house.png") as file:
        picture = file.convert("RGB")
    before = picture.resize(CELLS, Image.Resampling.BOX)
    for down in (3, 6, 12):
        moved = picture.copy()
        moved.paste(picture.crop((0, 256, SIZE[0], SIZE[1] - down)), (0, 256 + down))
        after = moved.resize(CELLS, Image.Resampling.BOX)
        assert share_that_differs(before, after) > 2 * ALLOWED, down
