"""What is drawn: where it goes, what lies under a pointer, and the lines it is made of."""

from __future__ import annotations

from math import hypot

import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import ValidationError

from deskapp.domain.drawing import DRAGGED, Item, Shape
from deskapp.domain.drawing_edit import (
    Sides,
    Spot,
    end_of,
    found_at,
    from_to,
    is_drawn,
    moved,
    snapped,
    start_of,
    trimmed,
)
from deskapp.domain.ink import DARK, WHITE, Letters, Oval, Piece, Stroke, inked, pieces
from deskapp.domain.leak import Photo
from deskapp.domain.sketch import Sketch

SHARES = st.floats(0.0, 1.0)
ITEMS = st.builds(Item, shape=st.sampled_from(Shape), x=SHARES, y=SHARES, to_x=SHARES, to_y=SHARES)
SIDES = Sides(400.0, 300.0)
ARROW = Item(shape=Shape.ARROW, x=0.25, y=0.5, to_x=0.75, to_y=0.5)


def measure(text: str, size: float) -> float:
    return 0.6 * size * len(text)


def painted(item: Item, of_leak: str = "", scale: float = 1.0) -> tuple[Piece, ...]:
    return pieces(inked((item,), {}, of_leak), 400 * scale, 300 * scale, 10 * scale, measure)


def test_that_a_place_off_the_sheet_is_refused():
    with pytest.raises(ValidationError):
        Item(shape=Shape.ARROW, x=1.2, y=0.0)


def test_that_photos_and_sketches_take_only_shapes_of_their_own():
    wall = Item(shape=Shape.WALL, x=0.1, y=0.1, to_x=0.2, to_y=0.1)
    with pytest.raises(ValidationError):
        Photo(digest="d", marks=(wall,))
    with pytest.raises(ValidationError):
        Sketch(items=(ARROW,))


