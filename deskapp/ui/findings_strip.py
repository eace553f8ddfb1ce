"""The strip of findings at the foot of the window; each leads to its field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QSizePolicy, QVBoxLayout, QWidget

from deskapp.i18n import _, labeled, ngettext
from deskapp.ui.fold import FoldButton
from deskapp.ui.levels import level_of
from deskapp.ui.link_list import LinkList
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.ui.bridge import Bridge

_ROWS = 4
_WORDS = (("danger", "past"), ("stop",), ("check",), ("note",))
"""What is counted together, since one word tells it."""


class FindingsStrip(QWidget):
    """All findings, stops first. A click or Enter leads to the field.

    Signals: `led_to` with the path of the field, `new_found` with the text of what came up.
    """

    led_to = Signal(str)
    new_found = Signal(str)

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._shown: tuple[Finding, ...] | None = None
        self.setAutoFillBackground(True)
        self.setBackgroundRole(QPalette.ColorRole.Window)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 6, 2 * GRID, 6)
        column.setSpacing(6)
        column.addLayout(self._head())
        self.list = LinkList(_("Findings"), _ROWS)
        self.list.led_to.connect(self.led_to)
        column.addWidget(self.list)
        self._fold_or_not(True)

    @property
    def summary(self) -> str:
        """The words that count the findings."""
        return self._counts.text()

    @property
    def remark_text(self) -> str:
        """The quiet words at the right end."""
        return self._remark.text()

    def remark(self, text: str) -> None:
        """Say something quietly at the right end, such as when the job was saved."""
        self._remark.setText(text)

    @property
    def is_open(self) -> bool:
        """Whether the findings are listed, if there are any."""
        return self._is_open

    def unfold(self, is_open: bool) -> None:
        """List the findings, or fold them away."""
        self._fold_or_not(is_open)

    def refresh(self) -> None:
        """Show the findings of the job as it stands."""
        findings = self._bridge.findings
        if findings == self._shown:
            return
        before = {finding.text for finding in self._shown or ()}
        self._shown = findings
        self.list.show_findings(findings)
        self._counts.setText(self._in_words(findings))
        self._show_marks(findings)
        self.fold_button.setVisible(bool(findings))
        self._fold_or_not(self._is_open)
        fresh = [finding for finding in findings if finding.text not in before]
        if fresh:
            self.new_found.emit(_announcement(fresh))

    def _head(self) -> QHBoxLayout:
        self.fold_button = FoldButton("")
        self.fold_button.turn()
        self.fold_button.turned.connect(self._fold_or_not)
        self._counts = Words(size=Size.STRONG, wraps=False)
        self._remark = Words(size=Size.SMALL, muted=True, wraps=False)
        self._mark = Mark(level_of("note")[0], 16)
        head = QHBoxLayout()
        head.setSpacing(GRID)
        head.addWidget(self.fold_button)
        head.addWidget(self._mark)
        head.addWidget(self._counts)
        head.addStretch(1)
        head.addWidget(self._remark)
        return head

    def _show_marks(self, findings: tuple[Finding, ...]) -> None:
        self._mark.setVisible(bool(findings))
        if findings:
            self._mark.show_glyph(*level_of(findings[0].nature))

    @staticmethod
    def _in_words(findings: tuple[Finding, ...]) -> str:
        found = [str(finding.nature) for finding in findings]
        counts = ((natures[0], sum(map(found.count, natures))) for natures in _WORDS)
        parts = [labeled(level_of(nature)[1], str(count)) for nature, count in counts if count]
        return "    ".join(parts) if parts else _("Nothing to mend so far")

    def _fold_or_not(self, is_open: bool) -> None:
        self._is_open = is_open
        self.list.setVisible(is_open and bool(self._shown))
        words = _("Fold the findings away") if is_open else _("Show the findings")
        self.fold_button.setToolTip(words)
        self.fold_button.setAccessibleName(words)


def _announcement(fresh: list[Finding]) -> str:
    """Return what a screen reader says: the weightiest new finding, and how many more there are."""
    said = labeled(level_of(fresh[0].nature)[1], fresh[0].text)
    more = len(fresh) - 1
    if not more:
        return said
    words = ngettext("And {n} more finding.", "And {n} more findings.", more)
    return f"{said} {words.format(n=more)}"
