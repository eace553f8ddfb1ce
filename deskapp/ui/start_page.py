"""What the window shows before there is a job."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Mark, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.session.first_look import RecentFile


class StartPage(QWidget):
    """Three ways to begin, and the jobs used last.

    Signals: `new_wanted`, `open_wanted`, `sample_wanted`, `file_wanted` with the path of a job.
    """

    new_wanted = Signal()
    open_wanted = Signal()
    sample_wanted = Signal()
    file_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        card = Card()
        card.setFixedWidth(self.fontMetrics().averageCharWidth() * 92)
        column = QVBoxLayout(card)
        column.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 4 * GRID)
        column.setSpacing(3 * GRID)
        column.addLayout(self._head())
        column.addLayout(self._ways())
        self._recent = QVBoxLayout()
        self._recent.setSpacing(2)
        column.addLayout(self._recent)
        self._remark = Words(size=Size.SMALL, muted=True)
        self._remark.hide()
        column.addWidget(self._remark)
        middle = QHBoxLayout()
        middle.addStretch(1)
        middle.addWidget(card)
        middle.addStretch(1)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(GRID, 3 * GRID, GRID, 3 * GRID)
        outer.addStretch(2)
        outer.addLayout(middle)
        outer.addStretch(3)

    @property
    def remark_text(self) -> str:
        """The words at the foot."""
        return self._remark.text()

    def remark(self, text: str) -> None:
        """Say something at the foot, such as that a job is being opened."""
        self._remark.setText(text)
        self._remark.setVisible(bool(text))

    def show_recent(self, recent: Sequence[RecentFile]) -> None:
        """List the jobs used last."""
        while self._recent.count():
            item = self._recent.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.deleteLater()
        if recent:
            self._recent.addWidget(Words(_("Used last"), Size.STRONG))
        for one in recent:
            text = one.path.name
            if one.is_missing:
                text = _("{file} (no longer there)").format(file=text)
            button = Command(text, Glyph.PAPER)
            button.setFlat(True)
            button.setEnabled(not one.is_missing)
            button.setToolTip(str(one.path))
            button.setProperty("path", str(one.path))
            button.clicked.connect(self._on_recent)
            self._recent.addWidget(button)

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(Mark(Glyph.HOUSE, 52), 0, Qt.AlignmentFlag.AlignTop)
        titles = QVBoxLayout()
        titles.setSpacing(2)
        titles.addWidget(Words("Ductfolio", Size.TITLE))
        purpose = _("From duct leakage readings to a verdict, and to the papers that prove it.")
        titles.addWidget(Words(purpose, muted=True))
        head.addLayout(titles, 1)
        return head

    def _ways(self) -> QGridLayout:
        grid = QGridLayout()
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(12)
        grid.setColumnStretch(1, 1)
        for line, (text, about, glyph, signal) in enumerate(
            (
                (_("New job"), _("Start with an empty form."), Glyph.ADD, self.new_wanted),
                (
                    _("Open a job…"),
                    _("Go on with a job saved before (.ductjob)."),
                    Glyph.FOLDER,
                    self.open_wanted,
                ),
                (
                    _("Open the sample"),
                    _("A copy of an invented job, to look around in."),
                    Glyph.HOUSE,
                    self.sample_wanted,
                ),
            )
        ):
            button = Command(text, glyph, main=line == 0)
            button.setMinimumWidth(self.fontMetrics().averageCharWidth() * 26)
            button.clicked.connect(signal)
            grid.addWidget(button, line, 0)
            grid.addWidget(Words(about, muted=True), line, 1)
        return grid

    def _on_recent(self) -> None:
        sender = self.sender()
        if isinstance(sender, Command):
            self.file_wanted.emit(str(sender.property("path")))
