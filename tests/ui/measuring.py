"""Finds what does not fit in a window: words that are cut, widgets on top of others, wide pages."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import combinations

from PySide6.QtCore import QPoint, QRect, QSize, Qt
from PySide6.QtGui import QFontMetrics
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractScrollArea,
    QComboBox,
    QHeaderView,
    QLabel,
    QLayout,
    QLineEdit,
    QListView,
    QMainWindow,
    QScrollArea,
    QSizeGrip,
    QStackedWidget,
    QStyle,
    QStyleOptionComboBox,
    QTableWidget,
    QWidget,
)

from deskapp.ui.side_scroll import SideScroll

LARGEST = QSize(1024, 768)
"""The smallest screen the program is made for."""
FRAME = QSize(16, 48)
"""What the frame of a window takes of it: common practice, no source."""


def troubles(root: QWidget, *, tables_may_scroll: bool = False) -> list[str]:
    """Return what does not fit in `root` as it stands, in words.

    With `tables_may_scroll` what is wide by nature may scroll by itself.
    """
    found = [*_too_large(root), *_cut(root), *_on_top(root), *_outside(root)]
    found += _sideways(root, tables_may_scroll=tables_may_scroll)
    return sorted(set(found))


def _seen(root: QWidget) -> Iterator[QWidget]:
    """Give what shows in `root`, without windows of their own."""
    for widget in root.findChildren(QWidget):
        if widget.isVisibleTo(root) and widget.window() is root.window():
            yield widget


def _name(widget: QWidget) -> str:
    """Return kind and words of a widget, or of what it stands in."""
    chain: list[str] = []
    at: QWidget | None = widget
    while at is not None and len(chain) < 3:
        if not type(at).__name__.startswith("Q") or at is widget:
            chain.append(type(at).__name__)
        at = at.parentWidget()
    words = _words(widget) or widget.accessibleName()
    return f"{' in '.join(chain)} “{words[:60]}”"


def _words(widget: QWidget) -> str:
    if isinstance(widget, QLabel | QAbstractButton | QLineEdit):
        return widget.text()
    return widget.currentText() if isinstance(widget, QComboBox) else ""


# Too large


def _too_large(root: QWidget) -> Iterator[str]:
    room = LARGEST - FRAME
    least = root.minimumSizeHint().expandedTo(root.minimumSize())
    if root.isWindow() and least.boundedTo(room) != least:
        yield f"{_name(root)} cannot be smaller than {least.width()} x {least.height()}"


def _sideways(root: QWidget, *, tables_may_scroll: bool) -> Iterator[str]:
    for area in _seen(root):
        if isinstance(area, SideScroll | QTableWidget) and tables_may_scroll:
            continue
        if isinstance(area, QAbstractScrollArea):
            bar = area.horizontalScrollBar()
            if bar.maximum() > bar.minimum():
                yield f"{_name(area)} scrolls sideways by {bar.maximum() - bar.minimum()}"


# Cut


def _cut(root: QWidget) -> Iterator[str]:
    for widget in _seen(root):
        if isinstance(widget, QLabel):
            yield from _cut_label(widget)
        elif isinstance(widget, QAbstractButton):
            yield from _cut_button(widget)
        elif isinstance(widget, QComboBox):
            yield from _cut_choice(widget)
        elif isinstance(widget, QLineEdit):
            yield from _cut_line(widget)
        elif isinstance(widget, QHeaderView):
            yield from _cut_headings(widget)
        elif isinstance(widget, QAbstractItemView):
            yield from _cut_items(widget)


# A line may also be broken where a space without width stands, as in paths of files.
_WORDS_APART = re.compile("[\\s\u200b]+")


def _cut_label(label: QLabel) -> Iterator[str]:
    text = label.text()
    if not text:
        return
    room = label.contentsRect()
    if label.wordWrap():
        needed = label.heightForWidth(label.width())
        if needed > label.height() + 1:
            yield f"{_name(label)} is {label.height()} high, needs {needed}"
        metrics = label.fontMetrics()
        longest = max(
            (metrics.horizontalAdvance(word) for word in _WORDS_APART.split(text)), default=0
        )
        if longest > room.width() + 1:
            yield f"{_name(label)} is {room.width()} wide, its longest word {longest}"
    else:
        needed = label.sizeHint()
        if needed.width() > label.width() + 1 or needed.height() > label.height() + 1:
            had = f"{label.width()} x {label.height()}"
            yield f"{_name(label)} is {had}, needs {needed.width()} x {needed.height()}"


def _cut_button(button: QAbstractButton) -> Iterator[str]:
    if button.text() in button.toolTip() or _told(button, button.text()):
        return
    needed = button.sizeHint()
    if button.text() and needed.width() > button.width() + 1:
        yield f"{_name(button)} is {button.width()} wide, needs {needed.width()}"
    least = button.fontMetrics().height() if button.text() else 0
    if button.height() < max(least, min(needed.height(), least + 4)):
        yield f"{_name(button)} is {button.height()} high, needs {needed.height()}"


def _told(widget: QWidget, text: str) -> bool:
    """Say whether the tip tells a text that is cut; a screen reader is given all of it anyway."""
    tip = getattr(widget, "tip_text", "")
    return text in tip


def _cut_choice(box: QComboBox) -> Iterator[str]:
    option = QStyleOptionComboBox()
    box.initStyleOption(option)
    kinds = QStyle.SubControl
    room = box.style().subControlRect(
        QStyle.ComplexControl.CC_ComboBox, option, kinds.SC_ComboBoxEditField, box
    )
    needed = box.fontMetrics().horizontalAdvance(box.currentText())
    if needed > room.width() and not _told(box, box.currentText()):
        yield f"{_name(box)} has {room.width()} for its words, needs {needed}"


def _cut_line(line: QLineEdit) -> Iterator[str]:
    if isinstance(line.parentWidget(), QComboBox):
        return
    text = line.displayText() or line.placeholderText()
    margins = line.textMargins()
    room = line.contentsRect().width() - margins.left() - margins.right() - 4
    needed = line.fontMetrics().horizontalAdvance(text)
    if needed > room and not _told(line, text):
        yield f"{_name(line)} has {room} for “{text[:40]}”, needs {needed}"


def _cut_headings(header: QHeaderView) -> Iterator[str]:
    for at in range(header.count()):
        needed = header.sectionSizeHint(at)
        told = header.model().headerData(at, header.orientation(), Qt.ItemDataRole.ToolTipRole)
        text = header.model().headerData(at, header.orientation())
        is_cut = needed > header.sectionSize(at) + 1 and str(text) not in str(told or "")
        if is_cut and not header.isSectionHidden(at):
            yield f"heading “{text}” has {header.sectionSize(at)}, needs {needed}"


def _cut_items(view: QAbstractItemView) -> Iterator[str]:
    model = view.model()
    if getattr(view, "wordWrap", bool)():
        return
    columns = 1 if isinstance(view, QListView) else model.columnCount()
    for row in range(min(model.rowCount(), 60)):
        for column in range(columns):
            index = model.index(row, column)
            text, tip = str(index.data() or ""), str(index.data(Qt.ItemDataRole.ToolTipRole) or "")
            room = view.visualRect(index).width()
            needed = QFontMetrics(
                index.data(Qt.ItemDataRole.FontRole) or view.font()
            ).horizontalAdvance(text)
            if index.data(Qt.ItemDataRole.DecorationRole) is not None:
                room -= view.iconSize().width()
            if 0 < room < needed and text not in tip:
                yield f"item “{text[:60]}” of {_name(view)} has {room}, needs {needed}"


# On top of each other


def _on_top(root: QWidget) -> Iterator[str]:
    for parent in [root, *_seen(root)]:
        if isinstance(parent, QAbstractScrollArea | QStackedWidget | QMainWindow | QComboBox):
            continue
        if parent.layout() is None:
            continue
        children = [
            one
            for one in parent.children()
            if isinstance(one, QWidget)
            and not one.isWindow()
            and one.isVisibleTo(root)
            and not isinstance(one, QSizeGrip)
            and not one.size().isEmpty()
        ]
        for one, other in combinations(children, 2):
            both = one.geometry().intersected(other.geometry())
            if both.width() > 1 and both.height() > 1:
                yield f"{_name(one)} and {_name(other)} overlap by {both.width()} x {both.height()}"


def _outside(root: QWidget) -> Iterator[str]:
    """Give what reaches beyond the widget it stands in."""
    for widget in _seen(root):
        parent = widget.parentWidget()
        if parent is None or widget is root or widget.size().isEmpty():
            continue
        if isinstance(parent.parentWidget(), QScrollArea | QAbstractScrollArea):
            continue
        if not isinstance(parent.layout(), QLayout):
            continue
        place = QRect(widget.pos(), widget.size())
        if not parent.rect().adjusted(-1, -1, 1, 1).contains(place):
            beyond = place.bottomRight() - parent.rect().bottomRight()
            yield f"{_name(widget)} reaches out of {_name(parent)} by {_pair(beyond)}"


def _pair(point: QPoint) -> str:
    return f"{point.x()}, {point.y()}"