@given(ITEMS, st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_that_a_thing_moved_keeps_its_shape_and_stays_on_the_sheet(item, across, down):
    there = moved(item, across, down)
    Item.model_validate(there.model_dump())
    before, after = (start_of(item), end_of(item)), (start_of(there), end_of(there))
    assert after[1].x - after[0].x == pytest.approx(before[1].x - before[0].x, abs=1e-9)
    assert after[1].y - after[0].y == pytest.approx(before[1].y - before[0].y, abs=1e-9)


@given(ITEMS, st.floats(-3.0, 3.0), st.floats(-3.0, 3.0))
def test_that_both_ends_are_brought_onto_the_sheet(item, x, y):
    there = from_to(item, Spot(x, y), Spot(y, x))
    Item.model_validate(there.model_dump())
    assert (there.to_x, there.to_y) == (0.0, 0.0) or there.shape in DRAGGED


@given(SHARES, SHARES)
def test_that_the_grid_has_square_cells(x, y):
    there = snapped(Spot(x, y), SIDES)
    cell = SIDES.width / 40
    for length in (there.x * SIDES.width, there.y * SIDES.height):
        assert length / cell == pytest.approx(round(length / cell), abs=1e-9)
    away = hypot((there.x - x) * SIDES.width, (there.y - y) * SIDES.height)
    assert away <= cell * 0.71 + 1e-9


def test_that_the_thing_drawn_last_is_found_and_one_out_of_reach_is_not():
    circle = Item(shape=Shape.CIRCLE, x=0.4, y=0.4, to_x=0.6, to_y=0.6)
    items = (ARROW, circle)
    assert found_at(items, Spot(0.3, 0.51), SIDES, 5.0) == 0
    assert found_at(items, Spot(0.4, 0.5), SIDES, 5.0) == 1
    assert found_at(items, Spot(0.5, 0.5), SIDES, 5.0) == 0
    assert found_at(items, Spot(0.1, 0.1), SIDES, 5.0) == -1


def test_that_the_distance_from_a_line_is_that_of_plane_geometry():
    # The foot of the perpendicular: 0.1 of 300 is 30, so that a reach of 29 is too short.
    assert found_at((ARROW,), Spot(0.5, 0.6), SIDES, 29.0) == -1
    assert found_at((ARROW,), Spot(0.5, 0.6), SIDES, 31.0) == 0


def test_that_the_empty_rim_of_a_blank_sketch_is_cut_away_and_nothing_is_warped():
    room = Item(shape=Shape.ROOM, x=0.2, y=0.2, to_x=0.8, to_y=0.5)
    ((there,), sides) = trimmed(Sketch(items=(room,)))
    before = (0.8 - 0.2) * 4 / ((0.5 - 0.2) * 3)
    after = (there.to_x - there.x) * sides.width / ((there.to_y - there.y) * sides.height)
    assert after == pytest.approx(before)
    assert there.to_x - there.x > 0.8
    plan = Photo(digest="d", width=100, height=50)
    assert trimmed(Sketch(items=(room,), plan=plan)) == ((room,), (100.0, 50.0))


def test_that_a_stroke_too_short_to_be_meant_is_told_from_one_that_is():
    assert not is_drawn(from_to(ARROW, Spot(0.5, 0.5), Spot(0.505, 0.5)), SIDES)
    assert is_drawn(ARROW, SIDES)


def test_that_an_arrow_ends_where_it_points():
    strokes = [piece for piece in painted(ARROW) if isinstance(piece, Stroke)]
    head = strokes[-1]
    assert head.filled
    assert max(head.points) == (300.0, 150.0)


@pytest.mark.parametrize("shape", [Shape.ARROW, Shape.CIRCLE, Shape.WALL, Shape.ROOM])
def test_that_every_line_is_dark_with_a_wider_white_one_below(shape):
    item = ARROW.model_copy(update={"shape": shape, "to_y": 0.8})
    lines = [p for p in painted(item) if isinstance(p, Stroke | Oval) and p.width > 0]
    whites = [line.width for line in lines if line.color == WHITE]
    darks = [line.width for line in lines if line.color == DARK]
    assert whites
    assert darks
    assert max(whites) > max(darks)
    assert lines[0].color == WHITE


def test_that_a_mark_shows_the_number_of_its_leak_unless_it_has_words_of_its_own():
    def letters(item: Item) -> list[str]:
        return [piece.text for piece in painted(item, "7") if isinstance(piece, Letters)]

    assert letters(ARROW) == ["7"]
    assert letters(ARROW.model_copy(update={"text": "gap"})) == ["gap"]
    assert [p for p in painted(ARROW) if isinstance(p, Letters)] == []


def test_that_a_long_label_stands_in_a_bar_that_holds_it():
    label = Item(shape=Shape.LABEL, x=0.5, y=0.5, text="open all around")
    bar = next(p for p in painted(label) if isinstance(p, Stroke) and p.color == DARK)
    length = bar.points[1].x - bar.points[0].x + bar.width
    assert length > measure("open all around", 10.0)


@given(ITEMS)
def test_that_a_drawing_twice_the_size_has_all_lines_at_twice_the_place(item):
    for small, large in zip(painted(item, "1"), painted(item, "1", 2.0), strict=True):
        assert type(small) is type(large)
        if isinstance(small, Stroke) and isinstance(large, Stroke):
            for one, other in zip(small.points, large.points, strict=True):
                assert other == pytest.approx((2 * one.x, 2 * one.y), abs=1e-6)


def test_that_a_register_to_mend_is_larger_and_has_a_second_outline():
    register = Item(shape=Shape.REGISTER, x=0.5, y=0.5, refers="p1")
    plain = pieces(inked((register,), {"p1": "3"}), 400, 300, 10, measure)
    heavy = pieces(inked((register,), {"p1": "3"}, heavy=["p1"]), 400, 300, 10, measure)
    assert len(heavy) == len(plain) + 1
    assert [p.text for p in heavy if isinstance(p, Letters)] == ["3"]
    reach = [max(p.points[2].x for p in some if isinstance(p, Stroke)) for some in (plain, heavy)]
    assert reach[1] > reach[0]


def test_that_the_edge_of_one_wall_never_cuts_another():
    walls = tuple(
        Item(shape=Shape.WALL, x=0.1, y=share, to_x=0.9, to_y=1.0 - share) for share in (0.2, 0.8)
    )
    colors = [p.color for p in pieces(inked(walls, {}), 400, 300, 10, measure)]
    assert colors == [WHITE, WHITE, DARK, DARK]
