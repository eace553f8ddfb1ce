"""Fields that are chosen: yes or no, one of a list, a row of another list."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QSize, Qt
from PySide6.QtGui import QAction, QKeyEvent, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QSizePolicy,
    QStyle,
    QStyleOptionComboBox,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.plain_line import show_tip, wants_tip, whole_tip
from deskapp.ui.theme import UNBOUND
from deskapp.ui.ticks import Dot
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.ui.bridge import Bridge

_CLEARING_KEYS = (Qt.Key.Key_Delete, Qt.Key.Key_Backspace)


class Choices(QComboBox):
    """A drop-down that never changes because the page was scrolled over it.

    Where an answer is too long for it, the tip tells it whole.
    """

    def __init__(self, *, fits: bool = False) -> None:
        """With `fits` be as wide as the longest answer wherever there is room."""
        super().__init__()
        self._fits = fits
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)  # the wheel does not bring the cursor here
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToMinimumContentsLengthWithIcon)
        self.setMinimumContentsLength(10)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the answer back on Delete, where there is a line for no answer."""
        is_clearing = event.key() in _CLEARING_KEYS and not event.modifiers()
        if is_clearing and self.count() and self.itemData(0) is None:
            self.setCurrentIndex(0)
            self.activated.emit(0)
        else:
            super().keyPressEvent(event)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave scrolling to the page."""
        event.ignore()

    def showPopup(self) -> None:
        """Open the list wide enough for the longest answer."""
        view, metrics = self.view(), self.fontMetrics()
        texts = (self.itemText(at) for at in range(self.count()))
        wanted = max(map(metrics.horizontalAdvance, texts), default=0) + 2 * metrics.height()
        room = self.screen().availableGeometry().width() - 40
        view.setMinimumWidth(min(max(self.width(), wanted), room))
        super().showPopup()

    @property
    def room(self) -> int:
        """How wide an answer may be to be shown whole."""
        return self.width() - self._beside()

    @property
    def tip_text(self) -> str:
        """What the tip says: the whole answer first, where it is cut."""
        text = self.currentText()
        return whole_tip(text, self._width_of(text), self.room, self.toolTip())

    def event(self, event: QEvent) -> bool:
        """Tell what is cut."""
        return show_tip(self, event, self.tip_text) if wants_tip(event) else super().event(event)

    def sizeHint(self) -> QSize:
        """Be as tall as every other field, and as wide as is wished for."""
        width = super().sizeHint().width()
        if self._fits:
            texts = (self.itemText(at) for at in range(self.count()))
            width = max(width, max(map(self.width_for, texts), default=0))
        return QSize(width, self.fontMetrics().height() + 12)

    def width_for(self, text: str) -> int:
        """Return how wide this must be to show `text` whole."""
        return self._width_of(text) + self._beside()

    def _width_of(self, text: str) -> int:
        return self.fontMetrics().horizontalAdvance(text) + 2

    def _beside(self) -> int:
        """Return how wide the frame and the arrow are."""
        option = QStyleOptionComboBox()
        self.initStyleOption(option)
        whole = QStyle.ComplexControl.CC_ComboBox
        part = QStyle.SubControl.SC_ComboBoxEditField
        return self.width() - self.style().subControlRect(whole, option, part, self).width()


def fill_choices(
    box: Choices, bridge: Bridge, path: str, offered: tuple[tuple[str, str], ...] | None
) -> tuple[tuple[str, str], ...]:
    """Offer the answers of now in `box` and show the one held; return what is offered.

    `offered` is what the box holds already. The first line stands for no answer.
    """
    options = tuple((option.value, option.label) for option in bridge.options_at(path))
    if options != offered:
        box.clear()
        box.addItem("–", None)
        box.setItemData(0, _("not answered"), Qt.ItemDataRole.AccessibleTextRole)
        for value, label in options:
            box.addItem(label, value)
    held = bridge.value_at(path)
    at = box.findData(str(held)) if held else 0
    box.setCurrentIndex(max(at, 0))
    return options


class ChoiceField(Field):
    """One answer of a list, or a row of another list; the first line clears it."""

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self.box = Choices()
        self._offered: tuple[tuple[str, str], ...] | None = None
        self.box.activated.connect(self._choose)
        self._whole = Words("", Size.SMALL)
        self._whole.setContentsMargins(0, 2, 0, 0)
        self._whole.setMaximumHeight(0)
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.box)
        column.addWidget(self._whole)
        self._lay_out(held)

    @property
    def input(self) -> QWidget:
        """The drop-down."""
        return self.box

    def fill(self) -> None:
        """Offer the answers of now and show the one held."""
        self._offered = fill_choices(self.box, self._bridge, self.path, self._offered)
        self._show_whole()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Say the whole answer below a box that is too narrow for it."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._show_whole()

    @property
    def whole_answer(self) -> str:
        """The answer written out below the box; empty where the box shows all of it."""
        return self._whole.text()

    def _show_whole(self) -> None:
        """Give the answer a line, or none: to show and hide it would lay out the page each time."""
        text = self.box.currentText()
        room = self.width() - self.box.width() + self.box.room
        is_cut = self.box.fontMetrics().horizontalAdvance(text) > room > 0
        self._whole.setText(text if is_cut else "")
        self._whole.setMaximumHeight(UNBOUND if is_cut else 0)

    def _choose(self, at: int) -> None:
        self._bridge.choose(self.path, self.box.itemData(at))


_ARROWS = (Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down)


class _Answer(Dot):
    """One of the two answers; an arrow key leads to the other, Delete takes the answer back."""

    def __init__(self, field: YesNoField, value: str, label: str) -> None:
        super().__init__(label)
        self._field = field
        self.value = value
        self.setAccessibleName(f"{_(field.spec.label)}: {label}")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Take the answer back on Delete, and go to the other one with an arrow key."""
        if event.key() in _CLEARING_KEYS:
            self._field.answer(None)
        elif event.key() in _ARROWS:
            self._field.other(self).setFocus(Qt.FocusReason.TabFocusReason)
        else:
            super().keyPressEvent(event)


