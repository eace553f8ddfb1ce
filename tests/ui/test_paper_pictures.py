"""Page 1 of each report of a sample job looks as it did, by small gray pictures in papers/.

Cells of a page are compared, not points: letters may be drawn a little otherwise, a block may not
move. To draw the pictures anew after a wanted change, run once with WRITE_PAPER_PICTURES=1 in the
environment and look at them before keeping them. Such a run never passes.
"""

from __future__ import annotations

import os
from datetime import date
from pathlib import Path

import pytest
from PySide6.QtCore import QBuffer, QByteArray, QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPdf import QPdfDocument

from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

PICTURES = Path(__file__).parent / "papers"
SWITCH = "WRITE_PAPER_PICTURES"
DOTS_PER_INCH = 20
CELL = 6
"""Points of a picture along one side of a cell that is compared as a whole."""
NOTICED = 14
"""Levels of gray, of 255, by which a cell must differ to count."""
ALLOWED = 0.01


def page_one(pdf: bytes) -> QImage:
    """Page 1 of a PDF in gray, on white paper."""
    data, document = QBuffer(), QPdfDocument()
    data.setData(QByteArray(pdf))
    data.open(QBuffer.OpenModeFlag.ReadOnly)
    document.load(data)
    points = document.pagePointSize(0)
    size = QSize(*(round(side * DOTS_PER_INCH / 72) for side in points.toTuple()))
    paper = QImage(size, QImage.Format.Format_Grayscale8)
    paper.fill(Qt.GlobalColor.white)
    painter = QPainter(paper)
    painter.drawImage(0, 0, document.render(0, size))
    painter.end()
    return paper


def cells(picture: QImage) -> list[int]:
    """The mean gray of each cell of a picture, row by row."""
    columns, rows = picture.width() // CELL, picture.height() // CELL
    return [
        sum(
            picture.pixelColor(CELL * column + x, CELL * row + y).lightness()
            for x in range(CELL)
            for y in range(CELL)
        )
        // CELL**2
        for row in range(rows)
        for column in range(columns)
    ]


def share_that_differs(one: QImage, other: QImage) -> float:
    """The share of the cells by which two pictures of one size differ."""
    pairs = list(zip(cells(one), cells(other), strict=True))
    return sum(abs(a - b) > NOTICED for a, b in pairs) / len(pairs)


def moved(picture: QImage, down: int) -> QImage:
    """A picture whose lower two thirds stand `down` points lower."""
    changed, start = picture.copy(), picture.height() // 3
    painter = QPainter(changed)
    painter.fillRect(0, start, picture.width(), down, Qt.GlobalColor.white)
    painter.drawImage(0, start + down, picture, 0, start)
    painter.end()
    return changed


@pytest.fixture
def drawn(shelf, kind) -> QImage:
    editor = open_sample("larkspur", shelf, Preferences())
    order = order_reports(editor, BrandingFile(), date(2026, 3, 11))
    return page_one(drawn_report(order, kind).data)


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("kind", list(ReportKind))
def test_that_page_one_looks_as_it_did_and_a_moved_block_would_be_seen(drawn, kind):
    path = PICTURES / f"{kind}.png"
    if os.environ.get(SWITCH):
        drawn.save(str(path))
        pytest.fail(f"{path.name} was drawn anew; run again without {SWITCH}")
    kept = QImage(str(path)).convertToFormat(QImage.Format.Format_Grayscale8)
    assert kept.size() == drawn.size()
    assert share_that_differs(kept, drawn) <= ALLOWED
    for down in (4, 8, 16):
        assert share_that_differs(kept, moved(drawn, down)) > 3 * ALLOWED
