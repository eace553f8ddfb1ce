"""One entry of a limit of one's own: label, input, and the message under it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QPlainTextEdit,
    QVBoxLayout,
    QWidget,
)

from deskapp.session.own_limit_form import LimitInput
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Size, Words
from deskapp.units.when import DAY_EXAMPLE

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.session.own_limit_form import OwnField

_WIDE = (LimitInput.PARAGRAPH, LimitInput.ANSWERS)


class PlainSheet(QPlainTextEdit):
    """Several lines; Tab leaves it.

    Signals: `left` when it was left.
    """

    left = Signal()

    def __init__(self, lines: int = 3, *, grows: bool = False) -> None:
        """Be `lines` high, or with `grows` at least so high."""
        super().__init__()
        self.setTabChangesFocus(True)
        self.setViewportMargins(3, 2, 3, 2)
        height = self.fontMetrics().lineSpacing() * lines + 16
        self.setMinimumHeight(height)
        if not grows:
            self.setMaximumHeight(height)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Say that it was left."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()


class OwnEntry(QWidget):
    """One entry.

    Signals: `typed` with path and text when a text was left, `answered` with path and answers.
    """

    typed = Signal(str, str)
    answered = Signal(str, tuple)

    def __init__(self, field: OwnField) -> None:
        super().__init__()
        self.field = field
        self.message = Notice()
        self.line: PlainLine | None = None
        self.sheet: PlainSheet | None = None
        self.box: Choices | None = None
        self.ticks: list[Tick] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        star = "\N{NO-BREAK SPACE}*" if field.needed else ""
        column.addWidget(Words(field.label + star))
        column.addWidget(self._input())
        column.addWidget(self.message)

    @property
    def is_wide(self) -> bool:
        """Whether the entry takes a whole row."""
        return self.field.entry in _WIDE

    @property
    def text(self) -> str:
        """The text that stands in the input."""
        if self.sheet is not None:
            return self.sheet.toPlainText()
        return self.line.text() if self.line is not None else ""

    def commit(self) -> None:
        """Hand over the text typed, if it was changed."""
        if (self.line or self.sheet) and self.text != self.field.text:
            self.typed.emit(self.field.path, self.text)

    def show_field(self, field: OwnField) -> None:
        """Show what is held now; no message any more."""
        self.field = field
        self.message.hide()
        if self.line is not None and self.line.text() != field.text:
            self.line.setText(field.text)
        if self.sheet is not None and self.sheet.toPlainText() != field.text:
            self.sheet.setPlainText(field.text)
        if self.box is not None:
            self.box.setCurrentIndex(max(0, self.box.findData((field.chosen or ("",))[0])))
        for tick, option in zip(self.ticks, field.options, strict=False):
            tick.setChecked(option.value in field.chosen)

    def tell(self, finding: Finding) -> None:
        """Show why the text was not taken."""
        glyph, word = level_of(finding.level)
        self.message.say(glyph, word, finding.text)
        for part in (self.line, self.sheet, self.box):
            if part is not None:
                part.setAccessibleDescription(finding.text)

    def _input(self) -> QWidget:
        field = self.field
        if field.entry is LimitInput.ANSWER:
            return self._new_box()
        if field.entry is LimitInput.ANSWERS:
            return self._new_ticks()
        if field.entry is LimitInput.PARAGRAPH:
            self.sheet = PlainSheet()
            self.sheet.setPlainText(field.text)
            self.sheet.setAccessibleName(field.label)
            self.sheet.left.connect(self.commit)
            return self.sheet
        self.line = PlainLine(field.text)
        self.line.setCursorPosition(0)
        self.line.setAccessibleName(f"{field.label}, {field.unit}" if field.unit else field.label)
        self.line.editingFinished.connect(self.commit)
        if field.entry is LimitInput.DAY:
            self.line.setPlaceholderText(DAY_EXAMPLE)
        if not field.unit:
            return self.line
        beside = QWidget()
        row = QHBoxLayout(beside)
        row.setContentsMargins(0, 0, 0, 0)
        row.addWidget(self.line, 1)
        row.addWidget(Words(field.unit, Size.SMALL, muted=True, wraps=False), 1)
        return beside

    def _new_box(self) -> Choices:
        self.box = Choices()
        self.box.setAccessibleName(self.field.label)
        for option in self.field.options:
            self.box.addItem(option.label, option.value)
        self.box.setCurrentIndex(max(0, self.box.findData((self.field.chosen or ("",))[0])))
        self.box.activated.connect(self._answer)
        return self.box

    def _new_ticks(self) -> QWidget:
        beside = QWidget()
        grid = QGridLayout(beside)
        grid.setContentsMargins(0, 2, 0, 2)
        grid.setHorizontalSpacing(2 * GRID)
        for at, option in enumerate(self.field.options):
            tick = Tick(option.label)
            tick.setAccessibleName(f"{self.field.label}: {option.label}")
            tick.setChecked(option.value in self.field.chosen)
            tick.clicked.connect(self._answer)
            self.ticks.append(tick)
            grid.addWidget(tick, *divmod(at, 2))
        grid.setColumnStretch(0, 1)
        grid.setColumnStretch(1, 1)
        return beside

    def _answer(self) -> None:
        if self.box is not None:
            self.answered.emit(self.field.path, (str(self.box.currentData()),))
            return
        pairs = zip(self.ticks, self.field.options, strict=True)
        answers = tuple(option.value for tick, option in pairs if tick.isChecked())
        self.answered.emit(self.field.path, answers)
