"""Keeps something wide from making a whole page scroll sideways."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QPalette, QResizeEvent, QWheelEvent
from PySide6.QtWidgets import QFrame, QScrollArea, QSizePolicy, QWidget


class SideScroll(QScrollArea):
    """As high as what is in it; scrolls sideways where the width does not do."""

    def __init__(self, inside: QWidget) -> None:
        super().__init__()
        self._inside = inside
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setWidgetResizable(True)
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.setVerticalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.viewport().setAutoFillBackground(False)
        inside.setAutoFillBackground(False)
        inside.setBackgroundRole(QPalette.ColorRole.NoRole)
        self.setWidget(inside)
        inside.setAutoFillBackground(False)
        inside.installEventFilter(self)

    def sizeHint(self) -> QSize:
        """Be as high as what is in it, with the bar if it is needed."""
        width = self.viewport().width()
        needed = self._inside.minimumSizeHint().width()
        layout = self._inside.layout()
        height = self._inside.sizeHint().height()
        if layout is not None and layout.hasHeightForWidth():
            height = layout.heightForWidth(max(width, needed))
        bar = self.horizontalScrollBar().sizeHint().height() if needed > width else 0
        return QSize(self._inside.sizeHint().width(), height + bar)

    def minimumSizeHint(self) -> QSize:
        """May be narrow, never lower than what is in it."""
        return QSize(120, self.sizeHint().height())

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Ask for another height where the width calls for it."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self.updateGeometry()

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave scrolling up and down to the page."""
        event.ignore()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Follow what is in it when it grows or shrinks."""
        if event.type() == QEvent.Type.LayoutRequest:
            self.updateGeometry()
        return super().eventFilter(watched, event)
