"""The page of the report: who signs, what is missing, the papers and how they will look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.session.pages import TESTER
from deskapp.ui.form import PlainGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.paper_card import PaperCard
from deskapp.ui.photos.signature_strip import SignatureStrip
from deskapp.ui.preview import PreviewCard

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen


class ReportPage(FormPage):
    """The form of the tester, the papers, and their preview where none stands beside the page."""

    def __init__(
        self,
        page: Page,
        bridge: Bridge,
        chosen: Chosen,
        desk: Desk,
        go_to: Callable[[str], None],
    ) -> None:
        self.signature = SignatureStrip(bridge)
        super().__init__(page, bridge, chosen)
        self.papers = PaperCard(bridge, desk)
        self.preview = PreviewCard(bridge, desk)
        self.shown_kind = lambda: self.preview.kind
        self.papers.led_to.connect(go_to)
        self.papers.print_wanted.connect(self.ask_how_to_print)
        below = self.column.count() - 1
        self.column.insertWidget(below, self.papers)
        self.column.insertWidget(below + 1, self.preview)
        self._parts.append(self.papers)

    def after(self, title: str) -> None:
        """Put the picture of the signature below the fields of the tester."""
        group = self.groups[-1]
        if title == TESTER and isinstance(group, PlainGroup):
            group.add_extra(self.signature)

    def round_off(self) -> None:
        """Draw the preview if the job has changed."""
        self.preview.refresh()

    def ask_where(self, kind: str) -> None:
        """Ask where to save a report."""
        self.papers.ask_where(kind)

    def ask_to_issue(self, kind: str) -> None:
        """Ask what is needed to issue a report."""
        self.papers.ask_to_issue(kind)

    def ask_how_to_print(self) -> None:
        """Ask how to print the report that the preview shows."""
        self.papers.ask_how_to_print(self.shown_kind())

    def show_preview_at(self, distance: int) -> None:
        """Scroll to a place that lies so far below the top of the preview."""
        self.verticalScrollBar().setValue(self.preview.y() + distance)
