"""How large a dialog opens."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize

from deskapp.ui.theme import scaled

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

_FRAME = QSize(16, 48)
_LEAST = QSize(640, 440)


def room_on_screen(dialog: QWidget) -> QSize:
    """Return how large a dialog may be on its screen."""
    return dialog.screen().availableSize() - _FRAME


def give_room(dialog: QWidget, width: int, height: int) -> None:
    """Open a dialog so large, or as large as the screen allows beside the frame of the window.

    The size is meant for text of the usual size, and grows with the text.
    """
    room = room_on_screen(dialog)
    wanted = QSize(scaled(width, dialog.font()), scaled(height, dialog.font()))
    dialog.resize(wanted.boundedTo(room).expandedTo(_LEAST.boundedTo(QSize(width, height))))
