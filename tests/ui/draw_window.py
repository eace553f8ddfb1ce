"""Draw the start page and every page of a sample job, and tell what is cut, blurred or too wide.

It runs in a process of its own, since the density of the screen is settled when a program starts:
``python tests/ui/draw_window.py FOLDER APPEARANCE POINTS LANGUAGE`` with QT_SCALE_FACTOR in the
environment.
Letters are of a font that comes with the program, so that a picture is the same everywhere.
"""

from __future__ import annotations

import json
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from measuring import troubles
from PySide6.QtCore import QLocale, QSettings, QSize
from PySide6.QtGui import QFont, QFontDatabase, QImage
from PySide6.QtWidgets import QAbstractButton, QApplication, QLabel, QLineEdit, QWidget
from resting import rest

from deskapp.app.immortal import keep_alive
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.i18n import use_language
from deskapp.session.pages import PAGES
from deskapp.session.resources import load_shelf
from deskapp.session.settings import Preferences
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.sweeper import Sweeper
from deskapp.ui.theme import Appearance, Theme

if TYPE_CHECKING:
    from deskapp.ui.workbench import Workbench

SMALL = QSize(1024, 768)
USUAL_POINTS = 10


def shown(root: QWidget) -> Iterator[QWidget]:
    """Yield what can be seen below `root`."""
    return (widget for widget in root.findChildren(QWidget) if widget.isVisibleTo(root))


def without_detail(image: QImage) -> bool:
    """Say whether a picture at twice the density is one at the usual density blown up."""
    blocks = [
        [image.pixelColor(x + dx, y + dy).rgba() for dx in (0, 1) for dy in (0, 1)]
        for x in range(0, image.width() - 1, 2)
        for y in range(0, image.height() - 1, 2)
    ]
    colors = {point for block in blocks for point in block}
    return len(colors) > 1 and all(len(set(block)) == 1 for block in blocks)


def blurred(root: QWidget) -> Iterator[str]:
    """Drawings with fewer points than the screen has for them."""
    ratio = root.devicePixelRatio()
    for widget in shown(root):
        if isinstance(widget, QLabel) and not widget.pixmap().isNull():
            drawn, name = widget.pixmap(), widget.accessibleName() or widget.toolTip()
        elif isinstance(widget, QAbstractButton) and not widget.icon().isNull():
            drawn, name = widget.icon().pixmap(widget.iconSize(), ratio), widget.text()
            if drawn.width() < int(widget.iconSize().width() * ratio):
                yield f"{type(widget).__name__} {name}: {drawn.width()} points"
        else:
            continue
        if drawn.devicePixelRatio() < ratio - 0.01 or (
            ratio == 2 and without_detail(drawn.toImage())
        ):
            yield f"{type(widget).__name__} {name}"


def words_shown(root: QWidget) -> Iterator[tuple[str, list[int]]]:
    """Yield each text that can be read at once, with its place in the window."""
    for widget in shown(root):
        if not isinstance(widget, QLabel | QAbstractButton | QLineEdit) or not widget.text():
            continue
        seen = widget.visibleRegion().boundingRect()
        if seen.height() < widget.height() or seen.width() < widget.width():
            continue  # scrolled out of sight, in part at least
        corner = widget.mapTo(root, seen.topLeft())
        yield widget.text(), [corner.x(), corner.y(), seen.width(), seen.height()]


def bundled_font(app: QApplication, points: float) -> None:
    """Write everything in a font that comes with the program."""
    QFontDatabase.addApplicationFont(str(resources_folder() / "fonts" / "DejaVuSans.ttf"))
    font = QFont("DejaVu Sans")
    font.setPointSizeF(points)
    font.setHintingPreference(QFont.HintingPreference.PreferNoHinting)
    app.setFont(font)


def open_window(app: QApplication, folder: Path, appearance: Appearance) -> MainWindow:
    """Return the furnished window, with its start page."""
    theme = Theme(app, appearance)
    theme.refine(QuietStyle())
    window = MainWindow(theme, QSettings(str(folder / "w.ini"), QSettings.Format.IniFormat))
    window.resize(SMALL)
    shelf = load_shelf(resources_folder(), templates_folder())
    desk = Desk(shelf, Preferences(jobs_folder=str(folder / "jobs")), folder / "settings")
    window.get_ready(Furniture(window, desk))
    window.start.add_pictures()
    window.show()
    return window


def look_at(window: MainWindow, name: str, folder: Path) -> dict[str, object]:
    """Keep the picture of a window; return what is wrong with it and where its words stand."""
    focused = QApplication.focusWidget()
    if focused is not None:
        focused.clearFocus()  # the cursor blinks
    rest(window)
    window.grab().save(str(folder / f"{name}.png"))
    tables = "SideScroll"  # what is wide by nature scrolls in a frame of its own
    too_much = [one for one in troubles(window) if not one.startswith(tables)]
    wrong = [*too_much, *(f"blurred: {one}" for one in blurred(window))]
    return {"wrong": wrong, "words": list(words_shown(window))}


def main() -> int:
    """Draw all and write what was seen to `seen.json`."""
    folder, appearance, points = Path(sys.argv[1]), Appearance(sys.argv[2]), float(sys.argv[3])
    keep_alive()
    use_language(sys.argv[4])
    QLocale.setDefault(QLocale(QLocale.Language.English, QLocale.Country.UnitedStates))
    app = QApplication(sys.argv[:1])
    Sweeper(app)
    app.setCursorFlashTime(0)
    bundled_font(app, points)
    window = open_window(app, folder, appearance)
    seen = {"start": look_at(window, "start", folder)}
    furniture = window.furniture
    assert isinstance(furniture, Furniture)
    furniture.open_sample()
    bench: Workbench | None = furniture.bench
    assert bench is not None
    for page in PAGES:
        bench.show_page(page.id)
        assert bench.page.is_whole
        seen[page.id] = look_at(window, page.id, folder)
    told = {"ratio": window.devicePixelRatio(), "pages": seen}
    (folder / "seen.json").write_text(json.dumps(told, indent=1), encoding="utf-8")
    window.forget_changes()
    window.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
