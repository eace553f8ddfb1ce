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


class LineCell(EntryLine):
    """A line in a grid; what was copied from a table goes down the rows, Ctrl+Delete removes one.

    Signals: `pasted` with the lines of a table, its columns apart by tabs; `removed` when the row
    shall go.
    """

    pasted = Signal(list)
    removed = Signal()

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self._named: tuple[object, ...] | None = None
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 9)

    def refresh(self) -> None:
        """Show the value; its unit stands in the heading."""
        named = (self.path, self._bridge.preferences)
        if named != self._named:
            self._named = named
            self.rest_without = self._bridge.unit_label(self._spec)
            self.setAccessibleName(label_of(self.path))
            self.setAccessibleDescription(description_of(self._spec, self.rest_without))
        super().refresh()

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take a pasted column apart; remove the row."""
        if event.key() == Qt.Key.Key_Delete and event.modifiers() == _CONTROL:
            self.removed.emit()
            return
        if event.matches(QKeySequence.StandardKey.Paste):
            texts = QGuiApplication.clipboard().text().strip("\r\n").splitlines()
            if len(texts) > 1 or any("\t" in text for text in texts):
                self.pasted.emit(texts)
                return
        super().keyPressEvent(event)


class ChoiceCell(Choices):
    """A choice in a grid; Ctrl+Delete removes the row.

    Signals: `removed` when the row shall go.
    """

    removed = Signal()

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__()
        self.path = ""
        self._bridge = bridge
        self._spec = spec
        self._offered: tuple[tuple[str, str], ...] | None = None
        self.setMinimumContentsLength(7)
        self.activated.connect(self._choose)

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
        self.setAccessibleDescription(description_of(self._spec, ""))
        self.setToolTip(_(self._spec.help))

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Remove the row."""
        if event.key() == Qt.Key.Key_Delete and event.modifiers() == _CONTROL:
            self.removed.emit()
            return
        super().keyPressEvent(event)

    def _choose(self, at: int) -> None:
        self._bridge.choose(self.path, self.itemData(at))


Cell = LineCell | ChoiceCell


def cell_for(bridge: Bridge, spec: FieldSpec) -> Cell:
    """Return a cell for `spec`, not yet bound to a place of the job."""
    if spec.form in (Form.CHOICE, Form.REFERENCE):
        return ChoiceCell(bridge, spec)
    return LineCell(bridge, spec)
