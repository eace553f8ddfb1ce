"""Where the Tab key stops inside a widget, and which of these stops take what is typed."""

from __future__ import annotations

from PySide6.QtCore import QPoint, QRect, Qt
from PySide6.QtWidgets import (
    QAbstractButton,
    QComboBox,
    QLineEdit,
    QPlainTextEdit,
    QTextEdit,
    QWidget,
)

from deskapp.ui.places import path_of


def takes_keys(widget: QWidget) -> bool:
    """Say whether the Tab key stops at a widget as it stands."""
    stops = widget.focusPolicy().value & Qt.FocusPolicy.TabFocus.value
    return bool(stops) and (
        widget.isVisible() and widget.isEnabled() and widget.focusProxy() is None
    )


def stops_in(root: QWidget, room: QRect | None = None) -> list[QWidget]:
    """Return the stops inside of `root`, as they are read: from the top, each line from the left.

    With `room` only those that stand in it, measured in `root`. The chain of the Tab key would tell
    as much, but goes through the whole window.
    """
    found: list[tuple[int, int, QWidget]] = []
    for one in root.findChildren(QWidget):
        if takes_keys(one):
            place = QRect(one.mapTo(root, QPoint()), one.size())
            if room is None or room.contains(place):
                found.append((place.center().y(), place.left(), one))
    found.sort(key=lambda stop: stop[:2])
    one_line = root.fontMetrics().height() // 2
    lines: list[list[tuple[int, int, QWidget]]] = []
    for stop in found:
        if not lines or stop[0] - lines[-1][0][0] > one_line:
            lines.append([])
        lines[-1].append(stop)
    return [one for line in lines for _y, _x, one in sorted(line, key=lambda stop: stop[1])]


def is_entry(widget: QWidget) -> bool:
    """Say whether a stop takes typed text, or an answer to a field of the job."""
    if isinstance(widget, QLineEdit | QPlainTextEdit | QTextEdit):
        return not widget.isReadOnly()
    is_answer = isinstance(widget, QComboBox) or (
        isinstance(widget, QAbstractButton) and widget.isCheckable()
    )
    return is_answer and bool(path_of(widget))
