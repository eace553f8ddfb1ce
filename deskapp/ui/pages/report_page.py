"""The page of the report: who signs, what is missing, the papers and how they will look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QTimer
from PySide6.QtGui import QShowEvent

from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.paper_card import PaperCard
from deskapp.ui.preview import PreviewCard

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.job import Job
    from deskapp.session.pages import Page
    from deskapp.session.settings import Preferences
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen

_CALM = 700


class ReportPage(FormPage):
    """The form of the tester, the papers, and their preview, drawn anew when typing has calmed."""

    def __init__(
        self,
        page: Page,
        bridge: Bridge,
        chosen: Chosen,
        desk: Desk,
        go_to: Callable[[str], None],
    ) -> None:
        super().__init__(page, bridge, chosen)
        self.papers = PaperCard(bridge, desk)
        self.preview = PreviewCard(lambda: desk.order_reports(bridge.editor))
        self._bridge = bridge
        self._drawn: tuple[Job, Preferences] | None = None
        self.papers.led_to.connect(go_to)
        self._calm = QTimer(self)
        self._calm.setSingleShot(True)
        self._calm.timeout.connect(self._draw)
        below = self.column.count() - 1
        self.column.insertWidget(below, self.papers)
        self.column.insertWidget(below + 1, self.preview)
        self._parts.append(self.papers)

    def refresh(self) -> None:
        """Show what the job holds; draw the preview if it has changed."""
        super().refresh()
        if self.isVisible() and self._wanted() != self._drawn:
            self._calm.start(_CALM)

    def showEvent(self, event: QShowEvent) -> None:
        """Draw the preview when the page comes up."""
        super().showEvent(event)
        if self._wanted() != self._drawn:
            self._calm.start(0)

    def ask_where(self, kind: str) -> None:
        """Ask where to save a report."""
        self.papers.ask_where(kind)

    def ask_to_issue(self, kind: str) -> None:
        """Ask what is needed to issue a report."""
        self.papers.ask_to_issue(kind)

    def refresh_preview(self) -> None:
        """Draw the preview anew."""
        self._drawn = None
        if self.isVisible():
            self._draw()

    def _wanted(self) -> tuple[Job, Preferences]:
        return self._bridge.editor.job, self._bridge.preferences

    def _draw(self) -> None:
        self._drawn = self._wanted()
        self.preview.draw()
