"""What became of each job of a run: what was made, what was not, and why."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QListWidget, QListWidgetItem

from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.list_style import fit_words, give_air
from deskapp.ui.theme import scaled

if TYPE_CHECKING:
    from collections.abc import Mapping

    from PySide6.QtGui import QResizeEvent

    from deskapp.session.batch_papers import JobOutcome

_PATH = Qt.ItemDataRole.UserRole
_NO_FAULT = {"no-retest", "issued"}
"""Codes of what keeps a report from being made without anything being wrong."""


class OutcomeList(QListWidget):
    """Jobs as they are done; at the end those that lack something come first.

    Signals: `picked` with the path of a job, on a double click or Enter.
    """

    picked = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName(_("What became of each job"))
        give_air(self)
        self.setWordWrap(True)
        self.setSpacing(3)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setVerticalScrollMode(QListWidget.ScrollMode.ScrollPerPixel)
        side = scaled(16, self.font())
        self.setIconSize(QSize(side, side))
        self.outcomes: list[JobOutcome] = []
        self._names: Mapping[str, str] = {}
        self.itemActivated.connect(self._pick)

    @property
    def path(self) -> str:
        """The job the cursor stands on; empty if on none."""
        return str(self.currentItem().data(_PATH)) if self.currentRow() >= 0 else ""

    @property
    def made(self) -> int:
        """How many reports were made."""
        return sum(len(one.made) for one in self.outcomes)

    @property
    def lacking(self) -> int:
        """How many jobs lack a report because something is wrong."""
        return sum(_is_lacking(one) for one in self.outcomes)

    def begin(self, names: Mapping[str, str]) -> None:
        """List nothing yet; `names` are what the jobs are called, by path."""
        self.clear()
        self.outcomes, self._names = [], names

    def add(self, outcome: JobOutcome) -> None:
        """List what became of a job."""
        self.outcomes.append(outcome)
        self._show(outcome)
        fit_words(self, self.count() - 1)

    def resizeEvent(self, event: QResizeEvent) -> None:
        """Make room for words that go on in a line below at this width."""
        super().resizeEvent(event)
        fit_words(self)

    def sort_out(self) -> None:
        """Put the jobs that lack something first."""
        self.outcomes.sort(key=lambda one: (not _is_lacking(one), not one.troubles))
        self.clear()
        for one in self.outcomes:
            self._show(one)
        self.setCurrentRow(0)
        fit_words(self)

    def as_text(self) -> str:
        """Return the list as plain text, one job after the other."""
        return "\n\n".join(self._words(one) for one in self.outcomes)

    def _pick(self, item: QListWidgetItem) -> None:
        self.picked.emit(str(item.data(_PATH)))

    def _show(self, outcome: JobOutcome) -> None:
        glyph = Glyph.DONE
        if outcome.troubles:
            glyph = Glyph.STOP if _is_lacking(outcome) else Glyph.NOTE
        item = QListWidgetItem(icon_of(glyph, self, self.iconSize().width()), self._words(outcome))
        item.setData(_PATH, str(outcome.job))
        self.addItem(item)

    def _words(self, outcome: JobOutcome) -> str:
        path = str(outcome.job)
        lines = [self._names.get(path) or Path(path).name]
        if outcome.made:
            files = ", ".join(one.path.name for one in outcome.made)
            lines.append(_("Made: {files}").format(files=files))
        lines += [_("Not made: {why}").format(why=one.text) for one in outcome.troubles]
        findings = dict.fromkeys(found.text for one in outcome.made for found in one.findings)
        return "\n".join([*lines, *findings])


def _is_lacking(outcome: JobOutcome) -> bool:
    return any(trouble.code not in _NO_FAULT for trouble in outcome.troubles)
