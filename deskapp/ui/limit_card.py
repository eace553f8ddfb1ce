"""The limits a job is judged by: which ones, and which row of each applies to each system."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _, labeled
from deskapp.session.limits_desk import likely_limits_in_steps, why_likely
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.limits.home import home_country
from deskapp.ui.marks import Notice
from deskapp.ui.outcome_signs import status_words
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.limit import ChosenLimit
    from deskapp.domain.result import Assessment, LimitOutcome, SystemResult
    from deskapp.ui.bridge import Bridge


class ChosenBlock(QWidget):
    """One chosen limit."""

    def __init__(self, bridge: Bridge, limit: ChosenLimit) -> None:
        super().__init__()
        self.limit = limit
        self._said: list[tuple[str, str]] = []
        self._bridge = bridge
        edition = limit.edition
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, GRID)
        column.setSpacing(6)
        head = QHBoxLayout()
        head.addWidget(Words(edition.name, Size.STRONG), 1)
        self.remove_button = Command(_("Remove this limit"), Glyph.REMOVE)
        words = _("Remove the limit {name}").format(name=edition.name)
        self.remove_button.setAccessibleName(words)
        self.remove_button.clicked.connect(self._drop)
        head.addWidget(self.remove_button)
        column.addLayout(head)
        place = ", ".join(part for part in (edition.body, edition.country, edition.region) if part)
        column.addWidget(Words(place, Size.SMALL, muted=True))
        column.addSpacing(6)
        self.rows = Choices()
        self.rows.addItem(_("Let the facts of each system and test choose"), "")
        for row in edition.rows:
            self.rows.addItem(_(row.title), row.id)
        self.rows.setCurrentIndex(max(0, self.rows.findData(limit.row)))
        self.rows.activated.connect(self._fix_row)
        label = Words(_("Which of its rows applies"))
        label.setBuddy(self.rows)
        self.rows.setAccessibleName(_("Row of {name}").format(name=edition.name))
        column.addWidget(label)
        column.addWidget(self.rows)
        column.addSpacing(2)
        self._applied = QGridLayout()
        self._applied.setHorizontalSpacing(2 * GRID)
        self._applied.setVerticalSpacing(4)
        self._applied.setColumnStretch(1, 1)
        column.addLayout(self._applied)

    def show_outcomes(self, assessment: Assessment) -> None:
        """Say for each system which row applies, or why none does yet."""
        said = [(system.name, self._about(system)) for system in assessment.systems]
        if said == self._said:
            return
        self._said = said
        while self._applied.count():
            item = self._applied.takeAt(0)
            widget = item.widget() if item is not None else None
            if widget is not None:
                widget.hide()
                widget.deleteLater()
        for line, (name, text) in enumerate(said):
            top = Qt.AlignmentFlag.AlignTop
            self._applied.addWidget(Words(name, Size.STRONG), line, 0, top)
            self._applied.addWidget(Words(text), line, 1)

    def _about(self, system: SystemResult) -> str:
        outcomes = [outcome for outcome in system.outcomes if outcome.limit == self.limit.key]
        return "\n".join(self._in_words(outcome) for outcome in outcomes) or system.reason

    def _in_words(self, outcome: LimitOutcome) -> str:
        title = next((_(r.title) for r in self.limit.edition.rows if r.id == outcome.row), "")
        if not title:
            return outcome.reason
        parts = [labeled(title, outcome.rule_text) if outcome.rule_text else title]
        parts += [outcome.reason, status_words(outcome.status)]
        return ". ".join(part.rstrip(".") for part in parts if part) + "."

    def _fix_row(self, at: int) -> None:
        self._bridge.choose_limit(self.limit.edition.id, str(self.rows.itemData(at)))

    def _drop(self) -> None:
        self._bridge.drop_limit(self.limit.key)


class LimitCard(Card):
    """All chosen limits, and the way to choose one more."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._shown: tuple[ChosenLimit, ...] | None = None
        self.blocks: list[ChosenBlock] = []
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(12)
        head = QHBoxLayout()
        head.addWidget(Words(_("Limits to judge by"), Size.HEADING), 1)
        self.add_button = Command(_("Choose a limit…"), Glyph.ADD)
        self.add_button.clicked.connect(self.open_dialog)
        head.addWidget(self.add_button)
        column.addLayout(head)
        self._none = Words(_("No limit yet, so there can be no verdict."), muted=True)
        column.addWidget(self._none)
        self._list = QVBoxLayout()
        column.addLayout(self._list)
        self._message = Notice()
        column.addWidget(self._message)
        law = _("The authority on site decides which code and edition apply. Check with it.")
        column.addWidget(Words(law, Size.SMALL, muted=True))
        self.refresh()

    def refresh(self) -> None:
        """Show the limits of the job as it stands."""
        limits: tuple[ChosenLimit, ...] = self._bridge.editor.job.compliance.limits
        if limits != self._shown:
            self._shown = limits
            self._rebuild(limits)
        self._none.setVisible(not limits)
        for block in self.blocks:
            block.show_outcomes(self._bridge.assessment)
        finding = self._bridge.finding_at("compliance.limits")
        if finding is None or not limits:
            self._message.hide()
        else:
            glyph, word = level_of(finding.level)
            self._message.say(glyph, word, finding.text)

    def reveal(self, path: str) -> bool:
        """Put the cursor to the limits if `path` is about them."""
        if not path.startswith("compliance.limits"):
            return False
        self.add_button.setFocus(Qt.FocusReason.ShortcutFocusReason)
        return True

    def open_dialog(self) -> None:
        """Let an edition be picked."""
        self._bridge.settle()
        editor, home = self._bridge.editor, home_country()
        dialog = LimitChooser(
            lambda: likely_limits_in_steps(editor, home),
            self.window(),
            why=lambda found: why_likely(editor, found, home),
            style=editor.preferences.number_style,
        )
        dialog.picked.connect(self._bridge.choose_limit)
        dialog.open()

    def _rebuild(self, limits: tuple[ChosenLimit, ...]) -> None:
        for block in self.blocks:
            self._list.removeWidget(block)
            block.hide()
            block.deleteLater()
        self.blocks = [ChosenBlock(self._bridge, limit) for limit in limits]
        for block in self.blocks:
            self._list.addWidget(block)
