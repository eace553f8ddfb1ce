"""How a page stands beside what the job holds, so that one built anew stands alike."""

from __future__ import annotations

from itertools import zip_longest
from typing import TYPE_CHECKING, NamedTuple, cast

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QAbstractItemView, QLineEdit, QScrollArea, QWidget

from deskapp.ui.fold import FoldButton
from deskapp.ui.places import path_of

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator


class PageState(NamedTuple):
    """What is folded open, typed beside the job and picked on a page; how far it is scrolled."""

    folds: tuple[bool, ...]
    texts: tuple[str, ...]
    cells: tuple[tuple[int, int], ...]
    scrolled: int


def standing_of(page: QScrollArea) -> PageState:
    """Return how a page stands."""
    cells = (view.currentIndex() for view in page.findChildren(QAbstractItemView))
    return PageState(
        tuple(fold.is_open for fold in page.findChildren(FoldButton)),
        tuple(line.text() for line in _free_lines(page)),
        tuple((cell.row(), cell.column()) for cell in cells),
        page.verticalScrollBar().value(),
    )


def let_stand(page: QScrollArea, standing: PageState) -> None:
    """Let a page built anew, of the same job, stand as another one stood."""
    for fold, is_open in zip_longest(page.findChildren(FoldButton), standing.folds):
        if fold is not None and is_open is not None and fold.is_open != is_open:
            fold.turn()
    for line, text in zip_longest(_free_lines(page), standing.texts):
        if line is not None and text:
            line.setText(text)
    for view, cell in zip_longest(page.findChildren(QAbstractItemView), standing.cells):
        if view is not None and cell is not None and view.model() is not None and cell[0] >= 0:
            row, column = cell
            view.setCurrentIndex(view.model().index(row, column))
    scroll_to(page, standing.scrolled)


def twin_of(widget: QWidget | None, here: QWidget, there: QWidget) -> QWidget | None:
    """Return what stands in `there` for a widget in `here`, or for what holds the widget."""
    while widget is not None and here.isAncestorOf(widget):
        alike, others = _alike(widget, here), _alike(widget, there)
        if widget in alike and alike.index(widget) < len(others):
            return others[alike.index(widget)]
        widget = widget.parentWidget()
    return None


def focus_taken_from(window: QWidget) -> QWidget | None:
    """Take the focus away from what has it, so that it gives away what is typed; return that."""
    held = cast("QWidget | None", window.focusWidget())
    if held is not None:
        held.clearFocus()
    return held


def put_focus_back(focus: QWidget | None, pairs: Iterable[tuple[QWidget, QWidget]]) -> None:
    """Put the focus into what stands for the widget that had it, in the other of its pair."""
    if focus is None:
        return
    for here, there in pairs:
        twin = twin_of(focus, here, there)
        if twin is not None:
            _give_focus(twin, focus)
            return


def _give_focus(widget: QWidget, like: QWidget) -> None:
    """Put the focus into a widget, and the cursor where it stands in the one before it."""
    at, first, count = (
        (like.cursorPosition(), like.selectionStart(), like.selectionLength())
        if isinstance(like, QLineEdit)
        else (0, -1, 0)
    )
    widget.setFocus(Qt.FocusReason.OtherFocusReason)
    if isinstance(widget, QLineEdit) and isinstance(like, QLineEdit):
        widget.deselect()
        widget.setCursorPosition(at)
        if first >= 0:
            widget.setSelection(first, count)


def _alike(widget: QWidget, root: QWidget) -> list[QWidget]:
    kind, path = type(widget), path_of(widget)
    return [one for one in root.findChildren(kind) if type(one) is kind and path_of(one) == path]


def _free_lines(page: QWidget) -> Iterator[QLineEdit]:
    """Yield lines whose text is not in the job, such as the name under an acknowledgment."""
    return (line for line in page.findChildren(QLineEdit) if not path_of(line))


def scroll_to(page: QScrollArea, distance: int) -> None:
    """Scroll once the page knows how long it is."""
    bar = page.verticalScrollBar()

    def scroll() -> None:
        if not bar.value():
            bar.setValue(distance)

    QTimer.singleShot(0, page, scroll)
