"""Air around the words of lists and tables, and check boxes in them as large as the words."""

from __future__ import annotations

from PySide6.QtCore import QRect, QSize, Qt
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QHeaderView,
    QListWidget,
    QStyle,
    QStyleOption,
    QWidget,
)

from deskapp.ui.quiet_style import QuietStyle
from deskapp.ui.theme import scaled

BOX, _BESIDE, _BELOW = 16, 5, 10
"""A check box with its rim; what is left at both sides of words; above and below them together."""
_Metric = QStyle.PixelMetric


class ListStyle(QuietStyle):
    """The style of the window with the sizes that lists and tables ask for.

    Only these use it: every question of any other widget would go through Python as well.
    """

    def pixelMetric(
        self,
        metric: QStyle.PixelMetric,
        option: QStyleOption | None = None,
        widget: QWidget | None = None,
    ) -> int:
        """Return the size of a part."""
        if metric in (_Metric.PM_IndicatorWidth, _Metric.PM_IndicatorHeight) and widget is not None:
            return scaled(BOX, widget.font())
        if metric == _Metric.PM_FocusFrameHMargin:
            return _BESIDE
        if metric == _Metric.PM_HeaderMargin:
            return _BESIDE + 1
        return super().pixelMetric(metric, option, widget)

    def subElementRect(
        self, element: QStyle.SubElement, option: QStyleOption, widget: QWidget
    ) -> QRect:
        """Let headings begin where the words below them do."""
        if element == QStyle.SubElement.SE_HeaderLabel:
            return option.rect.adjusted(_BESIDE + 1, 0, -_BESIDE - 1, 0)
        return super().subElementRect(element, option, widget)


def give_air(view: QAbstractItemView) -> None:
    """Let a list or table be drawn with room around its words."""
    app = QApplication.instance()
    assert app is not None
    style = app.findChild(ListStyle)
    if style is None:
        style = ListStyle()
        style.setParent(app)
    parts = (view, *view.findChildren(QHeaderView))
    for part in parts:
        part.setStyle(style)


def fit_words(view: QListWidget, first: int = 0) -> None:
    """Make each item, from the `first` on, as high as its words are at this width.

    A list that wraps words by itself forgets what stands between items, and may cut the last line.
    """
    margins = 4 * (_BESIDE + 1) if view.iconSize().isValid() else 2 * (_BESIDE + 1)
    beside = max(view.iconSize().width(), 0) + margins + 2 * view.spacing()
    room = QRect(0, 0, max(view.viewport().width() - beside, 1), 0)
    for item in map(view.item, range(first, view.count())):
        words = view.fontMetrics().boundingRect(room, Qt.TextFlag.TextWordWrap, item.text())
        wanted = QSize(0, max(words.height(), view.iconSize().height()) + _BELOW)
        if item.sizeHint() != wanted:
            item.setSizeHint(wanted)
