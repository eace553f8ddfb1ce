"""Where the parts of the workbench stand: the result beside the page or below it, the preview."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.ui.notice_bar import NoticeBar
    from deskapp.ui.preview import PreviewPane
    from deskapp.ui.result_pane import ResultPane

_PAGE_AND_RESULT = 146
_PAGE, _PANE, _WIDEST_PANE = 84, 60, 110
"""Widths in letters: of a page with the result beside it, of a page alone, of the preview."""


class BenchLayout(QGridLayout):
    """Steps, page, result and preview side by side, notices above them and findings below.

    In a narrow window the result goes below the page, and the preview away.
    """

    def __init__(
        self,
        bench: QWidget,
        notice: NoticeBar,
        steps: QWidget,
        pages: QWidget,
        result: ResultPane,
        strip: QWidget,
        fit: Callable[[], None],
    ) -> None:
        """Lay out the parts of `bench`; `fit` fits them to its width before they are placed."""
        super().__init__(bench)
        self._fit = fit
        self._bench, self._steps, self._result = bench, steps, result
        self._pane: PreviewPane | None = None
        self.setContentsMargins(0, 0, 0, 0)
        self.setSpacing(0)
        self._top = QVBoxLayout()
        self._top.addWidget(notice)
        self.addLayout(self._top, 0, 0, 1, 7)
        self.addWidget(steps, 1, 0, 2, 1)
        self.addWidget(_rule(vertical=True), 1, 1, 2, 1)
        self.addWidget(pages, 1, 2)
        self.addWidget(result, 1, 4)
        self._beside_result = _rule(vertical=True)
        self.addWidget(self._beside_result, 1, 3)
        self._beside_pane = _rule(vertical=True)
        self._beside_pane.hide()
        self.addWidget(self._beside_pane, 1, 5, 2, 1)
        self.addWidget(_rule(vertical=False), 3, 0, 1, 7)
        self.addWidget(strip, 4, 0, 1, 7)
        self.setColumnStretch(2, 1)
        self.setRowStretch(1, 1)

    def setGeometry(self, rect: QRect, /) -> None:
        """Place the parts, once: those that depend on the width take their own width first."""
        if rect.width() != self.geometry().width():
            self._fit()
        super().setGeometry(rect)

    def put_on_top(self, bar: QWidget) -> None:
        """Put something across the page, below a notice."""
        self._top.addWidget(bar)

    def add_pane(self, pane: PreviewPane) -> None:
        """Let the preview have a place; `place` shows it."""
        self._pane = pane
        pane.hide()
        self.addWidget(pane, 1, 6, 2, 1)

    def place(self, *, wants_pane: bool) -> None:
        """Put everything where the width of the workbench has room for it."""
        em = self._bench.fontMetrics().averageCharWidth()
        room = self._bench.width() - self._steps.width()
        room -= self._place_pane(room, em, wants_pane=wants_pane)
        flat = room < em * _PAGE_AND_RESULT
        if flat == self._result.is_flat:
            return
        self.removeWidget(self._result)
        self._result.set_flat(flat)
        self._beside_result.setVisible(not flat)
        if flat:
            self.addWidget(self._result, 2, 2, 1, 3)
        else:
            self.addWidget(self._result, 1, 4)

    def _place_pane(self, room: int, em: int, *, wants_pane: bool) -> int:
        """Show the preview if it is wished and there is room; return the width it takes."""
        if self._pane is None:
            return 0
        fits = wants_pane and room >= em * (_PAGE + _PANE)
        width = min(max(em * _PANE, room * 2 // 5), em * _WIDEST_PANE) if fits else 0
        if fits:
            self._pane.setFixedWidth(width)
        self._pane.setVisible(fits)
        self._beside_pane.setVisible(fits)
        return width


def _rule(*, vertical: bool) -> QFrame:
    rule = QFrame()
    rule.setFrameShape(QFrame.Shape.VLine if vertical else QFrame.Shape.HLine)
    rule.setFrameShadow(QFrame.Shadow.Plain)
    rule.setForegroundRole(rule.palette().ColorRole.Midlight)
    rule.setFocusPolicy(Qt.FocusPolicy.NoFocus)
    return rule
