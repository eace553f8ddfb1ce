"""How large a dialog opens."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

_FRAME = QSize(16, 48)
_LEAST = QSize(640, 440)


def give_room(dialog: QWidget, width: int, height: int) -> None:
    """Open a dialog so large, or as large as the screen allows beside the frame of the window."""
    room = dialog.screen().availableSize() - _FRAME
    dialog.resize(QSize(width, height).boundedTo(room).expandedTo(_LEAST))
