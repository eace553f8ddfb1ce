"""The picture of a signature: chosen, drawn, removed, refused in words. All of it is invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image
from PySide6.QtCore import QPoint, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from deskapp.domain.leak import Photo
from deskapp.session.signature import PATH
from deskapp.ui.pages.report_page import ReportPage
from deskapp.ui.photos.signature_dialog import SignatureDialog
from deskapp.ui.photos.signature_strip import SignatureStrip
from deskapp.ui.workbench import Workbench

LEFT = Qt.MouseButton.LeftButton


@pytest.fixture
def strip(bench: Workbench) -> SignatureStrip:
    bench.show_page("report")
    page = bench.page_view("report")
    assert isinstance(page, ReportPage)
    return page.signature


@pytest.fixture
def dialog(strip: SignatureStrip, qtbot: QtBot) -> SignatureDialog:
    strip.draw_button.click()
    [dialog] = strip.window().findChildren(SignatureDialog)
    qtbot.waitExposed(dialog)
    QApplication.processEvents()
    return dialog


def signature_of(bench: Workbench) -> Photo | None:
    return bench.bridge.editor.job.tester.signature


def test_that_a_chosen_picture_is_shown_undone_and_removed(
    bench: Workbench, strip: SignatureStrip, qtbot: QtBot, tmp_path: Path
):
    assert strip.picture.isHidden()
    assert strip.remove_button.isHidden()
    file = tmp_path / "signed.png"
    Image.new("RGB", (300, 90), "#101828").save(file)
    strip.choose([file])
    qtbot.waitUntil(lambda: signature_of(bench) is not None)
    assert strip.picture.isVisible()
    assert strip.picture.pixmap().toImage().pixelColor(20, 10).name() == "#101828"
    assert bench.bridge.editor.undo_label == "Undo picture of the signature"
    bench.bridge.undo()
    assert signature_of(bench) is None
    assert strip.picture.isHidden()
    bench.bridge.redo()
    strip.remove_button.click()
    assert signature_of(bench) is None
    assert strip.remove_button.isHidden()
    bench.bridge.undo()
    assert strip.picture.isVisible()


def test_that_a_file_that_is_no_picture_is_refused_by_name_and_the_earlier_one_stays(
    bench: Workbench, strip: SignatureStrip, qtbot: QtBot, tmp_path: Path
):
    good, bad = tmp_path / "good.png", tmp_path / "letter.png"
    Image.new("RGB", (30, 10)).save(good)
    bad.write_bytes(b"Dear owner")
    strip.choose([good])
    qtbot.waitUntil(lambda: signature_of(bench) is not None)
    before = signature_of(bench)
    strip.choose([bad])
    qtbot.waitUntil(lambda: "letter.png" in strip.message.text)
    assert strip.message.isVisible()
    assert signature_of(bench) == before
    strip.choose([good])
    qtbot.waitUntil(strip.message.isHidden)


def test_that_a_drawn_signature_is_cut_to_its_strokes(
    bench: Workbench, strip: SignatureStrip, dialog: SignatureDialog, qtbot: QtBot
):
    assert not dialog.use_button.isEnabled()
    sheet = dialog.sheet
    qtbot.mousePress(sheet, LEFT, pos=QPoint(100, 60))
    qtbot.mouseMove(sheet, QPoint(400, 110))
    qtbot.mouseRelease(sheet, LEFT, pos=QPoint(400, 110))
    dialog.use_button.click()
    qtbot.waitUntil(lambda: signature_of(bench) is not None)
    signature = signature_of(bench)
    assert signature is not None
    assert signature.width / signature.height == pytest.approx(310 / 60, rel=0.02)
    image = strip.picture.pixmap().toImage()
    tones = {
        image.pixelColor(x, y).lightness()
        for x in range(0, image.width(), 2)
        for y in range(0, image.height(), 2)
    }
    assert min(tones) < 60
    assert max(tones) == 255


def test_that_a_dot_is_ink_and_starting_over_leaves_a_white_sheet(
    bench: Workbench, dialog: SignatureDialog, qtbot: QtBot
):
    qtbot.mouseClick(dialog.sheet, LEFT, pos=QPoint(50, 50))
    image = dialog.sheet.image()
    assert image.pixelColor(image.width() // 2, image.height() // 2).lightness() < 60
    dialog.wipe_button.click()
    assert dialog.sheet.is_blank
    assert not dialog.use_button.isEnabled()
    dialog.reject()
    assert signature_of(bench) is None


def test_that_the_words_beside_it_say_what_a_picture_is_worth(strip: SignatureStrip):
    from deskapp.ui.words import Words

    told = " ".join(words.text() for words in strip.findChildren(Words))
    assert "A picture proves nothing by itself" in told
    assert "sign digitally" in told


def test_that_the_way_to_it_leads_to_the_page_of_the_report(
    bench: Workbench, strip: SignatureStrip
):
    bench.show_page("house")
    bench.go_to(PATH)
    assert strip.choose_button.isVisible()
    assert strip.window().focusWidget() is strip.choose_button
