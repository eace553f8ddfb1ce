"""One field of a form: label, input, message under it, small print."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.domain.field_spec import Form
from deskapp.i18n import N_, _
from deskapp.ui.levels import tell_findings
from deskapp.ui.marks import Notice
from deskapp.ui.words import Size, Words
from deskapp.units.display import example_in_words, prose, writing

if TYPE_CHECKING:
    from PySide6.QtGui import QFont

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.ui.bridge import Bridge
    from deskapp.units.numbers import NumberStyle

_WRAPPED = int(Qt.TextFlag.TextWordWrap) | int(Qt.TextFlag.TextShowMnemonic)
_NOW = {
    Form.DAY: N_("Control and semicolon put in today, Alt and Down open a calendar."),
    Form.CLOCK: N_("Control and semicolon put in the time of now."),
}


def description_of(spec: FieldSpec, unit: str, style: NumberStyle) -> str:
    """Return what a screen reader says about a field after its name; numbers in `style`."""
    with writing(style):
        return _description_of(spec, unit)


def _description_of(spec: FieldSpec, unit: str) -> str:
    parts = [prose(_(spec.help))] if spec.help else []
    if unit:
        parts.append(_("In {unit} if no unit is typed.").format(unit=unit))
    if spec.example:
        parts.append(_("Such as {example}.").format(example=_example(spec)))
    if spec.form in _NOW:
        parts.append(_(_NOW[spec.form]))
    if spec.needed:
        parts.append(_("Stated in the compliance report."))
    return " ".join(parts)


def _example(spec: FieldSpec) -> str:
    return example_in_words(spec.example) if spec.form is Form.QUANTITY else spec.example


class Field(QWidget):
    """A field of the table, bound to one place of the job.

    The kinds of field differ in their input widget: they make it, fill it and tell whether it is
    being typed in.
    """

    wide = False

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__()
        self.spec = spec
        self.path = ""
        self._described: tuple[object, str] | None = None
        self._in_one_line: tuple[str, QFont | None, QSize] = ("", None, QSize())
        self._bridge = bridge
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(3)
        label = _(spec.label)
        self._words = f"{label}\N{NO-BREAK SPACE}*" if spec.needed else label
        self.label = Words(self._words)
        self.label.setAlignment(Qt.AlignmentFlag.AlignBottom)
        self._column.addWidget(self.label)
        self.message = Notice()
        self._help = Words(_(spec.help), Size.SMALL, muted=True)
        if not spec.help:
            self._help.hide()

    @property
    def bridge(self) -> Bridge:
        """The door to the entries it belongs to."""
        return self._bridge

    @property
    @abstractmethod
    def input(self) -> QWidget:
        """The widget that takes the keyboard focus."""

    @property
    def is_being_typed(self) -> bool:
        """Whether the input holds a change that was not left yet."""
        return False

    @abstractmethod
    def fill(self) -> None:
        """Show what the job holds."""

    def commit(self) -> None:
        """Take an unfinished change over into the job."""

    def bind(self, path: str) -> None:
        """Show and edit another place of the job."""
        self.commit()
        self.path = path
        self.refresh()

    def refresh(self) -> None:
        """Show what the job holds and what there is to say about it."""
        self.fill()
        self.tell()

    def tell(self) -> None:
        """Show the message about this field; a new one waits until the field was left."""
        if self._bridge.may_tell(self.path):
            findings = self._bridge.findings_at(self.path)
            if not findings:
                self.message.hide()
            elif not self.message.isHidden() or not self.is_being_typed:
                tell_findings(self.message, findings)
        self.describe()

    def show_key(self, text: str) -> None:
        """Show the label with an access key, or without one where `text` is empty."""
        self.label.setText(text or self._words)

    def label_height(self, width: int) -> int:
        """Return how high the words of the label are at `width`, whatever it was given before.

        Words that fit into one line are measured once: a page asks whenever its width changes.
        """
        text, font = self.label.text(), self.label.font()
        if self._in_one_line[:2] != (text, font):
            size = self.label.fontMetrics().size(int(Qt.TextFlag.TextShowMnemonic), text)
            self._in_one_line = (text, font, size)
        size = self._in_one_line[2]
        if size.width() < width:
            return size.height()
        room = QRect(0, 0, width, 0)
        return self.label.fontMetrics().boundingRect(room, _WRAPPED, text).height()

    def give_label(self, height: int) -> bool:
        """Make the label `height` high, its words at the bottom; say whether it was not before."""
        is_new = height != self.label.minimumHeight()
        if is_new:
            self.label.setMinimumHeight(height)
        return is_new

    def take_focus(self) -> None:
        """Put the cursor into this field."""
        self.input.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def describe(self) -> None:
        """Say to a screen reader what is asked, in which unit, and what is wrong with it."""
        message = "" if self.message.isHidden() else self.message.text
        described = (self._bridge.preferences, message)
        if described == self._described:
            return
        self._described = described
        style = self._bridge.preferences.number_style
        text = description_of(self.spec, self._bridge.unit_label(self.spec), style)
        with writing(style):
            self._help.setText(prose(_(self.spec.help)))
        text = f"{message} {text}".strip()
        self.input.setAccessibleDescription(text)
        self.input.setToolTip(text if self._help.isHidden() else "")

    def _lay_out(self, row: QWidget) -> None:
        """Put the input below the label, and name it."""
        self._column.addWidget(row)
        self._column.addWidget(self.message)
        self._column.addWidget(self._help)
        self._column.addStretch(1)
        self.label.setBuddy(self.input)
        self.input.setAccessibleName(_(self.spec.label))
