"""Keys: Tab both ways, access keys of labels, and the keys of the menus."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest
from PySide6.QtCore import QSettings, Qt
from PySide6.QtGui import QKeySequence
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QLineEdit, QMenu, QWidget
from pytestqt.qtbot import QtBot

from deskapp.i18n import speaking
from deskapp.session.pages import PAGES, Page
from deskapp.ui.access_keys import keyed, letters_of_menus
from deskapp.ui.field_sheet import FieldSheet
from deskapp.ui.fields.chosen_fields import YesNoField
from deskapp.ui.main_window import MainWindow
from deskapp.ui.theme import Theme
from deskapp.ui.ticks import Dot
from deskapp.ui.workbench import Workbench

FORM_PAGES = [page for page in PAGES if page.sections]


def filled(bench: Workbench, page: Page) -> None:
    for section in page.sections:
        list_path = section.list_path.replace("*", "0")
        if list_path and bench.bridge.row_count(list_path) == 0:
            bench.bridge.add_row(list_path)
    bench.show_page(page.id)


@pytest.mark.parametrize("page", FORM_PAGES, ids=lambda page: page.id)
def test_that_tab_and_shift_tab_go_the_same_way_and_are_never_caught(
    bench: Workbench, qtbot: QtBot, page: Page
) -> None:
    filled(bench, page)
    bench.page.take_focus()
    way = [bench.focusWidget()]
    while len(way) < 200:
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Tab)
        if QApplication.focusWidget() is way[0]:
            break
        way.append(QApplication.focusWidget())
    assert len(way) < 200, "Tab comes round"
    assert len(set(way)) == len(way)
    back: list[QWidget] = []
    for _step in way:
        qtbot.keyClick(QApplication.focusWidget(), Qt.Key.Key_Backtab)
        back.append(QApplication.focusWidget())
    assert back == [*way[:0:-1], way[0]]


def sheets(bench: Workbench) -> list[FieldSheet]:
    found = bench.page.findChildren(FieldSheet)
    return [one for one in found if any(f.label.isVisible() for f in one.fields)]


def key_of(text: str) -> str:
    return QKeySequence.mnemonic(text).toString().rpartition("+")[2].casefold()


@pytest.mark.parametrize("page", FORM_PAGES, ids=lambda page: page.id)
def test_that_labels_of_the_section_at_hand_have_access_keys_and_no_letter_twice(
    bench: Workbench, page: Page
) -> None:
    filled(bench, page)
    menus = letters_of_menus(bench)
    assert len(menus) == len(bench.window().menuBar().actions())
    for sheet in sheets(bench):
        here = [field for field in sheet.fields if field.label.isVisible()]
        here[0].take_focus()
        keys = [key_of(field.label.text()) for one in sheets(bench) for field in one.fields]
        given = [key for key in keys if key]
        assert len(set(given)) == len(given), "no letter twice on the page"
        assert not menus & set(given)
        for field in here:
            letters = {char.casefold() for char in field.label.text() if char.isalpha()}
            assert key_of(field.label.text()) or letters <= menus | set(given)


def test_that_alt_and_the_letter_lead_to_the_field_also_of_a_question(
    bench: Workbench, qtbot: QtBot
) -> None:
    bench.go_to("safety.gas_smell")
    sheet = next(s for s in sheets(bench) if any(f.path == "safety.gas_smell" for f in s.fields))
    for path in ("safety.ambient_co", "safety.gas_smell"):
        field = next(one for one in sheet.fields if one.path == path)
        letter = key_of(field.label.text())
        assert letter
        key = Qt.Key(ord(letter.upper()))
        qtbot.keyClick(QApplication.focusWidget(), key, Qt.KeyboardModifier.AltModifier)
        assert field.isAncestorOf(QApplication.focusWidget()), path


def test_that_keys_prefer_first_letters_and_give_up_where_none_is_left() -> None:
    assert keyed(["Fan used", "Fan signal", "R & D"], {"f"}) == [
        "Fan &used",
        "Fan &signal",
        "&R && D",
    ]
    assert keyed(["Aa", "AA", "12"], set()) == ["&Aa", "AA", "12"]


def test_that_the_keys_of_the_menus_are_the_known_ones_and_none_stands_twice(
    window: MainWindow,
) -> None:
    commands = window.commands
    for action, keys in (
        (commands.new, "Ctrl+N"),
        (commands.open, "Ctrl+O"),
        (commands.save, "Ctrl+S"),
        (commands.save_as, "Ctrl+Shift+S"),
        (commands.undo, "Ctrl+Z"),
        (commands.redo, "Ctrl+Shift+Z"),
        (commands.quit, "Ctrl+Q"),
        (commands.preferences, "Ctrl+,"),
    ):
        assert QKeySequence(keys) in action.shortcuts(), keys
    every = [keys.toString() for action in window.actions() for keys in action.shortcuts()]
    for menu in commands.menus:
        every.extend(k.toString() for action in menu.actions() for k in action.shortcuts())
        letters = Counter(key_of(a.text()) for a in menu.actions() if key_of(a.text()))
        assert max(letters.values(), default=1) == 1, (menu.title(), letters)
    assert len(set(every)) == len(every)


@pytest.mark.parametrize("spoken", ["en", "es", "fr_CA"])
def test_that_no_menu_has_an_access_key_twice_in_any_language(
    qtbot: QtBot, theme: Theme, tmp_path: Path, spoken: str
) -> None:
    with speaking(spoken):
        window = MainWindow(theme, QSettings(str(tmp_path / "w.ini"), QSettings.Format.IniFormat))
    qtbot.addWidget(window)
    bar = window.menuBar()
    menus = [bar, *window.findChildren(QMenu)]
    assert len(menus) > len(bar.actions()) > 4
    for menu in menus:
        texts = [action.text() for action in menu.actions()]
        keys = [found[1].upper() for text in texts if (found := re.search(r"&(\w)", text))]
        assert len(keys) == len(set(keys)), (spoken, texts)


def test_that_a_question_is_one_place_for_tab_and_leads_to_the_answer_given(
    window: MainWindow, bench: Workbench, qtbot: QtBot
) -> None:
    bench.go_to("safety.gas_smell")
    fields = bench.page.findChildren(YesNoField)
    field = next(one for one in fields if one.path == "safety.gas_smell")
    yes, no = field.findChildren(Dot)
    assert QApplication.focusWidget() is yes
    qtbot.keyClick(yes, Qt.Key.Key_Space)
    assert bench.bridge.value_at(field.path) == "yes"
    qtbot.keyClick(yes, Qt.Key.Key_Tab)
    assert QApplication.focusWidget() not in (yes, no)
    assert bench.bridge.value_at(field.path) == "yes"
    yes.setFocus()
    qtbot.keyClick(yes, Qt.Key.Key_Right)
    assert QApplication.focusWidget() is no
    assert bench.bridge.value_at(field.path) == "yes"
    qtbot.keyClick(no, Qt.Key.Key_Space)
    assert bench.bridge.value_at(field.path) == "no"
    window.setFocus()
    bench.go_to(field.path)
    assert QApplication.focusWidget() is no


def test_that_a_letter_pressed_with_alt_is_not_typed(bench: Workbench, qtbot: QtBot) -> None:
    bench.go_to("site.postal_code")
    line = QApplication.focusWidget()
    assert isinstance(line, QLineEdit)
    qtbot.keyClicks(line, "99999")
    taken = {key_of(label.text()).casefold() for label in bench.page.findChildren(QLabel)}
    free = next(letter for letter in "xqjzkvw" if letter not in taken)
    alt = Qt.KeyboardModifier.AltModifier
    QTest.keyEvent(QTest.KeyAction.Click, line, free, alt)
    assert line.text() == "99999"
    qtbot.keyClicks(line, "x")
    assert line.text() == "99999x"
