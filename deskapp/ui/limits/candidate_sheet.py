"""What one limit says, and what speaks for and against it."""

from __future__ import annotations

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
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from PySide6.QtWidgets import QLayout

    from deskapp.domain.limit import Edition
    from deskapp.session.limits_desk import Candidate
    from deskapp.units.numbers import NumberStyle

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

    def show_candidate(self, candidate: Candidate | None) -> None:
        """Describe a limit, or nothing.

        What is said stands in a widget of its own that takes the place of the last one when it is
        whole: Qt lays everything out anew for each widget it shows by itself.
        """
        body = QWidget(self)
        body.hide()
        self._column = QVBoxLayout(body)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(6)
        if candidate is not None:
            self._describe(candidate)
        self._outer.replaceWidget(self._body, body)
        self._body.hide()
        self._body.deleteLater()
        self._body = body
        body.show()

    def _describe(self, candidate: Candidate) -> None:
        edition = candidate.edition
        self._column.addWidget(Words(edition.name, Size.HEADING))
        self._column.addWidget(Words(place_of(edition), muted=True))
        glyph, word = fit_of(candidate.fits)
        notice = Notice(Size.STRONG)
        self._column.addWidget(notice)
        notice.say(glyph, "", word)
        self._column.addWidget(_Why(candidate))
        if edition.note:
            self._column.addWidget(Words(_(edition.note), Size.SMALL))
        self._add_rows(edition)

    def _add_rows(self, edition: Edition) -> None:
        self._column.addSpacing(GRID)
        self._column.addWidget(Words(_("What it allows"), Size.HEADING))
        for row in edition.rows:
            words = row_words(row, self._style)
            self._column.addWidget(Words(words.title, Size.STRONG))
            self._column.addWidget(Words(words.rule))
            if row.status is Verification.MEMORY:
                warning = Notice()
                self._column.addWidget(warning)
                warning.say(Glyph.CHECK, _("Unverified"), _("check the code text"))
            about = f"{words.clause.rstrip('.')}. {words.status}"
            self._column.addWidget(Words(about, Size.SMALL, muted=True))
            if row.exceptions:
                text = _("Exceptions: {text}").format(text=_(row.exceptions))
                self._column.addWidget(Words(text, Size.SMALL))
            self._column.addSpacing(4)


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
