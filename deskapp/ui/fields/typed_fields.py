"""Fields that are typed: quantity, text, paragraph."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent
from PySide6.QtWidgets import QHBoxLayout, QPlainTextEdit, QWidget

from deskapp.ui.fields.field import Field
from deskapp.ui.fields.line import EntryLine, is_job_undo
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.ui.bridge import Bridge


class LineField(Field):
    """One line of text."""

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self.line = EntryLine(bridge, spec)
        self.line.left.connect(self.refresh)
        self.line.entered.connect(self.tell)
        self._lay_out(self._dressed())

    @property
    def input(self) -> QWidget:
        """The line."""
        return self.line

    @property
    def is_being_typed(self) -> bool:
        """Whether the text changed since the field was entered."""
        return self.line.is_being_typed

    def bind(self, path: str) -> None:
        """Show and edit another place of the job."""
        self.line.bind(path)
        super().bind(path)

    def fill(self) -> None:
        """Show the text."""
        self.line.refresh()

    def commit(self) -> None:
        """Take the text over into the job."""
        self.line.commit()

    def _dressed(self) -> QWidget:
        """Return the line with what stands beside it."""
        return self.line


class QuantityField(LineField):
    """A quantity: the line, and the value in the other unit system beside it."""

    def _dressed(self) -> QWidget:
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(8)
        self._value: object = None
        self._echoed: tuple[object, ...] | None = None
        self._echo = Words("", Size.SMALL, muted=True, wraps=False)
        self.line.setFixedWidth(self.line.fontMetrics().averageCharWidth() * 20)
        row.addWidget(self.line)
        row.addWidget(self._echo, 1)
        return box

    @property
    def echo(self) -> str:
        """What stands beside the field."""
        return self._echo.text()

    def fill(self) -> None:
        """Show the quantity and its echo."""
        super().fill()
        value = self._bridge.value_at(self.path)
        echoed = (self.path, self._bridge.preferences)
        if value is self._value and echoed == self._echoed:
            return
        self._value, self._echoed = value, echoed
        self.line.setPlaceholderText(self._bridge.unit_label(self.spec))
        self._echo.setText(self._bridge.echo(self.spec, self.path))


class _Sheet(QPlainTextEdit):
    """Several lines; Tab leaves it.

    Signals: `left` when the sheet was left.
    """

    left = Signal()

    def __init__(self) -> None:
        super().__init__()
        self.setTabChangesFocus(True)
        self.setViewportMargins(3, 2, 3, 2)
        self.setFixedHeight(self.fontMetrics().lineSpacing() * 4 + 16)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window."""
        if is_job_undo(event):
            event.ignore()
            return False
        return super().event(event)

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Say that the sheet was left."""
        super().focusOutEvent(event)
        if event.reason() != Qt.FocusReason.PopupFocusReason:
            self.left.emit()

    def minimumSizeHint(self) -> QSize:
        """Fit into one column."""
        return QSize(self.fontMetrics().averageCharWidth() * 20, self.height())


class ParagraphField(Field):
    """Several lines of free text."""

    wide = True

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self._sheet = _Sheet()
        self._is_edited = False
        self._is_unsent = False
        self._is_filling = False
        self._sheet.textChanged.connect(self._take_soon)
        self._sheet.left.connect(self._leave)
        self._lay_out(self._sheet)

    @property
    def input(self) -> QWidget:
        """The sheet."""
        return self._sheet

    @property
    def is_being_typed(self) -> bool:
        """Whether the text changed since the field was entered."""
        return self._is_edited

    def fill(self) -> None:
        """Show the text, unless it is the one being typed."""
        if self._bridge.entering == self.path and self._sheet.hasFocus():
            self._is_unsent = False
            return
        text = self._bridge.entry_text(self.path)
        if text != self._sheet.toPlainText():
            self._is_filling = True
            self._sheet.setPlainText(text)
            self._is_filling = False
            self._is_edited = self._is_unsent = False

    def commit(self) -> None:
        """Take the text over into the job if it was changed and is not there yet."""
        self._is_edited = False
        if self._is_unsent:
            self._is_unsent = False
            self._bridge.enter(self.path, self._sheet.toPlainText())

    def _take_soon(self) -> None:
        if not self._is_filling:
            self._is_edited = self._is_unsent = True
            self._bridge.enter_soon(self.path, self._sheet.toPlainText())

    def _leave(self) -> None:
        self.commit()
        self.refresh()
        self._bridge.leave()
