"""Texts nobody expects, and a hand that types them into whatever takes text."""

from __future__ import annotations

from collections.abc import Generator, Iterator
from contextlib import AbstractContextManager, contextmanager
from random import Random
from typing import cast

from hypothesis import strategies as st
from PySide6.QtCore import QEvent, Qt, QThreadPool
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QApplication,
    QComboBox,
    QDialog,
    QLineEdit,
    QMessageBox,
    QPlainTextEdit,
    QSpinBox,
    QTableWidget,
    QTextEdit,
    QWidget,
)
from pytestqt.exceptions import capture_exceptions

ODD = (
    *("", " ", "\t", "0", "-0", "-1", "1e9", "1e400", "9" * 400, "nan", "inf", "1,234.5", "1.234"),
    *("3,5 Pa", "150 cfm", "12 parsecs", "½", "٣٤", "１２", "1\u202e2", "\u200b", "\x00", "a\x07b"),
    *("\ud800", "<b>bold</b>", "&amp;", "{n}", "%s", "'; drop", "2026-02-30", "25:61", "ß" * 300),
    *("八疊", "👩‍🔧", "line\nbreak", "=1+1", "../../x", "C:\\x"),
)
TEXT = st.one_of(
    st.sampled_from(ODD),
    st.text(max_size=30),
    st.tuples(
        st.floats(allow_nan=True).map(repr) | st.integers().map(str),
        st.sampled_from(("", " ", "\N{NO-BREAK SPACE}")),
        st.sampled_from(("Pa", "cfm", "ft2", "°F", "in wg", "%", "L/s", "x", "m³/h", "'")),
    ).map("".join),
)
"""What is typed: known traps, whatever else there is in Unicode, and numbers with units."""

REJECT = QMessageBox.ButtonRole.RejectRole
Box = QLineEdit | QPlainTextEdit | QTextEdit


@contextmanager
def unbroken() -> Generator[None]:
    """Fail where a slot meets an error in the block."""
    with cast("AbstractContextManager[list[object]]", capture_exceptions()) as met:
        yield
    assert met == []


def boxes_in(root: QWidget) -> list[Box]:
    """Return what takes text in `root` as it stands."""
    found: list[Box] = []
    for kind in (QLineEdit, QPlainTextEdit, QTextEdit):
        for box in root.findChildren(kind):
            mine = box.isVisibleTo(root) and box.window() is root.window()
            if mine and box.isEnabled() and not box.isReadOnly():
                found.append(box)
    return found


def type_in(box: Box, text: str) -> None:
    """Replace what stands in a box, as one pastes it, and go on by Tab."""
    box.setFocus()
    box.selectAll()
    if text:
        QGuiApplication.clipboard().setText(text)
        box.paste()
    else:
        QTest.keyClick(box, Qt.Key.Key_Delete)
    QTest.keyClick(box, Qt.Key.Key_Tab)


def turn_choices(root: QWidget, chance: Random) -> None:
    """Choose something else in each list of answers in `root`."""
    for choice in root.findChildren(QComboBox):
        if choice.isVisibleTo(root) and choice.isEnabled() and choice.count():
            choice.setCurrentIndex(chance.randrange(choice.count()))
            choice.activated.emit(choice.currentIndex())
    for number in root.findChildren(QSpinBox):
        if number.isVisibleTo(root) and number.isEnabled():
            number.setValue(chance.choice((number.minimum(), number.maximum())))


def fill_tables(root: QWidget, texts: Iterator[str]) -> None:
    """Paste a block of texts into each table in `root` that takes one."""
    for table in root.findChildren(QTableWidget):
        if table.isVisibleTo(root) and table.rowCount() and table.columnCount():
            table.setCurrentCell(0, 0)
            table.setFocus()
            block = "\n".join("\t".join(next(texts) for _column in range(2)) for _row in range(3))
            QGuiApplication.clipboard().setText(block)
            QTest.keyClick(table, Qt.Key.Key_V, Qt.KeyboardModifier.ControlModifier)


def buttons_in(root: QWidget) -> list[QAbstractButton]:
    """Return what can be pressed in `root` as it stands."""
    return [
        button
        for button in root.findChildren(QAbstractButton)
        if button.isVisibleTo(root) and button.isEnabled() and button.window() is root.window()
    ]


def calm() -> None:
    """Let work beside the window come to its end, and what was put off be done."""
    QApplication.processEvents()
    QThreadPool.globalInstance().waitForDone(20_000)
    QApplication.processEvents()
    QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def shown_dialogs() -> list[QDialog]:
    """Return the dialogs on screen, the one in front last."""
    return [
        one
        for one in QApplication.topLevelWidgets()
        if isinstance(one, QDialog) and one.isVisible()
    ]


def close_all_but(*kept: QDialog) -> None:
    """Close what has come up in front, by Escape; give up what is asked about then."""
    for turn in range(20):
        others = [one for one in shown_dialogs() if one not in kept]
        if not others:
            return
        front = others[-1]
        boxes = [one for one in others if isinstance(one, QMessageBox)]
        if turn > 2 and boxes:
            answers = [b for b in boxes[-1].buttons() if boxes[-1].buttonRole(b) != REJECT]
            answers[-1].click()
        else:
            front.reject()
        QApplication.processEvents()
    raise AssertionError(f"does not close: {shown_dialogs()}")
