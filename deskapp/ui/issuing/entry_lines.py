"""Cards with lines to type in, and their labels; some lines hide what is typed."""

from __future__ import annotations

from PySide6.QtWidgets import QFormLayout, QLineEdit, QVBoxLayout

from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words


def entry_card(title: str = "") -> tuple[Card, QVBoxLayout]:
    """Return a card and the column inside it, with `title` on top if there is one."""
    card = Card()
    column = QVBoxLayout(card)
    column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
    column.setSpacing(12)
    if title:
        column.addWidget(Words(title, Size.HEADING))
    return card, column


def entry_form() -> QFormLayout:
    """Return a form of labels and lines that grow."""
    form = QFormLayout()
    form.setHorizontalSpacing(2 * GRID)
    form.setVerticalSpacing(GRID + 2)
    form.setRowWrapPolicy(QFormLayout.RowWrapPolicy.WrapLongRows)
    form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
    return form


def entry_line(label: str, text: str = "") -> QLineEdit:
    """Return a line that a screen reader calls `label`."""
    return PlainLine(text, label)


def add_line(form: QFormLayout, label: str, text: str = "", *, hidden: bool = False) -> QLineEdit:
    """Add a line to a form; `hidden` shows dots for what is typed."""
    line = entry_line(label, text)
    if hidden:
        line.setEchoMode(QLineEdit.EchoMode.Password)
    words = Words(label, wraps=False)
    words.setBuddy(line)
    form.addRow(words, line)
    return line
