"""The cells of a grid: lines to type in, and choices."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QGuiApplication, QKeyEvent, QKeySequence

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import label_of
from deskapp.i18n import _
from deskapp.ui.fields.chosen_fields import Choices, fill_choices
from deskapp.ui.fields.field import description_of
from deskapp.ui.fields.line import EntryLine

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge

_CONTROL = Qt.KeyboardModifier.ControlModifier
_OTHER = _CONTROL | Qt.KeyboardModifier.ShiftModifier | Qt.KeyboardModifier.AltModifier


_STEPS = {
    Qt.Key.Key_Up: (-1, 0),
    Qt.Key.Key_Down: (1, 0),
    Qt.Key.Key_Left: (0, -1),
    Qt.Key.Key_Right: (0, 1),
}


_LETTERS, _DIGITS = 13, 8
"""How many of them a cell shows at least."""


class LineCell(EntryLine):
    """A line in a grid; what was copied from a table goes down and right.

    Ctrl+Delete removes the row, Ctrl+D copies from the row above, arrows go to the next cell.

    Signals: `pasted` with the text of a table; `removed` when the row shall go; `copied` when the
    cell above shall be copied; `stepped` with rows and columns to go.
    """

    pasted = Signal(str)
    removed = Signal()
    copied = Signal()
    stepped = Signal(int, int)

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self._named: str | None = None
        self._described: object = None
        letters = _LETTERS if spec.form is Form.TEXT else _DIGITS
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * letters)

    def refresh(self) -> None:
        """Show the value; its unit stands in the heading."""
        if self.path != self._named:
            self._named = self.path
            self.setAccessibleName(label_of(self.path))
        if self._bridge.preferences is not self._described:
            self._described = preferences = self._bridge.preferences
            self.rest_without = self._bridge.unit_label(self._spec)
            style = preferences.number_style
            self.setAccessibleDescription(description_of(self._spec, self.rest_without, style))
        super().refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take a pasted table apart, copy from above, go to the next cell, or remove the row."""
        if event.key() == Qt.Key.Key_Delete and event.modifiers() == _CONTROL:
            self.removed.emit()
        elif event.key() == Qt.Key.Key_D and event.modifiers() == _CONTROL:
            self.copied.emit()
        elif event.matches(QKeySequence.StandardKey.Paste) and self._holds_table():
            self.pasted.emit(QGuiApplication.clipboard().text().strip("\r\n"))
        elif event.key() in _STEPS and not event.modifiers() & _OTHER and self._goes_on(event):
            self.stepped.emit(*_STEPS[Qt.Key(event.key())])
        else:
            super().keyPressEvent(event)

    def _holds_table(self) -> bool:
        """Say whether the clipboard holds more than one cell."""
        text = QGuiApplication.clipboard().text().strip("\r\n")
        marks = "\n\r\t;" if self._spec.form is Form.QUANTITY else "\n\r\t"
        return any(mark in text for mark in marks)

    def _goes_on(self, event: QKeyEvent) -> bool:
        """Say whether an arrow leaves the cell: sideways only from the end of its text."""
        if event.key() in (Qt.Key.Key_Up, Qt.Key.Key_Down):
            return True
        if self.hasSelectedText():
            return self.selectedText() == self.text() and not self.is_being_typed
        edge = 0 if event.key() == Qt.Key.Key_Left else len(self.text())
        return self.cursorPosition() == edge


class ChoiceCell(Choices):
    """A choice in a grid; Ctrl+Delete removes the row, Ctrl+D copies from the row above.

    Signals: `removed` when the row shall go; `copied` when the cell above shall be copied.
    """

    removed = Signal()
    copied = Signal()

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__()
        self.path = ""
        self._bridge = bridge
        self._spec = spec
        self._offered: tuple[tuple[str, str], ...] | None = None
        self.setMinimumContentsLength(5)
        self.activated.connect(self._choose)

    @property
    def bridge(self) -> Bridge:
        """The door to the entries it belongs to."""
        return self._bridge

    @property
    def spec(self) -> FieldSpec:
        """What the program knows about this field."""
        return self._spec

    @property
    def is_being_typed(self) -> bool:
        """A choice is made at once."""
        return False

    def bind(self, path: str) -> None:
        """Show and edit another place of the job."""
        self.path = path
        self.refresh()

    def refresh(self) -> None:
        """Offer the answers of now and show the one held."""
        self._offered = fill_choices(self, self._bridge, self.path, self._offered)
        self.setAccessibleName(label_of(self.path))
        style = self._bridge.preferences.number_style
        self.setAccessibleDescription(description_of(self._spec, "", style))
        self.setToolTip(_(self._spec.help))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Remove the row, or copy from above."""
        if event.key() == Qt.Key.Key_Delete and event.modifiers() == _CONTROL:
            self.removed.emit()
        elif event.key() == Qt.Key.Key_D and event.modifiers() == _CONTROL:
            self.copied.emit()
        else:
            super().keyPressEvent(event)

    def _choose(self, at: int) -> None:
        self._bridge.choose(self.path, self.itemData(at))


Cell = LineCell | ChoiceCell


def cell_for(bridge: Bridge, spec: FieldSpec) -> Cell:
    """Return a cell for `spec`, not yet bound to a place of the job."""
    if spec.form in (Form.CHOICE, Form.REFERENCE):
        return ChoiceCell(bridge, spec)
    return LineCell(bridge, spec)
