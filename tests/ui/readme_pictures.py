"""Make the pictures of README.md anew from the sample job.

Run it by hand after a change of the window or of a report:
``python tests/ui/readme_pictures.py`` (offscreen; it needs no screen).
"""

from __future__ import annotations

import os
from pathlib import Path
from tempfile import TemporaryDirectory

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QImage, QPainter
from PySide6.QtPdf import QPdfDocument
from PySide6.QtWidgets import QApplication
from resting import rest

from deskapp.app.cli import main
from deskapp.app.window import Opening
from deskapp.domain.data_files import resources_folder
from deskapp.ui.workbench import Workbench

PICTURES = Path(__file__).parents[2] / "resources" / "pictures"
SAMPLE = resources_folder() / "sample_jobs" / "larkspur"


def picture_window(app: QApplication, settings: Path) -> None:
    opening = Opening(app, settings)
    window = opening.window
    window.resize(1280, 800)
    window.show()
    rest(window)
    window.open_file(SAMPLE)
    rest(window)
    bench = window.stack.currentWidget()
    assert isinstance(bench, Workbench)
    bench.show_page("readings")
    rest(window)
    window.grab().save(str(PICTURES / "window.png"))


def picture_report(file: Path, name: str) -> None:
    document = QPdfDocument()
    document.load(str(file))
    size = document.pagePointSize(0)
    drawn = document.render(0, QSize(760, round(760 * size.height() / size.width())))
    paper = QImage(drawn.size(), QImage.Format.Format_RGB32)
    paper.fill(Qt.GlobalColor.white)
    painter = QPainter(paper)
    painter.drawImage(0, 0, drawn)
    painter.end()
    paper.save(str(PICTURES / f"{name}.png"))


def make() -> None:
    PICTURES.mkdir(parents=True, exist_ok=True)
    app = QApplication([])
    with TemporaryDirectory() as folder:
        picture_window(app, Path(folder))
        main(["report", str(SAMPLE), "--out", folder])
        for name in ("homeowner", "compliance"):
            picture_report(next(Path(folder).glob(f"*{name}.pdf")), name)


if __name__ == "__main__":
    make()
