"""What one limit says, and what speaks for and against it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QGridLayout, QScrollArea, QVBoxLayout, QWidget

from deskapp.domain.limit import Verification
from deskapp.i18n import _
from deskapp.session.limit_words import row_words
from deskapp.session.limits_desk import ASPECT_LABELS
from deskapp.ui.glyphs import Glyph
from deskapp.ui.limits.candidate_list import place_of
from deskapp.ui.limits.fit_words import fit_of
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.slices import Slices
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from PySide6.QtWidgets import QLayout

    from deskapp.domain.limit import LimitRow
    from deskapp.session.limits_desk import Candidate
    from deskapp.units.numbers import NumberStyle

_ROWS_IN_A_PIECE = 5
_TOP = Qt.AlignmentFlag.AlignTop


class CandidateSheet(QWidget):
    """Name and body of an edition, why it fits or not, and its rows."""

    def __init__(self, style: NumberStyle | None = None) -> None:
        super().__init__()
        self._style = style
        self.setBackgroundRole(QPalette.ColorRole.Window)
        self._outer = QVBoxLayout(self)
        self._outer.setContentsMargins(0, 0, GRID, 0)
        self._body = QWidget()
        self._outer.addWidget(self._body)
        self._outer.addStretch(1)
        self._coming: QWidget | None = None
        self._rest = Slices(self)

    def show_candidate(self, candidate: Candidate | None) -> None:
        """Describe a limit, or nothing, in turns of their own.

        What is said stands in a widget of its own that takes the place of the last one when it is
        whole: Qt lays everything out anew for each widget it shows by itself.
        """
        if self._coming is not None:
            self._coming.deleteLater()
        self._coming = body = QWidget(self)
        body.hide()
        column = QVBoxLayout(body)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        pieces = [] if candidate is None else self._pieces(column, candidate)
        self._rest.begin([*pieces, partial(self._put, body)])

    def complete(self) -> None:
        """Describe all that is left now."""
        self._rest.complete()

    def _put(self, body: QWidget) -> None:
        self._coming = None
        self._outer.replaceWidget(self._body, body)
        self._body.hide()
        self._body.deleteLater()
        self._body = body
        body.show()

    def _pieces(self, column: QVBoxLayout, candidate: Candidate) -> list[Callable[[], None]]:
        rows = candidate.edition.rows
        some = [
            rows[first : first + _ROWS_IN_A_PIECE]
            for first in range(0, len(rows), _ROWS_IN_A_PIECE)
        ]
        return [
            partial(self._describe, column, candidate),
            *(partial(self._add_rows, column, part) for part in some),
        ]

    @staticmethod
    def _describe(column: QVBoxLayout, candidate: Candidate) -> None:
        edition = candidate.edition
        column.addWidget(Words(edition.name, Size.HEADING))
        column.addWidget(Words(place_of(edition), muted=True))
        glyph, word = fit_of(candidate.fits)
        notice = Notice(Size.STRONG)
        column.addWidget(notice)
        notice.say(glyph, "", word)
        column.addWidget(_Why(candidate))
        if edition.note:
            column.addWidget(Words(_(edition.note), Size.SMALL))
        column.addSpacing(GRID)
        column.addWidget(Words(_("What it allows"), Size.HEADING))

    def _add_rows(self, column: QVBoxLayout, rows: Sequence[LimitRow]) -> None:
        for row in rows:
            words = row_words(row, self._style)
            column.addWidget(Words(words.title, Size.STRONG))
            column.addWidget(Words(words.rule))
            if row.status is Verification.MEMORY:
                warning = Notice()
                column.addWidget(warning)
                warning.say(Glyph.CHECK, _("Unverified"), _("check the code text"))
            about = f"{words.clause.rstrip('.')}. {words.status}"
            column.addWidget(Words(about, Size.SMALL, muted=True))
            if row.exceptions:
                text = _("Exceptions: {text}").format(text=_(row.exceptions))
                column.addWidget(Words(text, Size.SMALL))
            column.addSpacing(4)


class _Why(QWidget):
    """Each aspect: glyph, what is compared, and why it fits or not."""

    def __init__(self, candidate: Candidate) -> None:
        super().__init__()
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 4, 0, 4)
        grid.setHorizontalSpacing(GRID)
        grid.setVerticalSpacing(6)
        for line, point in enumerate(candidate.points):
            glyph, word = fit_of(point.fits)
            mark = Mark(glyph, 16)
            mark.show_glyph(glyph, word)
            mark.setToolTip(word)
            grid.addWidget(mark, line, 0, _TOP)
            label = _(ASPECT_LABELS[point.aspect])
            grid.addWidget(Words(label, muted=True), line, 1, _TOP)
            why = Words(point.why[:1].upper() + point.why[1:])
            why.setAccessibleName(f"{label}: {word}: {point.why}")
            grid.addWidget(why, line, 2, _TOP)
        grid.setColumnStretch(1, 1)
        grid.setColumnStretch(2, 3)


def empty(column: QLayout) -> None:
    """Take everything out of a column."""
    while column.count():
        item = column.takeAt(0)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.hide()
            widget.deleteLater()


def in_scroll(inside: QWidget) -> QScrollArea:
    """Return `inside` in a frame that scrolls and has no border."""
    area = QScrollArea()
    area.setWidgetResizable(True)
    area.setFrameShape(QScrollArea.Shape.NoFrame)
    area.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
    area.setWidget(inside)
    return area
