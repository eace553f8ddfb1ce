"""Drawing on photos and on the sketch of the house, by mouse and by keys. All of it is invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, QRect, Qt
from pytestqt.qtbot import QtBot
from resting import rest

from deskapp.domain.drawing import Item, Shape
from deskapp.session import photos
from deskapp.session.photo_intake import offered_file, take_in_all
from deskapp.ui.pages.leaks_page import LeaksPage
from deskapp.ui.photos.boards import PhotoBoard, SketchBoard
from deskapp.ui.photos.drawing_dialog import DrawingDialog
from deskapp.ui.tasks import Mailbox
from deskapp.ui.workbench import Workbench

LEFT = Qt.MouseButton.LeftButton
ALT = Qt.KeyboardModifier.AltModifier


@pytest.fixture
def marks(bench: Workbench, qtbot: QtBot, tmp_path: Path) -> DrawingDialog:
    """The window to draw marks on a gray photo of leak 1."""
    file = tmp_path / "gray.png"
    Image.new("RGB", (640, 480), "#808080").save(file)
    bench.bridge.add_row("leaks")
    taken = take_in_all([offered_file(file)], bench.bridge.preferences)
    photos.add(bench.bridge.editor, "leaks.0.photos", taken)
    return shown(DrawingDialog(PhotoBoard(bench.bridge, "leaks.0.photos.0"), bench), qtbot)


@pytest.fixture
def sketch(bench: Workbench, qtbot: QtBot) -> DrawingDialog:
    """The window to draw the house, of a job with a leak and a register."""
    bench.bridge.add_row("leaks")
    bench.bridge.enter("leaks.0.place", "Boot")
    bench.bridge.add_row("registers")
    return shown(DrawingDialog(SketchBoard(bench.bridge), bench), qtbot)


def shown(dialog: DrawingDialog, qtbot: QtBot) -> DrawingDialog:
    dialog.open()
    qtbot.waitExposed(dialog)
    rest(dialog)
    return dialog


def at(dialog: DrawingDialog, x: float, y: float) -> QPoint:
    return QPoint(round(x * dialog.canvas.width()), round(y * dialog.canvas.height()))


def drag(dialog: DrawingDialog, qtbot: QtBot, start: tuple[float, float], end: tuple[float, float]):
    canvas = dialog.canvas
    qtbot.mousePress(canvas, LEFT, pos=at(dialog, *start))
    qtbot.mouseMove(canvas, at(dialog, *end))
    qtbot.mouseRelease(canvas, LEFT, pos=at(dialog, *end))


def places_of(item: Item) -> tuple[float, float, float, float]:
    return item.x, item.y, item.to_x, item.to_y


def pick(dialog: DrawingDialog, label: str) -> None:
    next(button for button in dialog.tools if button.text() == label).click()


def test_that_an_arrow_is_drawn_by_dragging_and_undone(marks: DrawingDialog, qtbot: QtBot):
    pick(marks, "Arrow")
    drag(marks, qtbot, (0.2, 0.3), (0.6, 0.7))
    (arrow,) = marks.board.items
    assert arrow.shape is Shape.ARROW
    assert places_of(arrow) == pytest.approx((0.2, 0.3, 0.6, 0.7), abs=0.01)
    assert marks.canvas.item == arrow
    qtbot.keyClick(marks, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert marks.board.items == ()


def test_that_a_mark_shows_the_number_of_its_leak_until_words_are_typed(
    marks: DrawingDialog, qtbot: QtBot
):
    pick(marks, "Circle")
    drag(marks, qtbot, (0.4, 0.4), (0.6, 0.6))
    assert [one.label for one in marks.board.inked(marks.board.items)] == ["1"]
    assert "Circle, 1" in marks.about.text()
    qtbot.keyClicks(marks.text, "gap")
    assert [one.label for one in marks.board.inked(marks.board.items)] == ["gap"]
    marks.board.bridge.undo()
    assert [one.label for one in marks.board.inked(marks.board.items)] == ["1"]


def test_that_a_photo_comes_up_on_the_sheet_and_is_read_once(marks: DrawingDialog):
    """The gray of the file, as the imaging library wrote it (see the fixture)."""
    middle = at(marks, 0.5, 0.5)
    assert marks.canvas.grab(QRect(middle, middle)).toImage().pixelColor(0, 0).name() == "#808080"
    marks.canvas.refresh()
    assert Mailbox.of_app().errands == {}, "the same picture is not read again"


def test_that_marks_are_drawn_dark_with_a_white_edge(marks: DrawingDialog, qtbot: QtBot):
    pick(marks, "Arrow")
    drag(marks, qtbot, (0.1, 0.5), (0.9, 0.5))
    marks.canvas.select(-1)
    image = marks.canvas.grab().toImage()
    ratio = image.devicePixelRatio()
    x = round(marks.canvas.width() * 0.5 * ratio)
    column = [image.pixelColor(x, y).lightness() for y in range(image.height())]
    dark = [y for y, light in enumerate(column) if light < 40]
    white = [y for y, light in enumerate(column[2:-2], 2) if light > 240]
    assert dark
    assert white
    assert min(white) < min(dark) <= max(dark) < max(white)


def test_that_a_mark_is_selected_moved_and_pulled_by_the_mouse(marks: DrawingDialog, qtbot: QtBot):
    pick(marks, "Arrow")
    drag(marks, qtbot, (0.2, 0.2), (0.6, 0.2))
    pick(marks, "Select")
    drag(marks, qtbot, (0.4, 0.2), (0.5, 0.5))
    (arrow,) = marks.board.items
    assert (arrow.x, arrow.y, arrow.to_x, arrow.to_y) == pytest.approx(
        (0.3, 0.5, 0.7, 0.5), abs=0.01
    )
    drag(marks, qtbot, (0.7, 0.5), (0.8, 0.9))
    (arrow,) = marks.board.items
    assert (arrow.x, arrow.y, arrow.to_x, arrow.to_y) == pytest.approx(
        (0.3, 0.5, 0.8, 0.9), abs=0.01
    )
    qtbot.mouseClick(marks.canvas, LEFT, pos=at(marks, 0.1, 0.9))
    assert marks.canvas.item is None


def test_that_all_can_be_done_by_keys(marks: DrawingDialog, qtbot: QtBot):
    canvas = marks.canvas
    canvas.setFocus()
    qtbot.keyClick(canvas, Qt.Key.Key_2)
    qtbot.keyClick(canvas, Qt.Key.Key_Return)
    qtbot.keyClick(canvas, Qt.Key.Key_4)
    qtbot.keyClick(canvas, Qt.Key.Key_Return)
    assert [item.shape for item in marks.board.items] == [Shape.ARROW, Shape.LABEL]
    qtbot.keyClick(canvas, Qt.Key.Key_Backtab)
    assert canvas.selected == 0
    before = marks.board.items[0]
    for key in (Qt.Key.Key_Right, Qt.Key.Key_Right, Qt.Key.Key_Down):
        qtbot.keyClick(canvas, key)
    after = marks.board.items[0]
    assert after.x - before.x == pytest.approx(0.02)
    assert after.to_y - before.to_y == pytest.approx(0.01)
    qtbot.keyClick(canvas, Qt.Key.Key_Left, ALT)
    assert marks.board.items[0].x == after.x
    assert marks.board.items[0].to_x == pytest.approx(after.to_x - 0.01)
    assert "Arrow, 1, 1 of 2" in canvas.accessibleDescription()
    qtbot.keyClick(canvas, Qt.Key.Key_Delete)
    assert [item.shape for item in marks.board.items] == [Shape.LABEL]
    qtbot.keyClick(canvas, Qt.Key.Key_Tab)
    assert not canvas.hasFocus()


def test_that_nothing_can_be_moved_off_the_sheet(marks: DrawingDialog, qtbot: QtBot):
    pick(marks, "Arrow")
    drag(marks, qtbot, (0.5, 0.5), (0.97, 0.5))
    for _n in range(10):
        qtbot.keyClick(marks.canvas, Qt.Key.Key_Right)
    (arrow,) = marks.board.items
    assert arrow.to_x == pytest.approx(1.0)
    assert arrow.to_x - arrow.x == pytest.approx(0.47, abs=0.01)


def test_that_the_window_closes_when_its_picture_goes(marks: DrawingDialog, bench: Workbench):
    bench.bridge.remove_row("leaks.0")
    assert not marks.isVisible()


def test_that_walls_and_rooms_snap_to_the_grid(sketch: DrawingDialog, qtbot: QtBot):
    pick(sketch, "Wall")
    drag(sketch, qtbot, (0.101, 0.099), (0.502, 0.101))
    pick(sketch, "Room")
    drag(sketch, qtbot, (0.2, 0.2), (0.46, 0.61))
    wall, room = sketch.board.items
    assert places_of(wall) == pytest.approx((0.1, 0.1, 0.5, 0.1))
    for share, cells in ((room.x, 40), (room.y, 30), (room.to_x, 40), (room.to_y, 30)):
        assert share * cells == pytest.approx(round(share * cells))


def test_that_markers_stand_for_leaks_and_registers_one_after_the_other(
    sketch: DrawingDialog, bench: Workbench, qtbot: QtBot
):
    pick(sketch, "Marker")
    assert sketch.markers.currentText() == "Leak 1: Boot"
    qtbot.mouseClick(sketch.canvas, LEFT, pos=at(sketch, 0.3, 0.3))
    assert sketch.markers.currentText() == "Register 1"
    qtbot.mouseClick(sketch.canvas, LEFT, pos=at(sketch, 0.6, 0.3))
    job = bench.bridge.editor.job
    assert [(item.shape, item.refers) for item in sketch.board.items] == [
        (Shape.LEAK, job.leaks[0].key),
        (Shape.REGISTER, job.registers[0].key),
    ]
    sketch.markers.setCurrentIndex(0)
    sketch.markers.activated.emit(0)
    qtbot.mouseClick(sketch.canvas, LEFT, pos=at(sketch, 0.8, 0.8))
    assert len(sketch.board.items) == 2
    assert sketch.board.items[-1].x == pytest.approx(0.8, abs=0.02)


def test_that_a_floor_plan_is_laid_below_and_taken_away(
    sketch: DrawingDialog, bench: Workbench, qtbot: QtBot, tmp_path: Path
):
    plan = tmp_path / "plan.png"
    Image.new("RGB", (600, 300), "white").save(plan)
    assert sketch.plan is not None
    sketch.plan.lay([plan])
    qtbot.waitUntil(lambda: bench.bridge.editor.job.sketch.plan is not None)
    assert sketch.canvas.width() == pytest.approx(2 * sketch.canvas.height(), abs=3)
    sketch.plan.away_button.click()
    assert bench.bridge.editor.job.sketch.plan is None
    sketch.plan.lay([tmp_path / "gone.png"])
    qtbot.waitUntil(lambda: "gone.png" in sketch.plan.message.text)


def test_that_the_sheet_can_be_zoomed(sketch: DrawingDialog, qtbot: QtBot):
    before = sketch.canvas.width()
    qtbot.keyClick(sketch, Qt.Key.Key_Equal, Qt.KeyboardModifier.ControlModifier)
    assert sketch.canvas.width() == pytest.approx(1.5 * before, rel=0.01)
    qtbot.keyClick(sketch, Qt.Key.Key_0, Qt.KeyboardModifier.ControlModifier)
    assert sketch.canvas.width() == before


def test_that_the_page_shows_the_sketch_and_what_is_not_drawn_yet(
    sketch: DrawingDialog, bench: Workbench, qtbot: QtBot
):
    bench.show_page("leaks")
    page = bench.page_view("leaks")
    assert isinstance(page, LeaksPage)
    assert page.sketch.view.isHidden()
    pick(sketch, "Room")
    drag(sketch, qtbot, (0.1, 0.1), (0.5, 0.5))
    assert "Not drawn yet: 1." in page.sketch.words.text()
    pick(sketch, "Marker")
    qtbot.mouseClick(sketch.canvas, LEFT, pos=at(sketch, 0.3, 0.3))
    assert page.sketch.words.text() == "Leaks drawn: 1."
    sketch.accept()
    image = page.sketch.view.grab().toImage()
    tones = {image.pixelColor(x, image.height() // 4).lightness() for x in range(image.width())}
    assert min(tones) < 40
    assert max(tones) == 255
    bench.bridge.undo()
    bench.bridge.undo()
    assert page.sketch.view.isHidden()


def test_that_the_page_tells_which_photos_are_still_missing(bench: Workbench, tmp_path: Path):
    bench.show_page("leaks")
    page = bench.page_view("leaks")
    assert isinstance(page, LeaksPage)
    told = page.photos.lists["compliance"]
    assert "Gauge with the reading" in told.text
    file = tmp_path / "gauge.png"
    Image.new("RGB", (64, 48), "#808080").save(file)
    photos.add(
        bench.bridge.editor,
        "photos",
        take_in_all([offered_file(file)], bench.bridge.preferences),
    )
    bench.bridge.choose("photos.0.shows", "gauge_reading")
    assert "Gauge with the reading" not in told.text
    assert "still missing" in told.text


def test_that_undo_while_drawing_takes_back_what_was_drawn_and_nothing_made_before(
    marks: DrawingDialog, qtbot: QtBot
) -> None:
    bridge = marks.board.bridge
    before = bridge.editor.job
    assert bridge.editor.undo_label
    qtbot.keyClick(marks, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert bridge.editor.job is before
    pick(marks, "Arrow")
    drag(marks, qtbot, (0.2, 0.3), (0.6, 0.7))
    (arrow,) = marks.board.items
    for _again in range(3):
        qtbot.keyClick(marks, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
        assert bridge.editor.job is before
    for _again in range(2):
        qtbot.keyClick(marks, Qt.Key.Key_Y, Qt.KeyboardModifier.ControlModifier)
        assert marks.board.items == (arrow,)
