"""The list of gauges and fans, each with what is due."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from deskapp.i18n import _
from deskapp.session.instruments.due import due
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.list_style import fit_words, give_air
from deskapp.ui.theme import GRID, scaled

if TYPE_CHECKING:
    from datetime import date

    from PySide6.QtCore import QEvent
    from PySide6.QtGui import QResizeEvent

    from deskapp.session.instruments.register_editor import RegisterEditor

_PATH = Qt.ItemDataRole.UserRole
_ANY_DAY = 400_000


class InstrumentList(QListWidget):
    """All instruments of the register; retired ones stand there as well and are called so.

    Signals: `marked` with the path of the instrument to show, empty for none.
    """

    marked = Signal(str)

    def __init__(self, editor: RegisterEditor, today: date) -> None:
        super().__init__()
        self._editor = editor
        self._today = today
        self._glyphs: list[Glyph] = []
        self.setAccessibleName(_("Your instruments"))
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        give_air(self)
        self.setWordWrap(True)
        self.setSpacing(2)
        side = scaled(18, self.font())
        self.setIconSize(QSize(side, side))
        self.setMinimumWidth(self.fontMetrics().averageCharWidth() * 36)
        self.currentItemChanged.connect(self._tell)
        self.refresh()

    @property
    def marked_path(self) -> str:
        """The path of the instrument marked; empty for none."""
        return "" if self.currentRow() < 0 else str(self.currentItem().data(_PATH))

    @property
    def paths(self) -> list[str]:
        """The paths of all instruments listed, from the top."""
        return [str(self.item(at).data(_PATH)) for at in range(self.count())]

    def text_of(self, path: str) -> str:
        """Return what the list says about the instrument at `path`."""
        return self.item(self.paths.index(path)).text()

    def mark(self, path: str) -> None:
        """Mark the instrument at `path`; the last one where it is gone."""
        known = self.paths
        if known:
            self.setCurrentRow(known.index(path) if path in known else len(known) - 1)

    def refresh(self) -> None:
        """List what the register holds, keeping the mark."""
        wanted = [
            f"{name}.{position}"
            for name in ("gauges", "fans")
            for position in range(self._editor.row_count(name))
        ]
        marked = self.marked_path
        self.blockSignals(True)
        while self.count() > len(wanted):
            self.takeItem(self.count() - 1)
        while self.count() < len(wanted):
            self.addItem(QListWidgetItem())
        states = self._states()
        self._glyphs = []
        for at, path in enumerate(wanted):
            glyph, words = states.get(path, (Glyph.BLANK, _("retired")))
            item = self.item(at)
            item.setData(_PATH, path)
            item.setText(f"{self._editor.name_of(path)}\n{words}")
            item.setToolTip(item.text())
            self._glyphs.append(glyph)
        self._draw()
        fit_words(self)
        if wanted:
            self.mark(marked if marked in wanted else wanted[0])
        self.blockSignals(False)
        if self.marked_path != marked:
            self.marked.emit(self.marked_path)

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        if event.type() == event.Type.PaletteChange:
            self._draw()

    def sizeHint(self) -> QSize:
        """Be wide enough for a name."""
        return QSize(self.fontMetrics().averageCharWidth() * 40, 40 * GRID)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for words that go on in a line below at this width."""
        super().resizeEvent(event)
        fit_words(self)

    def _states(self) -> dict[str, tuple[Glyph, str]]:
        register, formatter = self._editor.register, self._editor.preferences.formatter
        pressing = due(register, self._today)
        overdue = {item.path for item in pressing.overdue}
        soon = {item.path for item in (*pressing.soon, *pressing.undated)}
        listed = due(register, self._today, _ANY_DAY)
        states: dict[str, tuple[Glyph, str]] = {}
        for item in (*listed.overdue, *listed.soon, *listed.undated):
            glyph = Glyph.CHECK if item.path in soon else Glyph.DONE
            if item.path in overdue:
                glyph = Glyph.STOP
            states[item.path] = (glyph, item.words(formatter))
        return states

    def _draw(self) -> None:
        side = self.iconSize().width()
        for at, glyph in enumerate(self._glyphs):
            self.item(at).setIcon(icon_of(glyph, self, side))

    def _tell(self) -> None:
        self.marked.emit(self.marked_path)