class YesNoField(Field):
    """A question; Delete, or the menu of the answer given, takes it back, but no second click.

    For the Tab key it is one place: the answer given, or the first where there is none.
    """

    def __init__(self, bridge: Bridge, spec: FieldSpec) -> None:
        super().__init__(bridge, spec)
        self._box = QWidget()
        row = QHBoxLayout(self._box)
        row.setContentsMargins(0, 4, 0, 4)
        row.setSpacing(20)
        labels = (("yes", _("Yes")), ("no", _("No")))
        self._answers = [_Answer(self, value, label) for value, label in labels]
        self._take_back = QAction(_("Take the answer back"), self)
        self._take_back.triggered.connect(lambda: self.answer(None))
        for answer in self._answers:
            answer.setAutoExclusive(False)
            answer.clicked.connect(self._on_click)
            answer.setContextMenuPolicy(Qt.ContextMenuPolicy.ActionsContextMenu)
            answer.addAction(self._take_back)
            row.addWidget(answer)
        row.addStretch(1)
        # A label leads only to what takes the focus itself; the Tab key goes to an answer.
        self._box.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        self._stop_at(self._answers[0])
        self._lay_out(self._box)

    @property
    def input(self) -> QWidget:
        """The pair of answers."""
        return self._box

    def fill(self) -> None:
        """Show the answer held."""
        held = self._bridge.value_at(self.path)
        for answer in self._answers:
            answer.setChecked(held == answer.value)
        self._take_back.setEnabled(bool(held))
        self._stop_at(next((one for one in self._answers if one.isChecked()), self._answers[0]))

    def other(self, answer: QWidget) -> QWidget:
        """The answer beside `answer`."""
        return self._answers[0 if answer is self._answers[1] else 1]

    def _stop_at(self, stop: QWidget) -> None:
        if self._box.focusProxy() is stop:
            return
        self._box.setFocusProxy(stop)
        for answer in self._answers:
            policy = Qt.FocusPolicy
            answer.setFocusPolicy(policy.StrongFocus if answer is stop else policy.ClickFocus)

    def answer(self, value: str | None) -> None:
        """Give an answer, or take it back with None."""
        self._bridge.choose(self.path, value)
        self.fill()

    def changeEvent(self, event: QEvent) -> None:
        """Keep the row of answers as tall as other fields when the font changes."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def _on_click(self) -> None:
        answer = self.sender()
        if isinstance(answer, _Answer):
            self.answer(answer.value)
