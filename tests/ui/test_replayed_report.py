"""The pages that reports are timed against look like those of the reports.

`tests/report/bench_report.py` compares a report with its own drawing on a bare canvas. That is only
fair while both give the same pages, which a renderer of the program's own window judges here.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtGui import QImage

from deskapp.domain.data_files import resources_folder
from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.ui.pdf_pages import page_images

sys.path.insert(0, str(Path(__file__).parents[1] / "report"))

from replay import Replay, replay_of

WIDTH = 300
NOTICED = 60
"""Levels of gray, of 255, by which a dot must differ to count: edges are smoothed a little."""
ALLOWED = 0.0002
SEEN = {"words", "path", "drawImage"}


def gray(picture: QImage) -> bytes:
    return bytes(picture.convertToFormat(QImage.Format.Format_Grayscale8).constBits())


def share_that_differs(ones: list[QImage], others: list[QImage]) -> float:
    """The share of the dots by which the pages differ."""
    pairs = [
        pair
        for one, other in zip(ones, others, strict=True)
        for pair in zip(gray(one), gray(other), strict=True)
    ]
    return sum(abs(a - b) > NOTICED for a, b in pairs) / len(pairs)


def without(replay: Replay, name: str) -> Replay:
    """The pages without one kind of calls."""
    return Replay(
        [(size, [call for call in calls if call[0] != name]) for size, calls in replay.pages]
    )


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("kind", list(ReportKind))
def test_that_the_bare_pages_look_like_the_report(shelf, kind, tmp_path):
    editor = open_sample("larkspur", shelf, Preferences())
    report = drawn_report(order_reports(editor, BrandingFile(), date(2026, 3, 11)), kind).data
    pages = page_images(report, WIDTH)
    replay = replay_of(report, tmp_path, resources_folder() / "fonts")
    assert share_that_differs(pages, page_images(replay.draw(), WIDTH)) <= ALLOWED
    for name in {name for _size, calls in replay.pages for name, _given in calls} & SEEN:
        poorer = page_images(without(replay, name).draw(), WIDTH)
        assert share_that_differs(pages, poorer) > 2 * ALLOWED
