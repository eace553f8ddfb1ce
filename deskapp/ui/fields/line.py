"""A line to type in: shows the value at rest, and the text as typed while it is edited."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QStringListModel, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent, QKeySequence
from PySide6.QtWidgets import QCompleter

from deskapp.ui.fields.plain_line import PlainLine

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.ui.bridge import Bridge

_POPUP = Qt.FocusReason.PopupFocusReason
_SAME_WINDOW = Qt.FocusReason.ActiveWindowFocusReason


def is_job_undo(event: QEvent) -> bool:
    """Say whether the keys pressed are those of undo or redo, which belong to the whole job."""
    return (
        isinstance(event, QKeyEvent)
        and event.type() == QEvent.Type.ShortcutOverride
        and (
            event.matches(QKeySequence.StandardKey.Undo)
            or event.matches(QKeySequence.StandardKey.Redo)
        )
    )


class EntryLine(PlainLine):
    """One typed field of the job.

    Signals: `left` when the field was left, `entered` when Enter was pressed in it.
    """

    left = Signal()
    entered = Signal()

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__()
        self.path = ""
        self.rest_without = ""
        self._bridge = bridge
        self._spec = spec
        self._known = ""
        self._value: object = None
        self._shown: tuple[object, ...] | None = None
        self._is_edited = False
        self._is_unsent = False
        self._offered: QStringListModel | None = None
        self.textEdited.connect(self._take_soon)
        self.returnPressed.connect(self._on_return)

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
        """Whether the text changed since the field was entered."""
        return self._is_edited

    def bind(self, path: str) -> None:
        """Show and edit another place of the job."""
        self.commit()
        self.path = path
        self.refresh()

    def refresh(self) -> None:
        """Show what the job holds; a text that is being typed stays as it is."""
        if not self.hasFocus():
            value = self._bridge.value_at(self.path)
            shown = (self.path, self._bridge.preferences, self.rest_without)
            if value is self._value and shown == self._shown:
                return
            self._value, self._shown = value, shown
            text = self._bridge.shown_text(self.path)
            self._put(text.removesuffix(self.rest_without).strip())
            return
        self._shown = None
        expected = self._bridge.entry_text(self.path)
        if self._bridge.entering == self.path:
            self._known = expected
            self._is_unsent = False
        elif expected != self._known:
            self._known = expected
            self._is_edited = self._is_unsent = False
            self._put(expected)

    def commit(self) -> None:
        """Take the text over into the job if it was changed and is not there yet."""
        self._is_edited = False
        if self._is_unsent:
            self._is_unsent = False
            self._bridge.enter(self.path, self.text())

    def retype(self, text: str) -> None:
        """Put another text in, as if it were typed."""
        self.selectAll()
        self.insert(text)

    def event(self, event: QEvent) -> bool:
        """Leave undo and redo to the window."""
        if is_job_undo(event):
            event.ignore()
            return False
        return super().event(event)

    def focusInEvent(self, event: QFocusEvent) -> None:
        """Show the text as typed."""
        super().focusInEvent(event)
        if event.reason() != _POPUP and self.path:
            self._shown = None
            self._known = self._bridge.entry_text(self.path)
            self._put(self._known)
            if event.reason() != _SAME_WINDOW:
                self.selectAll()
                self._offer()

    def focusOutEvent(self, event: QFocusEvent) -> None:
        """Take the text over and show the value."""
        super().focusOutEvent(event)
        if event.reason() != _POPUP and self.path:
            self.commit()
            self.refresh()
            self.left.emit()
            self._bridge.leave()

    def _put(self, text: str) -> None:
        if text != self.text():
            self.setText(text)
            self.setCursorPosition(0 if not self.hasFocus() else len(text))

    def _offer(self) -> None:
        """Offer what was typed here in earlier jobs."""
        if not self._spec.recalled:
            return
        if self._offered is None:
            self._offered = QStringListModel(self)
            completer = QCompleter(self._offered, self)
            completer.setCaseSensitivity(Qt.CaseSensitivity.CaseInsensitive)
            completer.setFilterMode(Qt.MatchFlag.MatchContains)
            completer.activated.connect(self._take_soon)
            self.setCompleter(completer)
        self._offered.setStringList(list(self._bridge.recall(self._spec.path)))

    def _take_soon(self, text: str) -> None:
        self._is_edited = self._is_unsent = True
        self._bridge.enter_soon(self.path, text)

    def _on_return(self) -> None:
        self.commit()
        self.selectAll()
        self.entered.emit()
