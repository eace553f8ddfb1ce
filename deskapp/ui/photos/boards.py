"""What can be drawn on: a photo, or the sketch of the house."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from deskapp.domain.drawing import Item, Shape
from deskapp.domain.drawing_edit import Sides
from deskapp.domain.fields import label_of
from deskapp.domain.ink import Inked, inked
from deskapp.i18n import N_, _
from deskapp.ui.glyphs import Glyph

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.i18n import Said
    from deskapp.session.options import Option
    from deskapp.ui.bridge import Bridge


@dataclass(frozen=True, slots=True)
class Tool:
    """Something to draw with; without a shape it selects and moves. `keys` pick it."""

    label: str
    glyph: Glyph
    keys: str
    shape: Shape | None = None
    is_marker: bool = False


_SELECT = Tool(N_("Select"), Glyph.POINTER, "1")
_PHOTO_TOOLS = (
    _SELECT,
    Tool(N_("Arrow"), Glyph.ARROW, "2", Shape.ARROW),
    Tool(N_("Circle"), Glyph.BLANK, "3", Shape.CIRCLE),
    Tool(N_("Number"), Glyph.NUMBER, "4", Shape.LABEL),
)
_SKETCH_TOOLS = (
    _SELECT,
    Tool(N_("Wall"), Glyph.WALL, "2", Shape.WALL),
    Tool(N_("Room"), Glyph.ROOM, "3", Shape.ROOM),
    Tool(N_("Text"), Glyph.TEXT, "4", Shape.TEXT),
    Tool(N_("Marker"), Glyph.NUMBER, "5", Shape.LEAK, is_marker=True),
)


class Board:
    """A sheet with things drawn on it, kept in the job."""

    title = ""
    hint = ""
    tools: tuple[Tool, ...] = (_SELECT,)
    has_grid = False
    takes_plan = False
    letter_share = 1 / 32
    """Size of letters as a share of the width."""

    def __init__(self, bridge: Bridge) -> None:
        self.bridge = bridge

    @property
    def is_there(self) -> bool:
        """Whether the job still has this sheet."""
        return True

    @property
    def items(self) -> tuple[Item, ...]:
        """What is drawn."""
        return ()

    @property
    def sides(self) -> Sides:
        """Width and height of the sheet."""
        return Sides(4.0, 3.0)

    @property
    def picture(self) -> bytes:
        """The picture below; empty for a blank sheet."""
        return b""

    @property
    def markers(self) -> tuple[Option, ...]:
        """What markers can stand for."""
        return ()

    def inked(self, items: tuple[Item, ...]) -> tuple[Inked, ...]:
        """Return things with the labels they show."""
        raise AssertionError(items)

    def write(self, items: tuple[Item, ...], words: Said, merge: str = "") -> None:
        """Keep other things in the job; `words` name the step."""
        raise AssertionError(items, words, merge)

    def words_for(self, item: Item) -> str:
        """Return words for one thing."""
        return self.says(item)()

    def says(self, item: Item) -> Callable[[], str]:
        """Return what says which thing it is, as it stands in the job now."""
        from deskapp.session.drawing import words_for

        return partial(words_for, item, self.bridge.editor.job)


class PhotoBoard(Board):
    """A picture of a leak or of the job, to draw marks on."""

    hint = N_(
        "Drag to draw. Tab goes from mark to mark, arrow keys move the one selected, "
        "Alt with arrow keys its other end, Delete removes it."
    )
    tools = _PHOTO_TOOLS

    def __init__(self, bridge: Bridge, path: str) -> None:
        super().__init__(bridge)
        photo = bridge.value_at(path)
        self.path = path
        self._digest: str = photo.digest
        self.title = label_of(path)

    @property
    def is_there(self) -> bool:
        """Whether the picture is still at its place."""
        photo = self.bridge.value_at(self.path)
        return photo is not None and photo.digest == self._digest

    @property
    def items(self) -> tuple[Item, ...]:
        """The marks."""
        return self.bridge.value_at(self.path).marks if self.is_there else ()

    @property
    def sides(self) -> Sides:
        """Width and height of the picture."""
        photo = self.bridge.value_at(self.path)
        return Sides(float(photo.width or 4), float(photo.height or 3))

    @property
    def picture(self) -> bytes:
        """The picture."""
        return self.bridge.editor.photos.get(self._digest, b"")

    def inked(self, items: tuple[Item, ...]) -> tuple[Inked, ...]:
        """Return marks with the number of the leak."""
        return inked(items, {}, self._number)

    def write(self, items: tuple[Item, ...], words: Said, merge: str = "") -> None:
        """Keep other marks."""
        from deskapp.session.drawing import draw_on_photo

        self.bridge.settle()
        draw_on_photo(self.bridge.editor, self.path, items, words, merge)

    def says(self, item: Item) -> Callable[[], str]:
        """Return what says which mark it is."""
        from deskapp.session.drawing import words_for

        return partial(words_for, item, self.bridge.editor.job, self._number)

    @property
    def _number(self) -> str:
        from deskapp.session.drawing import leak_number_at

        return leak_number_at(self.bridge.editor.job, self.path) if self.is_there else ""


class SketchBoard(Board):
    """The sketch of the house."""

    title = N_("Sketch of the house")
    hint = N_(
        "Drag to draw. Tab goes from one thing to the next, arrow keys move the one selected, "
        "Alt with arrow keys its other end, Delete removes it. Nothing is to scale."
    )
    tools = _SKETCH_TOOLS
    has_grid = True
    takes_plan = True
    letter_share = 1 / 48

    @property
    def items(self) -> tuple[Item, ...]:
        """What is drawn."""
        return self.bridge.editor.job.sketch.items

    @property
    def sides(self) -> Sides:
        """Width and height of the sheet or plan."""
        width, height = self.bridge.editor.job.sketch.sides
        return Sides(float(width), float(height))

    @property
    def picture(self) -> bytes:
        """The plan."""
        plan = self.bridge.editor.job.sketch.plan
        return b"" if plan is None else self.bridge.editor.photos.get(plan.digest, b"")

    @property
    def markers(self) -> tuple[Option, ...]:
        """Leaks and registers."""
        from deskapp.session.drawing import wanted_markers

        return wanted_markers(self.bridge.editor.job)

    def inked(self, items: tuple[Item, ...]) -> tuple[Inked, ...]:
        """Return things with the numbers of leaks and registers."""
        from deskapp.session.drawing import row_numbers

        return inked(items, row_numbers(self.bridge.editor.job))

    def write(self, items: tuple[Item, ...], words: Said, merge: str = "") -> None:
        """Keep another sketch."""
        from deskapp.session.drawing import draw_sketch

        self.bridge.settle()
        draw_sketch(self.bridge.editor, items, words, merge)


def tool_words(tool: Tool) -> str:
    """Return name and key of a tool."""
    return _("{tool} (key {key})").format(tool=_(tool.label), key=tool.keys)
