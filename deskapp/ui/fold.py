"""A heading that folds what stands below it away, and back again."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QSizePolicy, QToolButton, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID


class FoldButton(QToolButton):
    """An arrow and a few words; it says to a screen reader whether it is open.

    Signals: `turned` with whether it is open now.
    """

    turned = Signal(bool)

    def __init__(self, text: str, about: str = "") -> None:
        super().__init__()
        self._about = about
        self._is_open = False
        self.setAutoRaise(True)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextBesideIcon)
        self.setSizePolicy(QSizePolicy.Policy.Maximum, QSizePolicy.Policy.Fixed)
        self.clicked.connect(self.turn)
        self.say(text)
        self._point()

    @property
    def is_open(self) -> bool:
        """Whether what belongs to it is shown."""
        return self._is_open

    def turn(self) -> None:
        """Unfold what is folded away, and the other way round."""
        self._is_open = not self._is_open
        self._point()
        self.turned.emit(self._is_open)

    def say(self, text: str) -> None:
        """Show other words."""
        if text != self.text():
            self.setText(text)
            self.setAccessibleName(f"{text}, {self._about}" if self._about else text)

    def sizeHint(self) -> QSize:
        """Leave air around the words."""
        size = super().sizeHint()
        return QSize(size.width() + GRID, max(size.height(), self.fontMetrics().height() + 10))

    def _point(self) -> None:
        arrow = Qt.ArrowType.DownArrow if self._is_open else Qt.ArrowType.RightArrow
        self.setArrowType(arrow)
        self.setAccessibleDescription(_("unfolded") if self._is_open else _("folded away"))


class Fold(QWidget):
    """A fold button and the widget below it.

    Signals: `opened` whenever it was unfolded.
    """

    opened = Signal()

    def __init__(self, text: str, body: QWidget, about: str = "") -> None:
        super().__init__()
        self.button = FoldButton(text, about)
        self.body = body
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID)
        column.addWidget(self.button)
        column.addWidget(body)
        body.setVisible(False)
        self.button.turned.connect(self._fold)

    @property
    def is_open(self) -> bool:
        """Whether the body is shown."""
        return self.button.is_open

    def unfold(self, is_open: bool = True) -> None:
        """Show the body, or fold it away."""
        if is_open != self.is_open:
            self.button.turn()

    def _fold(self, is_open: bool) -> None:
        self.body.setVisible(is_open)
        if is_open:
            self.opened.emit()
