"""The door between form fields and entries that stand outside of any job."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from deskapp.ui.bridge import Bridge

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from PySide6.QtCore import QObject

    from deskapp.session.editor import Editor
    from deskapp.session.field_entries import FieldEntries


class SheetBridge(Bridge):
    """Lets the form fields of a job edit other entries of the same shape.

    Only what forms ask for is there: it has no limits, photos or assessment, which forms of
    instruments never touch.
    """

    keeps_spare = False

    def __init__(self, entries: FieldEntries, parent: QObject | None = None) -> None:
        super().__init__(cast("Editor", entries), parent)
        self._entries = entries

    def enter_block(self, list_path: str, first: int, block: Sequence[Mapping[str, str]]) -> None:
        """Take rows of texts by field name into a list, from its row `first` on."""
        self.settle()
        for row, texts in enumerate(block, first):
            if row >= self.row_count(list_path):
                self.add_row(list_path)
            for field, text in texts.items():
                self._entries.enter(f"{list_path}.{row}.{field}", text)
