"""The blocks of a report as a list: chosen, moved and left out by key or with the mouse."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtGui import QIcon, QKeyEvent, QPixmap
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from deskapp.i18n import _, labeled
from deskapp.ui.list_style import BOX, give_air
from deskapp.ui.theme import scaled

if TYPE_CHECKING:
    from deskapp.session.template_draft import At, BlockRow

_ROLE = Qt.ItemDataRole.UserRole
_INDENT = "\N{EM SPACE}"
_MOST_LETTERS = 44
_CHECKABLE = Qt.ItemFlag.ItemIsUserCheckable


class BlockList(QListWidget):
    """Lists the blocks, those inside another one set in.

    Signals: `led` to the block chosen, `move_wanted` with -1 or 1, `switched` with a block and
    whether it is to be printed.
    """

    led = Signal(object)
    move_wanted = Signal(int)
    switched = Signal(object, bool)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(_("Parts of the report, in printing order"))
        give_air(self)
        side = scaled(BOX, self.font())
        self.setIconSize(QSize(side, side))
        self.setWordWrap(True)
        self.setSpacing(2)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.currentRowChanged.connect(self._lead)
        self.itemChanged.connect(self._switch)

    @property
    def at(self) -> At:
        """Where the chosen block is."""
        return tuple(self.currentItem().data(_ROLE)) if self.currentRow() >= 0 else ()

    def show_blocks(self, rows: tuple[BlockRow, ...], at: At) -> None:
        """List `rows` below the words of the whole report, with the block at `at` chosen."""
        self.blockSignals(True)
        self.clear()
        self._add((), _("Title, header and foot")).setIcon(self._no_box())
        for row in rows:
            item = self._add(row.at, _title(row))
            if row.stays:
                item.setToolTip(_("This part stays in the report; it can be moved and reworded."))
                item.setFlags(item.flags() & ~_CHECKABLE)
                item.setIcon(self._no_box())
            else:
                checked = Qt.CheckState.Checked if row.is_shown else Qt.CheckState.Unchecked
                item.setCheckState(checked)
            if row.at == at:
                self.setCurrentItem(item)
        if self.currentRow() < 0:
            self.setCurrentRow(0)
        self.blockSignals(False)

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Move the chosen block with Alt and an arrow."""
        steps = {Qt.Key.Key_Up: -1, Qt.Key.Key_Down: 1}
        if event.modifiers() & Qt.KeyboardModifier.AltModifier and event.key() in steps:
            self.move_wanted.emit(steps[Qt.Key(event.key())])
            return
        super().keyPressEvent(event)

    def _add(self, at: At, text: str) -> QListWidgetItem:
        item = QListWidgetItem(text)
        item.setData(_ROLE, list(at))
        self.addItem(item)
        return item

    def _no_box(self) -> QIcon:
        """Return what keeps the place of a box, so that all words begin in one line."""
        blank = QPixmap(self.iconSize())
        blank.fill(Qt.GlobalColor.transparent)
        return QIcon(blank)

    def _lead(self, _row: int) -> None:
        self.led.emit(self.at)

    def _switch(self, item: QListWidgetItem) -> None:
        is_shown = item.checkState() is Qt.CheckState.Checked
        self.switched.emit(tuple(item.data(_ROLE)), is_shown)


def _title(row: BlockRow) -> str:
    indent = _INDENT * (len(row.at) - 1)
    detail = row.detail.replace("**", "")
    if len(detail) > _MOST_LETTERS:
        detail = f"{detail[:_MOST_LETTERS].rstrip()}…"
    return indent + (labeled(row.title, detail) if detail else row.title)
