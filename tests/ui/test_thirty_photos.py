"""Thirty photos dropped at once: copied, upright, the files themselves untouched, one step to undo.

Exif 2.3, tag 0x0112: orientation 6 is turned a quarter to the right to be upright.
"""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from PIL import Image
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent
from pytestqt.qtbot import QtBot

from deskapp.ui.form import RowGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.photos.strip import PhotoStrip
from deskapp.ui.workbench import Workbench

LYING = 6
COUNT = 30


def lying(path: Path, number: int) -> Path:
    """A picture whose camera lay on its side: its left half is bright."""
    picture = Image.new("RGB", (160, 90), (8 * number, 20, 20))
    picture.paste((240, 240, 240), (0, 0, 80, 90))
    exif = Image.Exif()
    exif[0x0112] = LYING
    picture.save(path, exif=exif, quality=95)
    return path


def test_that_thirty_photos_are_taken_upright_and_their_files_stay_as_they_were(
    bench: Workbench, qtbot: QtBot, tmp_path: Path
) -> None:
    bench.bridge.add_row("leaks")
    bench.show_page("leaks")
    assert isinstance(bench.page, FormPage)
    rows = bench.page.groups[0]
    assert isinstance(rows, RowGroup)
    strip = rows.extra
    assert isinstance(strip, PhotoStrip)
    files = [lying(tmp_path / f"{number:02}.jpg", number) for number in range(COUNT)]
    kept = [(file.read_bytes(), file.stat().st_mtime_ns) for file in files]
    wrong = tmp_path / "list.txt"
    wrong.write_text("no picture", encoding="utf-8")
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(file)) for file in (*files, wrong)])
    buttons, keys = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    drop = QDropEvent(QPointF(9, 9), Qt.DropAction.CopyAction, mime, buttons, keys)
    strip.dropEvent(drop)
    qtbot.waitUntil(lambda: not strip.intake.is_busy, timeout=30_000)
    photos = bench.bridge.editor.job.leaks[0].photos
    assert [photo.name for photo in photos] == [file.name for file in files]
    assert [(file.read_bytes(), file.stat().st_mtime_ns) for file in files] == kept
    for data in bench.bridge.editor.photos.values():
        with Image.open(BytesIO(data)) as upright:
            assert upright.width < upright.height
            top, bottom = upright.getpixel((45, 20)), upright.getpixel((45, 140))
        assert isinstance(top, tuple)
        assert isinstance(bottom, tuple)
        assert top[1] > 200 > bottom[1], "the bright half is up"
    assert strip.message.text.count("list.txt") == 1
    bench.bridge.undo()
    assert bench.bridge.editor.job.leaks[0].photos == ()
