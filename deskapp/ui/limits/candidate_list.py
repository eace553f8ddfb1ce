"""The list of limits to choose from: how each fits, what it is called, how well it is known."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QPainter
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
)

from deskapp.i18n import _
from deskapp.session.limits_desk import Aspect
from deskapp.ui.glyphs import Glyph, color_of, paint_glyph
from deskapp.ui.limits.fit_words import fit_of
from deskapp.ui.theme import colors_of, scaled, sized

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.limit import Edition
    from deskapp.session.limits_desk import Candidate

_ID = Qt.ItemDataRole.UserRole
_WORDS = Qt.ItemDataRole.UserRole + 1
_LINES = Qt.ItemDataRole.UserRole + 2
_GLYPH = Qt.ItemDataRole.UserRole + 3
_MARGIN = 8


def place_of(edition: Edition) -> str:
    """Return who publishes an edition and where it holds."""
    place = ", ".join(part for part in (edition.region, edition.country) if part)
    return f"{edition.body} ({place})" if place else edition.body


def status_words(candidate: Candidate) -> str:
    """Return how well the row that would apply is known; empty where that was not looked at."""
    point = candidate.point(Aspect.STATUS)
    return point.why if point is not None else ""


class _ThreeLines(QStyledItemDelegate):
    """Draws the glyph of the fit, and beside it the lines of an item."""

    def sizeHint(
        self, option: QStyleOptionViewItem, _index: QModelIndex | QPersistentModelIndex
    ) -> QSize:
        """Leave room for three lines."""
        return QSize(80, round(option.fontMetrics.height() * 2.9) + 2 * _MARGIN)

    def paint(
        self,
        painter: QPainter,
        option: QStyleOptionViewItem,
        index: QModelIndex | QPersistentModelIndex,
    ) -> None:
        """Draw one item; the marked one is filled."""
        colors = colors_of(option.palette)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        painter.save()
        if chosen:
            painter.fillRect(option.rect, QColor(colors.accent))
        elif option.state & QStyle.StateFlag.State_MouseOver:
            painter.fillRect(option.rect, QColor(colors.still_tint))
        room = option.rect.adjusted(_MARGIN + 2, _MARGIN, -_MARGIN, -_MARGIN)
        side = scaled(18, option.font)
        glyph = Glyph(str(index.data(_GLYPH)))
        own = colors.muted if glyph is Glyph.REMOVE else color_of(glyph, colors)
        ink = QColor(colors.on_accent if chosen else own)
        ground = QColor(colors.accent if chosen else colors.field)
        paint_glyph(painter, QRectF(room.left(), room.top(), side, side), glyph, ink, ground)
        left = room.left() + side + _MARGIN
        top = float(room.top())
        for number, text in enumerate(index.data(_LINES)):
            painter.setFont(sized(option.font, 0.9 if number else 1.0))
            quiet = colors.muted if number else colors.text
            painter.setPen(QColor(colors.on_accent if chosen else quiet))
            metrics = painter.fontMetrics()
            line = QRect(left, round(top), room.right() - left, metrics.height())
            mode = Qt.TextElideMode.ElideRight if number else Qt.TextElideMode.ElideMiddle
            shown = metrics.elidedText(text, mode, line.width())
            painter.drawText(line, Qt.AlignmentFlag.AlignLeft, shown)
            top += metrics.height() * 1.04
        painter.restore()


class CandidateList(QListWidget):
    """Limits in the order proposed; it gets shorter while one types.

    Signals: `marked` when another limit is marked, with its id; empty where none is.
    """

    marked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(_("Codes and programs, the likeliest first"))
        self.setItemDelegate(_ThreeLines(self))
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        self.currentItemChanged.connect(self._tell)

    def show_candidates(self, candidates: Sequence[Candidate]) -> None:
        """List these, and keep the mark where it was if that is still there."""
        before = self.marked_id
        self.blockSignals(True)
        self.clear()
        for candidate in candidates:
            self.addItem(_item(candidate))
        at = next((n for n in range(self.count()) if _id(self.item(n)) == before), 0)
        self.setCurrentRow(at)
        self.blockSignals(False)
        self._tell()

    def narrow(self, text: str) -> None:
        """Show only what holds each word of `text`; the first of these is marked if need be."""
        wanted = text.casefold().split()
        first: QListWidgetItem | None = None
        for at in range(self.count()):
            item = self.item(at)
            is_wanted = all(word in str(item.data(_WORDS)) for word in wanted)
            item.setHidden(not is_wanted)
            if is_wanted and first is None:
                first = item
        if first is not None and not self.marked_id:
            self.setCurrentItem(first)
        self._tell()

    @property
    def marked_id(self) -> str:
        """The id of the limit marked; empty if there is none, or it was filtered out."""
        at = self.currentRow()
        item = self.item(at) if at >= 0 else None
        return "" if item is None or item.isHidden() else _id(item)

    @property
    def shown_ids(self) -> list[str]:
        """The ids of the limits in sight, from top to bottom."""
        items = [self.item(at) for at in range(self.count())]
        return [_id(item) for item in items if not item.isHidden()]

    def mark(self, edition_id: str) -> None:
        """Mark a limit."""
        for at in range(self.count()):
            if _id(self.item(at)) == edition_id:
                self.setCurrentRow(at)

    def _tell(self) -> None:
        self.marked.emit(self.marked_id)


def _id(item: QListWidgetItem) -> str:
    return str(item.data(_ID))


def _item(candidate: Candidate) -> QListWidgetItem:
    edition = candidate.edition
    glyph, word = fit_of(candidate.fits)
    if candidate.is_chosen:
        word = _("{fit}; chosen already").format(fit=word)
    lines = [edition.name, f"{word}. {place_of(edition)}", status_words(candidate)]
    item = QListWidgetItem(edition.name)
    item.setData(_ID, edition.id)
    item.setData(_LINES, lines)
    item.setData(_GLYPH, glyph.value)
    item.setData(Qt.ItemDataRole.AccessibleTextRole, ". ".join(lines))
    item.setToolTip("\n".join(lines))
    titles = " ".join(row.title for row in edition.rows)
    item.setData(_WORDS, f"{' '.join(lines)} {edition.id} {titles}".casefold())
    return item
