"""A list of texts that lead to fields."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QRect, QSize, Qt, Signal
from PySide6.QtGui import QResizeEvent
from PySide6.QtWidgets import QListWidget, QListWidgetItem, QStyleOptionViewItem

from deskapp.domain.fields import label_of
from deskapp.i18n import _, labeled
from deskapp.ui.glyphs import icon_of
from deskapp.ui.levels import level_of
from deskapp.ui.theme import scaled
from deskapp.ui.words import with_whole_units

if TYPE_CHECKING:
    from collections.abc import Sequence

    from PySide6.QtGui import QIcon

    from deskapp.domain.finding import Finding
    from deskapp.ui.glyphs import Glyph

_MORE_LINES = 2
_APART = 3
"""Points between two findings, and before the first."""
_SHARE_OF_WINDOW = 6
"""Of a low window a list takes no more than this part, unless its first text is longer."""
_PATH = Qt.ItemDataRole.UserRole


class LinkList(QListWidget):
    """Findings, one a line; a click or Enter leads to the field.

    With `in_short` each is the name of its field alone, where the heading says all the rest; names
    stand side by side.

    Signals: `led_to` with the path of the field.
    """

    led_to = Signal(str)

    def __init__(self, name: str, most_rows: int, *, in_short: bool = False) -> None:
        super().__init__()
        self._in_short = in_short
        self._most_rows = most_rows
        self._shown: tuple[Finding, ...] = ()
        self.setAccessibleName(name)
        self.setWordWrap(True)
        self.setSpacing(_APART)
        if in_short:
            self.setFlow(QListWidget.Flow.LeftToRight)
            self.setWrapping(True)
            self.setResizeMode(QListWidget.ResizeMode.Adjust)
        self.setFrameShape(QListWidget.Shape.NoFrame)
        self.viewport().setAutoFillBackground(False)
        self.viewport().setCursor(Qt.CursorShape.PointingHandCursor)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self._side = scaled(16, self.font())
        self.setIconSize(QSize(self._side, self._side))
        self.itemActivated.connect(self._lead)
        self.itemClicked.connect(self._lead)

    def show_findings(self, findings: Sequence[Finding]) -> None:
        """Show these findings."""
        if tuple(findings) != self._shown:
            self._shown = tuple(findings)
            self._fill()

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._fill()

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for lines that wrap at this width."""
        super().resizeEvent(event)
        if event.size().width() != event.oldSize().width():
            self._fit()

    def initViewItemOption(self, option: QStyleOptionViewItem) -> None:
        """Let the mark stand beside the first line of words that go on."""
        super().initViewItemOption(option)
        option.decorationAlignment = Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignTop

    def _fit(self) -> None:
        """Be as high as the first findings need, and never cut one in the middle."""
        height = self._height_of_names() if self._in_short else self._height_of_texts()
        if height != self.height():
            self.setFixedHeight(height)

    def _height_of_names(self) -> int:
        self.doItemsLayout()
        line = self.fontMetrics().height() + 2 * _APART
        last = self.visualItemRect(self.item(self.count() - 1)) if self.count() else QRect()
        whole = last.bottom() + self.verticalOffset() + 2 * _APART
        return min(whole, self._most_rows * line + _APART)

    def _height_of_texts(self) -> int:
        metrics = self.fontMetrics()
        room = QRect(0, 0, max(80, self.viewport().width() - self._side - 14 - 2 * _APART), 0)
        wrapped = Qt.TextFlag.TextWordWrap
        lines = [
            max(self._side, metrics.boundingRect(room, wrapped, self.item(row).text()).height()) + 2
            for row in range(self.count())
        ]
        for row, line in enumerate(lines):
            # The list itself forgets what stands between items, and would cut some of the last.
            if self.item(row).sizeHint().height() != line:
                self.item(row).setSizeHint(QSize(0, line))
        most = (self._most_rows + _MORE_LINES) * (metrics.height() + 4 + 2 * _APART)
        most = min(most, self.window().height() // _SHARE_OF_WINDOW)
        height = _APART
        for number, line in enumerate(lines[: self._most_rows]):
            if number and height + line + 2 * _APART > most:
                break
            height += line + 2 * _APART
        return height

    def _fill(self) -> None:
        self.clear()
        icons: dict[Glyph, QIcon] = {}
        for finding in self._shown:
            if self._in_short:
                item = QListWidgetItem(label_of(finding.path))
                item.setForeground(self.palette().link())
                self._add(item, finding)
                continue
            glyph, word = level_of(finding.nature)
            if glyph not in icons:
                icons[glyph] = icon_of(glyph, self, self._side)
            text = labeled(word, finding.text)
            item = QListWidgetItem(icons[glyph], with_whole_units(text))
            item.setData(Qt.ItemDataRole.AccessibleTextRole, text)
            self._add(item, finding)
        self._fit()

    def _add(self, item: QListWidgetItem, finding: Finding) -> None:
        item.setData(_PATH, finding.path)
        if finding.path:
            item.setToolTip(_("Press Enter or click to go to the field."))
        self.addItem(item)

    def _lead(self, item: QListWidgetItem) -> None:
        path = str(item.data(_PATH))
        if path:
            self.led_to.emit(path)
