"""Cards of words beside the forms, and pictures of the job as a whole."""

from __future__ import annotations

from pathlib import Path

from PIL import Image
from pytestqt.qtbot import QtBot

from deskapp.ui.live.gauge_readings_page import GaugeReadingsPage
from deskapp.ui.pages.leaks_page import LeaksPage
from deskapp.ui.words import Words
from deskapp.ui.workbench import Workbench


def texts_in(widget) -> str:
    return "\n".join(words.text() for words in widget.findChildren(Words) if not words.isHidden())


def test_that_what_to_try_shows_only_short_of_the_target(bench: Workbench):
    page = bench.page_view("readings")
    assert isinstance(page, GaugeReadingsPage)
    bench.show_page("readings")
    assert page.advice.isHidden()
    bench.bridge.enter("tests.0.readings.0.duct_pressure", "-8")
    bench.bridge.settle()
    page.refresh()
    assert not page.advice.isHidden()
    assert "1. " in texts_in(page.advice)


def test_that_pan_readings_are_told_in_words_below_the_registers(bench: Workbench):
    page = bench.page_view("leaks")
    assert isinstance(page, LeaksPage)
    bench.show_page("leaks")
    assert page.pans.isHidden()
    bench.bridge.add_row("registers")
    bench.bridge.enter("registers.0.name", "Hall")
    bench.bridge.enter("registers.0.pan_before", "8.5")
    bench.bridge.settle()
    page.refresh()
    assert not page.pans.isHidden()
    assert "Hall" in texts_in(page.pans)


def test_that_a_picture_of_the_job_is_attached_captioned_and_removed(
    bench: Workbench, qtbot: QtBot, tmp_path: Path
):
    bench.show_page("leaks")
    page = bench.page_view("leaks")
    assert isinstance(page, LeaksPage)
    picture = tmp_path / "front.png"
    Image.new("RGB", (80, 60), "gray").save(picture)
    page.photos.strip.attach([picture, tmp_path / "none.png"])
    qtbot.waitUntil(lambda: not page.photos.strip.intake.is_busy)
    page.refresh()
    assert [photo.name for photo in bench.bridge.editor.job.photos] == ["front.png"]
    assert "none.png" in page.photos.strip.message.text
    assert page.reveal("photos.0.caption")
    page.photos.strip.tiles[0].remove.click()
    assert bench.bridge.editor.job.photos == ()
