"""Pictures of leaks."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from deskapp.ui.form import RowGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.photo_strip import PhotoStrip, thumbnail
from deskapp.ui.workbench import Workbench


@pytest.fixture
def strip(bench: Workbench) -> PhotoStrip:
    bench.bridge.add_row("leaks")
    bench.show_page("leaks")
    assert isinstance(bench.page, FormPage)
    rows = bench.page.groups[0]
    assert isinstance(rows, RowGroup)
    assert isinstance(rows.extra, PhotoStrip)
    return rows.extra


def picture(path: Path, color: str = "navy") -> Path:
    Image.new("RGB", (640, 480), color).save(path)
    return path


def shown(strip: PhotoStrip) -> list[str]:
    return [tile.picture.toolTip() for tile in strip.tiles if not tile.isHidden()]


def test_that_pictures_dropped_on_a_leak_are_attached(
    strip: PhotoStrip, bench: Workbench, tmp_path: Path
) -> None:
    files = [picture(tmp_path / "a.jpg"), picture(tmp_path / "b.png", "olive")]
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(file)) for file in files])
    place, action = QPointF(9, 9), Qt.DropAction.CopyAction
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    strip.dropEvent(QDropEvent(place, action, mime, buttons, keys))
    assert shown(strip) == ["a.jpg", "b.png"]
    assert all(not tile.picture.pixmap().isNull() for tile in strip.tiles)
    assert len(bench.bridge.editor.photos) == 2
    assert all(file.exists() for file in files)


def test_that_pictures_are_attached_by_the_file_dialog(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    file = picture(tmp_path / "c.jpg")
    strip.attach_button.click()
    dialogs = bench.window().findChildren(QFileDialog)
    dialog = next(dialog for dialog in dialogs if dialog.isVisible())
    dialog.setDirectory(str(tmp_path))
    dialog.selectFile(str(file))
    dialog.accept()
    qtbot.waitUntil(lambda: shown(strip) == ["c.jpg"])


def test_that_files_that_are_no_pictures_are_named_in_one_message_and_the_others_are_taken(
    strip: PhotoStrip, tmp_path: Path
) -> None:
    wrong = tmp_path / "notes.jpg"
    wrong.write_text("not a picture")
    strip.attach([wrong, picture(tmp_path / "d.jpg"), tmp_path / "gone.png"])
    assert shown(strip) == ["d.jpg"]
    assert "notes.jpg" in strip.message.text
    assert "gone.png" in strip.message.text
    assert not strip.message.isHidden()
    strip.attach([picture(tmp_path / "e.jpg", "teal")])
    assert strip.message.isHidden()


def test_that_a_picture_has_a_caption_and_can_be_removed_and_brought_back(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    strip.attach([picture(tmp_path / "f.jpg")])
    caption = strip.tiles[0].caption
    caption.setFocus()
    qtbot.keyClicks(caption, "Gap at the boot")
    qtbot.keyClick(caption, Qt.Key.Key_Tab)
    assert bench.bridge.value_at("leaks.0.photos.0").caption == "Gap at the boot"
    strip.tiles[0].remove.click()
    assert shown(strip) == []
    bench.bridge.undo()
    assert shown(strip) == ["f.jpg"]
    assert strip.tiles[0].caption.text() == "Gap at the boot"
    assert len(bench.bridge.editor.photos) == 1


def test_that_a_thumbnail_keeps_the_shape_and_bad_bytes_give_an_empty_one() -> None:
    buffer = BytesIO()
    Image.new("RGB", (1600, 400), "navy").save(buffer, "JPEG")
    small = thumbnail(buffer.getvalue(), 2.0)
    assert small.width() == 4 * small.height()
    assert small.devicePixelRatio() == 2.0
    assert thumbnail(b"no picture", 1.0).isNull()


def test_that_each_leak_shows_its_own_pictures(
    strip: PhotoStrip, bench: Workbench, tmp_path: Path
) -> None:
    strip.attach([picture(tmp_path / "g.jpg")])
    bench.bridge.add_row("leaks")
    bench.go_to("leaks.1.place")
    assert shown(strip) == []
    bench.go_to("leaks.0.photos.0.caption")
    assert shown(strip) == ["g.jpg"]
    assert strip.tiles[0].caption.hasFocus()
