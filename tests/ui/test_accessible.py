"""Everything that takes part has a name, and all text can be read.

The contrast of 4.5:1 for text is that of success criterion 1.4.3, names and descriptions that of
4.1.2, announcements that of 4.1.3 of the Web Content Accessibility Guidelines 2.1 (from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import ClassVar

import pytest
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QPalette
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)
from pytestqt.qtbot import QtBot
from whole import make_whole

from deskapp.session.colors import DARK, LIGHT, READABLE, Colors, contrast
from deskapp.session.pages import PAGES
from deskapp.ui import workbench
from deskapp.ui.fields.field import Field
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import palette_of
from deskapp.ui.workbench import Workbench

INTERACTIVE = (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
)
DIALOGS: dict[str, Callable[[Furniture], None]] = {
    "about": Furniture.about,
    "branding": Furniture.edit_branding,
    "instruments": Furniture.show_instruments,
    "jobs": Furniture.show_jobs,
    "limits": Furniture.edit_limits,
    "preferences": Furniture.show_preferences,
    "sampling": Furniture.sample_units,
    "usual": Furniture.edit_usual,
}


def name_of(widget: QWidget) -> str:
    """Return what a screen reader says: the name as the accessibility bridge of Qt tells it."""
    told = QAccessible.queryAccessibleInterface(widget)
    return told.text(QAccessible.Text.Name).strip() if told else ""


def nameless(root: QWidget) -> list[str]:
    found = [
        widget
        for kind in INTERACTIVE
        for widget in root.findChildren(kind)
        if widget.isVisibleTo(root) and widget.focusPolicy().value and not widget.focusProxy()
    ]
    assert found
    return [
        f"{type(widget).__name__} in {type(widget.parentWidget()).__name__}"
        for widget in found
        if not name_of(widget) and not _belongs_to_qt(widget)
    ]


def _belongs_to_qt(widget: QWidget) -> bool:
    """Say whether it is a part that Qt puts inside its own widgets."""
    return (widget.objectName() or "").startswith("qt_")


@pytest.mark.parametrize("page_id", [page.id for page in PAGES])
def test_that_everything_on_a_page_has_a_name(bench: Workbench, page_id: str) -> None:
    bench.show_page(page_id)
    QApplication.processEvents()
    assert nameless(bench) == []


@pytest.mark.parametrize("page_id", [page.id for page in PAGES if page.sections])
def test_that_a_field_is_described_by_its_help_unit_and_example(
    bench: Workbench, page_id: str
) -> None:
    bench.show_page(page_id)
    for field in bench.page.findChildren(Field):
        if not field.path:
            continue
        told = field.input.accessibleDescription()
        assert field.input.accessibleName() == field.spec.label
        for part in (field.spec.help, bench.bridge.unit_label(field.spec), field.spec.example):
            assert part in told, field.path


@pytest.fixture(params=DIALOGS)
def dialog(
    request: pytest.FixtureRequest, furniture: Furniture, window: MainWindow, bench: Workbench
) -> Iterator[QDialog]:
    assert bench is furniture.bench
    DIALOGS[request.param](furniture)
    make_whole()
    shown = next(one for one in window.findChildren(QDialog) if one.isVisible())
    yield shown
    shown.close()
    QApplication.processEvents()


def test_that_everything_in_a_dialog_has_a_name(dialog: QDialog) -> None:
    assert nameless(dialog) == []
    assert dialog.windowTitle()


@pytest.mark.parametrize("name", DIALOGS)
def test_that_a_dialog_opens_over_the_middle_of_its_window(
    furniture: Furniture, window: MainWindow, bench: Workbench, name: str
) -> None:
    assert bench is furniture.bench
    room = window.screen().availableGeometry()
    window.setGeometry(room)
    DIALOGS[name](furniture)
    make_whole()
    shown = next(one for one in window.findChildren(QDialog) if one.isVisible())
    assert shown.isModal()
    off = shown.frameGeometry().center() - room.center()
    too_wide = max(0, shown.width() - room.width())  # begins at the left edge of the screen then
    assert abs(off.x()) <= 30 + too_wide
    assert abs(off.y()) <= 30
    shown.close()


class Reader:
    """Stands in for what passes announcements to a screen reader, as if one were running."""

    said: ClassVar[list[str]] = []

    @staticmethod
    def isActive() -> bool:
        return True

    @classmethod
    def updateAccessibility(cls, event: QAccessibleAnnouncementEvent) -> None:
        cls.said.append(event.message())


def test_that_new_findings_are_announced_all_together(
    bench: Workbench, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(workbench, "QAccessible", Reader)
    monkeypatch.setattr(Reader, "said", [])
    said: list[str] = []
    bench.strip.new_found.connect(said.append)
    bench.bridge.enter("house.floor_area", "lots")
    bench.show_rest()
    assert len(said) == 1
    assert said[0] in Reader.said
    assert "lots" in said[0]
    bench.bridge.undo()
    assert len(said) == 1
    with qtbot.waitSignal(bench.strip.new_found):
        bench.bridge.enter_block("tests.0.readings", 0, [{"duct_pressure": "x"}] * 3)
    assert "more" in said[-1]


@pytest.mark.parametrize("colors", [LIGHT, DARK], ids=["light", "dark"])
def test_that_locked_entries_can_be_read(colors: Colors) -> None:
    palette = palette_of(colors)
    group, role = QPalette.ColorGroup.Disabled, QPalette.ColorRole
    grounds = (role.Window, role.Base, role.Button)
    for text in (role.WindowText, role.Text, role.ButtonText):
        ink = palette.color(group, text)
        assert ink != palette.color(QPalette.ColorGroup.Active, text)
        for ground in grounds:
            assert contrast(ink.name(), palette.color(group, ground).name()) >= READABLE
