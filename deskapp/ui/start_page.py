"""What the window shows before there is a job.

Part of the first paint: pictures are put in afterwards, by `StartPage.add_pictures`.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLayout, QScrollArea, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID, scaled
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from deskapp.session.first_look import RecentFile
    from deskapp.ui.glyphs import Glyph

_PICTURE = 52


class StartPage(QWidget):
    """The ways to begin, the jobs used last, and what is due.

    Signals: `new_wanted`, `open_wanted`, `sample_wanted`, `jobs_wanted`, `file_wanted` with the
    path of a job.
    """

    new_wanted = Signal()
    open_wanted = Signal()
    sample_wanted = Signal()
    jobs_wanted = Signal()
    file_wanted = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.recent_buttons: list[Command] = []
        self.due_buttons: list[Command] = []
        self._about_recent: dict[str, Words] = {}
        card = Card()
        card.setMaximumWidth(self.fontMetrics().averageCharWidth() * 92)
        column = QVBoxLayout(card)
        column.setContentsMargins(5 * GRID, 4 * GRID, 5 * GRID, 4 * GRID)
        column.setSpacing(3 * GRID)
        column.addLayout(self._head())
        column.addLayout(self._ways())
        self._recent = QGridLayout()
        self._recent.setHorizontalSpacing(2 * GRID)
        self._recent.setVerticalSpacing(6)
        self._recent.setColumnStretch(1, 1)
        column.addLayout(self._recent)
        self._due = QVBoxLayout()
        self._due.setSpacing(2)
        column.addLayout(self._due)
        self._remark = Words(size=Size.SMALL, muted=True)
        self._remark.hide()
        column.addWidget(self._remark)
        middle = QHBoxLayout()
        middle.addStretch(1)
        middle.addWidget(card, 1000)
        middle.addStretch(1)
        page = QWidget()
        outer = QVBoxLayout(page)
        outer.setContentsMargins(GRID, 3 * GRID, GRID, 3 * GRID)
        outer.addStretch(2)
        outer.addLayout(middle)
        outer.addStretch(3)
        scroll = QScrollArea()
        scroll.setFrameShape(QScrollArea.Shape.NoFrame)
        scroll.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        scroll.setWidgetResizable(True)
        scroll.setWidget(page)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(scroll)

    def showEvent(self, event: QShowEvent) -> None:
        """Begin at the first way in, so that Enter begins a job."""
        super().showEvent(event)
        self.ways[0].setFocus(Qt.FocusReason.OtherFocusReason)

    @property
    def remark_text(self) -> str:
        """The words at the foot."""
        return self._remark.text()

    def remark(self, text: str) -> None:
        """Say something at the foot, such as that a job is being opened."""
        self._remark.setText(text)
        self._remark.setVisible(bool(text))

    def add_pictures(self) -> None:
        """Put the glyphs into the places kept for them."""
        from deskapp.ui.glyphs import Glyph
        from deskapp.ui.marks import Mark

        self._picture.addWidget(Mark(Glyph.HOUSE, _PICTURE))
        glyphs = (Glyph.ADD, Glyph.FOLDER, Glyph.HOUSE, Glyph.PAPER)
        for button, glyph in zip(self.ways, glyphs, strict=True):
            button.show_glyph(glyph)

    def show_recent(self, recent: Sequence[RecentFile]) -> None:
        """List the jobs used last."""
        from deskapp.ui.glyphs import Glyph

        _empty(self._recent)
        self.recent_buttons = []
        self._about_recent = {}
        if recent:
            self._recent.addWidget(Words(_("Used last"), Size.STRONG), 0, 0, 1, 2)
        for row, one in enumerate(recent, 1):
            text = one.path.name
            if one.is_missing:
                text = _("{file} (no longer there)").format(file=text)
            button = self._job_button(text, Glyph.PAPER, str(one.path))
            if one.is_missing:
                button.allow(False, _("{file} was moved or deleted.").format(file=one.path))
            about = Words(muted=True)
            self._recent.addWidget(button, row, 0)
            self._recent.addWidget(about, row, 1)
            self.recent_buttons.append(button)
            self._about_recent[str(one.path)] = about

    def describe_recent(self, words: Mapping[str, str]) -> None:
        """Say beside the jobs used last what they are, by path."""
        for path, about in self._about_recent.items():
            about.setText(words.get(path, ""))

    def show_due(self, due: Sequence[tuple[str, str]], remark: str = "") -> None:
        """List what is to be seen to: the path of a job, and what is due of it."""
        from deskapp.ui.glyphs import Glyph

        _empty(self._due)
        self.due_buttons = [self._job_button(text, Glyph.CHECK, path) for path, text in due]
        if due:
            self._due.addWidget(Words(_("To see to"), Size.STRONG))
        for button in self.due_buttons:
            self._due.addWidget(button)
        if remark:
            self._due.addWidget(Words(remark, Size.SMALL, muted=True))

    def _job_button(self, text: str, glyph: Glyph, path: str) -> Command:
        button = Command(text, glyph)
        button.setFlat(True)
        button.setToolTip(path)
        button.setProperty("path", path)
        button.clicked.connect(self._on_recent)
        return button

    def _head(self) -> QHBoxLayout:
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        place = QWidget()
        place.setFixedWidth(scaled(_PICTURE, self.font()))
        self._picture = QVBoxLayout(place)
        self._picture.setContentsMargins(0, 0, 0, 0)
        head.addWidget(place)
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
        self.ways: list[Command] = []
        for line, (text, about, signal) in enumerate(
            (
                (_("New job"), _("Start with an empty form."), self.new_wanted),
                (
                    _("Open a job…"),
                    _("Go on with a job saved before (.ductjob)."),
                    self.open_wanted,
                ),
                (
                    _("Open the sample"),
                    _("A copy of an invented job, to look around in."),
                    self.sample_wanted,
                ),
                (
                    _("All jobs…"),
                    _("Find one by number, name, address, owner or permit."),
                    self.jobs_wanted,
                ),
            )
        ):
            button = Command(text, main=line == 0)
            button.setMinimumWidth(self.fontMetrics().averageCharWidth() * 30)
            button.clicked.connect(signal)
            self.ways.append(button)
            grid.addWidget(button, line, 0)
            grid.addWidget(Words(about, muted=True), line, 1)
        return grid

    def _on_recent(self) -> None:
        sender = self.sender()
        if isinstance(sender, Command):
            self.file_wanted.emit(str(sender.property("path")))


def _empty(layout: QLayout) -> None:
    while layout.count():
        item = layout.takeAt(0)
        widget = item.widget() if item is not None else None
        if widget is not None:
            widget.hide()
            widget.deleteLater()
