"""Numbers and days at the window follow the language and the number style.

CLDR: French of Canada writes a decimal comma and "11 mars 2026", Spanish of the Americas a decimal
point and "11 mar 2026", English of the United States "Mar 11, 2026".
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings
from PySide6.QtWidgets import QLabel, QLineEdit
from pytestqt.qtbot import QtBot

from deskapp.i18n import ENGLISH, use_language
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.ui.desk import Desk
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Theme
from deskapp.ui.workbench import Workbench

SPOKEN = {
    "en": ("point", "54.2 cfm", "Mar 11, 2026"),
    "es": ("point", "54.2 cfm", "11 mar 2026"),
    "fr_CA": ("comma", "54,2", "11 mars 2026"),
}


@pytest.fixture(params=SPOKEN)
def speaking_bench(
    request: pytest.FixtureRequest, qtbot: QtBot, theme: Theme, shelf: Shelf, tmp_path: Path
) -> Iterator[tuple[str, Workbench]]:
    """The workbench with the sample job, in one of the languages."""
    spoken = str(request.param)
    use_language(spoken)
    window = MainWindow(theme, QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat))
    window.resize(1280, 800)
    qtbot.addWidget(window, before_close_func=MainWindow.forget_changes)
    preferences = Preferences.model_validate(
        {"language": spoken, "number_style": SPOKEN[spoken][0], "jobs_folder": str(tmp_path)}
    )
    furniture = Furniture(window, Desk(shelf, preferences, tmp_path))
    window.get_ready(furniture)
    window.show()
    furniture.open_sample()
    assert furniture.bench is not None
    yield spoken, furniture.bench
    use_language(ENGLISH)


def texts(bench: Workbench) -> list[str]:
    shown = [*bench.findChildren(QLabel), *bench.findChildren(QLineEdit)]
    found = [one.text() for one in shown if one.isVisibleTo(bench)]
    return [text.replace("\N{NO-BREAK SPACE}", " ") for text in found if text]


def test_that_numbers_and_days_are_written_as_the_language_does(
    speaking_bench: tuple[str, Workbench],
) -> None:
    spoken, bench = speaking_bench
    _style, number, day = SPOKEN[spoken]
    assert any(number in text for text in texts(bench)), "the result beside the page"
    bench.bridge.enter("tests.0.tested_on", "2026-03-11")
    bench.show_page("setup")
    assert bench.page.is_whole
    assert day in texts(bench)
    others = {other for _style, other, _day in SPOKEN.values() if other[2] != number[2]}
    assert not any(other[:4] in text for other in others for text in texts(bench))
