"""The stops of the safety walk: why, what to do first, and who goes on all the same."""

from __future__ import annotations

from datetime import datetime
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _, labeled
from deskapp.session.safety_desk import acknowledge, stop_states, take_back
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Mark, Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.session.safety_desk import StopState
    from deskapp.ui.bridge import Bridge


class StopPanel(QWidget):
    """One stop, with name and reason to type while nobody has acknowledged it."""

    def __init__(self, bridge: Bridge, stop_id: str) -> None:
        super().__init__()
        self._bridge = bridge
        self._id = stop_id
        self._mark = Mark(Glyph.STOP, 22)
        self._text = Words(size=Size.STRONG)
        self._todo = Words()
        self._answer = Words(size=Size.SMALL, muted=True)
        self._source = Words(size=Size.SMALL, muted=True)
        self._who = Words()
        self.name, self.reason = PlainLine(), PlainLine()
        self.go_on = Command(_("Acknowledge and go on"))
        self.go_on.clicked.connect(self._acknowledge)
        self.back = Command(_("Take back"))
        self.back.clicked.connect(self._take_back)
        self.message = Notice()
        for forget in (self.message.hide, self.name.clear, self.reason.clear):
            bridge.opened.connect(forget)
        self._form = QWidget()
        self._lay_out()

    def show_state(self, state: StopState) -> None:
        """Show a stop as it stands now."""
        is_open = not state.acknowledged
        glyph, word = level_of("danger") if is_open else (Glyph.CHECK, _("Danger, acknowledged"))
        self._mark.show_glyph(glyph, word)
        self._text.setText(labeled(word, state.text))
        self._todo.setText(state.todo)
        self._answer.setText(_("Answered: {answer}").format(answer=state.answer))
        self._source.setText(state.source)
        self._who.setText(state.acknowledged)
        self._who.setVisible(not is_open)
        self.back.setVisible(not is_open)
        self._form.setVisible(is_open)
        if is_open and not self.name.text():
            self.name.setText(str(self._bridge.value_at("tester.name") or ""))

    @property
    def is_open(self) -> bool:
        """Whether nobody has acknowledged the stop."""
        return not self._form.isHidden()

    def take_focus(self) -> None:
        """Put the cursor to what can be done about the stop."""
        (self.name if self.is_open else self.back).setFocus()

    def _acknowledge(self) -> None:
        self._bridge.settle()
        name, reason = self.name.text(), self.reason.text()
        missing = acknowledge(self._bridge.editor, self._id, name, reason, datetime.now())
        if missing:
            self.message.say(*level_of(missing[0].level), " ".join(one.text for one in missing))
            (self.name if missing[0].path == "name" else self.reason).setFocus()
        else:
            self.message.hide()
            self.back.setFocus()

    def _take_back(self) -> None:
        self._bridge.settle()
        take_back(self._bridge.editor, self._id)
        self.name.setFocus()

    def _lay_out(self) -> None:
        form = QGridLayout(self._form)
        form.setContentsMargins(0, 4, 0, 0)
        form.setHorizontalSpacing(GRID)
        form.setVerticalSpacing(2)
        labels = (_("Name"), _("Why the test goes on, and what was done first"))
        for at, (words, line) in enumerate(zip(labels, (self.name, self.reason), strict=True)):
            label = Words(words, Size.SMALL)
            label.setBuddy(line)
            line.setAccessibleName(words)
            line.returnPressed.connect(self._acknowledge)
            form.addWidget(label, 0, at)
            form.addWidget(line, 1, at)
        form.addWidget(self.message, 2, 0, 1, 2)
        form.setRowMinimumHeight(3, GRID // 2)
        form.addWidget(self.go_on, 4, 0, 1, 2)
        form.setColumnStretch(0, 2)
        form.setColumnStretch(1, 5)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self._mark, 0, Qt.AlignmentFlag.AlignTop)
        column = QVBoxLayout()
        column.setSpacing(3)
        for part in (self._text, self._todo, self._answer, self._who, self._form, self._source):
            column.addWidget(part)
        line = QHBoxLayout()
        line.addWidget(self.back)
        line.addStretch(1)
        column.addLayout(line)
        row.addLayout(column, 1)


class StopsCard(Card):
    """All stops the answers call for; hidden while there are none.

    `intro` says what waits for them. With `only_open`, those acknowledged are left out.
    """

    def __init__(self, bridge: Bridge, intro: str, *, only_open: bool = False) -> None:
        super().__init__()
        self._only_open = only_open
        self._bridge = bridge
        self.panels: dict[str, StopPanel] = {}
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(2 * GRID)
        self._intro = Words(intro, Size.SMALL, muted=True)
        head = QVBoxLayout()
        head.setSpacing(2)
        head.addWidget(Words(_("Stop before a fan runs"), Size.HEADING))
        head.addWidget(self._intro)
        column.addLayout(head)
        self._column = column
        self.hide()

    @property
    def is_open(self) -> bool:
        """Whether somebody still has to acknowledge something."""
        return any(not state.acknowledged for state in stop_states(self._bridge.editor))

    def refresh(self) -> None:
        """Show the stops of the job as it stands; what is being typed stays."""
        states = {
            state.id: state
            for state in stop_states(self._bridge.editor)
            if not (self._only_open and state.acknowledged)
        }
        for gone in self.panels.keys() - states.keys():
            panel = self.panels.pop(gone)
            panel.hide()
            panel.deleteLater()
        for state in states.values():
            if state.id not in self.panels:
                self.panels[state.id] = StopPanel(self._bridge, state.id)
                self._column.addWidget(self.panels[state.id])
            self.panels[state.id].show_state(state)
        self._intro.setVisible(self.is_open)
        self.setVisible(bool(states))

    def reveal(self, path: str) -> bool:
        """Put the cursor to a stop that nobody has acknowledged, else to one somebody has."""
        if path.partition(".")[0] != "acknowledgments":
            return False
        panels = sorted(self.panels.values(), key=lambda panel: not panel.is_open)
        if panels:
            panels[0].take_focus()
        return bool(panels)
