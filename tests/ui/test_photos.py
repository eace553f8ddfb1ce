"""Pictures of leaks."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path
from threading import Event

import pytest
from PIL import Image
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QColor, QDropEvent, QGuiApplication, QImage
from PySide6.QtWidgets import QFileDialog, QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.session.photo_intake import OfferedPicture
from deskapp.ui.form import RowGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.pages.leaks_page import LeaksPage
from deskapp.ui.photos.strip import PhotoStrip
from deskapp.ui.photos.tile import thumbnail
from deskapp.ui.progress import PATIENCE
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


def attach(strip: PhotoStrip, qtbot: QtBot, *files: Path) -> None:
    strip.attach(files)
    qtbot.waitUntil(lambda: not strip.intake.is_busy)


def shown(strip: PhotoStrip) -> list[str]:
    return [tile.picture.toolTip() for tile in strip.tiles if not tile.isHidden()]


def test_that_pictures_dropped_on_a_leak_are_attached(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    files = [picture(tmp_path / "a.jpg"), picture(tmp_path / "b.png", "olive")]
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(file)) for file in files])
    place, action = QPointF(9, 9), Qt.DropAction.CopyAction
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    strip.dropEvent(QDropEvent(place, action, mime, buttons, keys))
    qtbot.waitUntil(lambda: shown(strip) == ["a.jpg", "b.png"])
    qtbot.waitUntil(lambda: all(not tile.picture.pixmap().isNull() for tile in strip.tiles))
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
    strip: PhotoStrip, qtbot: QtBot, tmp_path: Path
) -> None:
    wrong = tmp_path / "notes.jpg"
    wrong.write_text("not a picture")
    attach(strip, qtbot, wrong, picture(tmp_path / "d.jpg"), tmp_path / "gone.png")
    assert shown(strip) == ["d.jpg"]
    assert "notes.jpg" in strip.message.text
    assert "gone.png" in strip.message.text
    assert not strip.message.isHidden()
    attach(strip, qtbot, picture(tmp_path / "e.jpg", "teal"))
    assert strip.message.isHidden()


def test_that_a_picture_has_a_caption_and_can_be_removed_and_brought_back(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    attach(strip, qtbot, picture(tmp_path / "f.jpg"))
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
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    attach(strip, qtbot, picture(tmp_path / "g.jpg"))
    bench.bridge.add_row("leaks")
    bench.go_to("leaks.1.place")
    assert shown(strip) == []
    bench.go_to("leaks.0.photos.0.caption")
    assert shown(strip) == ["g.jpg"]
    assert strip.tiles[0].caption.hasFocus()


def test_that_copied_pixels_and_copied_files_are_pasted(
    strip: PhotoStrip, qtbot: QtBot, tmp_path: Path
) -> None:
    clipboard = QGuiApplication.clipboard()
    image = QImage(120, 90, QImage.Format.Format_ARGB32)
    image.fill(QColor("tomato"))
    clipboard.setImage(image)
    strip.paste_button.click()
    qtbot.waitUntil(lambda: shown(strip) == ["Pasted picture"])
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(picture(tmp_path / "h.jpg")))])
    clipboard.setMimeData(mime)
    strip.tiles[0].picture.setFocus()
    qtbot.keyClick(strip.tiles[0].picture, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)
    qtbot.waitUntil(lambda: shown(strip) == ["Pasted picture", "h.jpg"])
    clipboard.setText("words")
    strip.paste_button.click()
    assert "no picture on the clipboard" in strip.message.text


def test_that_pictures_change_places_by_keys_and_the_focus_goes_along(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    attach(strip, qtbot, *(picture(tmp_path / f"{name}.jpg", "olive") for name in "xyz"))
    tile = strip.tiles[0]
    tile.picture.setFocus()
    qtbot.keyClick(tile.picture, Qt.Key.Key_Right, Qt.KeyboardModifier.AltModifier)
    assert shown(strip) == ["y.jpg", "x.jpg", "z.jpg"]
    assert strip.tiles[1].picture.hasFocus()
    strip.tiles[1].caption.setFocus()
    qtbot.keyClicks(strip.tiles[1].caption, "second")
    qtbot.keyClick(strip.tiles[1].caption, Qt.Key.Key_Down, Qt.KeyboardModifier.ControlModifier)
    assert shown(strip) == ["y.jpg", "z.jpg", "x.jpg"]
    assert bench.bridge.value_at("leaks.0.photos.2").caption == "second"
    bench.bridge.undo()
    assert shown(strip) == ["y.jpg", "x.jpg", "z.jpg"]


def test_that_what_takes_long_is_told_by_name_and_can_be_ended(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    reading, go_on = Event(), Event()
    data = picture(tmp_path / "slow.jpg").read_bytes()

    def slow() -> bytes:
        reading.set()
        assert go_on.wait(20)
        return data

    first = OfferedPicture("first.jpg", lambda: data)
    strip.take([first, OfferedPicture("slow.jpg", slow), OfferedPicture("never.jpg", lambda: data)])
    qtbot.waitUntil(reading.is_set)
    assert strip.progress.isHidden()
    qtbot.waitUntil(lambda: not strip.progress.isHidden(), timeout=5 * PATIENCE)
    assert "2 of 3" in strip.progress.words.text()
    assert "slow.jpg" in strip.progress.words.text()
    strip.progress.cancel.click()
    go_on.set()
    qtbot.waitUntil(lambda: shown(strip) == ["first.jpg"])
    assert strip.progress.isHidden()
    assert "2 left out" in strip.message.text
    assert bench.notice.isVisible()
    assert "2 left out" in bench.notice.text
    strip.take([OfferedPicture("next.jpg", lambda: data)])
    qtbot.waitUntil(lambda: shown(strip) == ["first.jpg", "next.jpg"])
    assert not bench.notice.isVisible()


def test_that_pictures_on_their_way_go_to_the_leak_they_were_meant_for(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.bridge.add_row("leaks")
    bench.go_to("leaks.1.place")
    strip.attach([picture(tmp_path / "i.jpg")])
    bench.bridge.remove_row("leaks.0")
    qtbot.waitUntil(lambda: not strip.intake.is_busy)
    assert [photo.name for photo in bench.bridge.editor.job.leaks[0].photos] == ["i.jpg"]


def test_that_the_time_of_the_camera_is_shown_and_what_a_photo_shows_can_be_chosen(
    strip: PhotoStrip, bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    exif = Image.Exif()
    exif.get_ifd(0x8769)[0x9003] = "2026:03:05 09:31:12"  # Exif 2.3: DateTimeOriginal
    Image.new("RGB", (64, 48), "navy").save(tmp_path / "j.jpg", exif=exif)
    attach(strip, qtbot, tmp_path / "j.jpg")
    tile = strip.tiles[0]
    assert tile.taken.text().replace("\N{NO-BREAK SPACE}", " ") == "Mar 5, 2026, 09:31"
    tile.shows.setCurrentIndex(tile.shows.findText("Leak as found"))
    tile.shows.activated.emit(tile.shows.currentIndex())
    assert bench.bridge.value_at("leaks.0.photos.0").shows == "leak_before"


def test_that_photos_are_exported_and_replacing_files_is_asked(
    bench: Workbench, strip: PhotoStrip, qtbot: QtBot, tmp_path: Path
) -> None:
    assert isinstance(bench.page, LeaksPage)
    exports = bench.page.photos.exports
    assert exports.button.isHidden()
    attach(strip, qtbot, picture(tmp_path / "seam.jpg"))
    assert not exports.button.isHidden()
    folder = tmp_path / "out"
    exports.export(folder)
    qtbot.waitUntil(lambda: not exports.undertaking.is_busy, timeout=10_000)
    assert len(list(folder.glob("J-0001 photo 01*.jpg"))) == 1
    assert "1 photo and its list" in exports.message.text
    exports.export(folder)
    assert not exports.undertaking.is_busy
    box = next(box for box in bench.window().findChildren(QMessageBox) if box.isVisible())
    assert "J-0001 photos.csv" in box.informativeText()
    next(button for button in box.buttons() if button.text() == "Replace").click()
    qtbot.waitUntil(lambda: not exports.undertaking.is_busy, timeout=10_000)
    assert "1 photo and its list" in exports.message.text
