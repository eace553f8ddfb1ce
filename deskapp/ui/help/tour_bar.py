"""The way around the sample job: one step at a time, above the page it speaks of."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QHBoxLayout, QVBoxLayout

from deskapp.i18n import _, pgettext
from deskapp.session.help.data import tour_steps
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable


class TourBar(QFrame):
    """Each step leads to a page or a field, and says one thing about it. Escape ends it."""

    def __init__(self, go: Callable[[str, str], None]) -> None:
        """Make the bar; `go` turns to a page and to a field of it, if one is named."""
        super().__init__()
        self._go = go
        self.at = 0
        self.count = Words(size=Size.SMALL, muted=True, wraps=False)
        self.title = Words(size=Size.HEADING, wraps=False)
        self.words = Words()
        self.back = Command(_("Back"))
        self.next = Command(pgettext("button", "Next"), main=True)
        self.close_button = Command(_("Close"))
        self.back.clicked.connect(lambda: self.show_step(self.at - 1))
        self.next.clicked.connect(self._on_next)
        self.close_button.clicked.connect(self.hide)
        self._lay_out()
        self.hide()

    def begin(self) -> None:
        """Start at the first step."""
        self.show()
        self.show_step(0)

    def made_anew(self, go: Callable[[str, str], None]) -> TourBar:
        """Return a bar in the language in use now at the same step; the page stays as it is."""
        other = TourBar(go)
        other._tell_step(self.at)
        return other

    def show_step(self, at: int) -> None:
        """Lead to a step; the cursor stays on the button, so that Enter goes on."""
        steps = tour_steps()
        at = max(0, min(at, len(steps) - 1))
        self._go(steps[at].page, steps[at].field)
        said = self._tell_step(at)
        self.next.setFocus(Qt.FocusReason.OtherFocusReason)
        if QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, said))

    def _tell_step(self, at: int) -> str:
        steps = tour_steps()
        self.at, step = at, steps[at]
        self.count.setText(_("Step {n} of {all}").format(n=self.at + 1, all=len(steps)))
        self.title.setText(_(step.title))
        self.words.setText(_(step.text))
        self.back.allow(self.at > 0, _("This is the first step."))
        is_last = self.at == len(steps) - 1
        self.next.setText(_("Done") if is_last else pgettext("button", "Next"))
        said = f"{self.count.text()}. {self.title.text()}. {self.words.text()}"
        self.next.setAccessibleDescription(said)
        return said

    def keyPressEvent(self, event: QKeyEvent) -> None:
        """End on Escape."""
        if event.key() == Qt.Key.Key_Escape:
            self.hide()
            return
        super().keyPressEvent(event)

    def _on_next(self) -> None:
        if self.at == len(tour_steps()) - 1:
            self.hide()
        else:
            self.show_step(self.at + 1)

    def _lay_out(self) -> None:
        card = Card()
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(self.title)
        head.addWidget(self.count, 1)
        for button in (self.back, self.next, self.close_button):
            head.addWidget(button)
        column = QVBoxLayout(card)
        column.setContentsMargins(2 * GRID, GRID, GRID, GRID)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.words)
        outer = QHBoxLayout(self)
        outer.setContentsMargins(GRID, GRID, GRID, 0)
        outer.addWidget(card)
