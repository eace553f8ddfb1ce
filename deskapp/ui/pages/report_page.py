"""The page of the report: what is missing, the papers, who signs, and how they will look."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal

from deskapp.session.pages import TESTER
from deskapp.ui.form import PlainGroup
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.paper_card import PaperCard
from deskapp.ui.photos.signature_strip import SignatureStrip
from deskapp.ui.preview import PreviewCard

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from PySide6.QtWidgets import QWidget

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.desk import Desk
    from deskapp.ui.form import Chosen
    from deskapp.ui.pages.page import PagePart


class ReportPage(FormPage):
    """The papers, the form of the tester, and the preview where none stands beside the page.

    Signals: `ready` once papers and preview stand there.
    """

    ready = Signal()

    def __init__(
        self,
        page: Page,
        bridge: Bridge,
        chosen: Chosen,
        desk: Desk,
        go_to: Callable[[str], None],
    ) -> None:
        super().__init__(page, bridge, chosen)
        self._desk = desk
        self._go_to = go_to
        self.shown_kind = lambda: self.preview.kind

    def before(self) -> Iterator[None]:
        """Put the papers first: they are what the page is for."""
        self.papers = PaperCard(self._bridge, self._desk)
        self.papers.led_to.connect(self._go_to)
        self.papers.print_wanted.connect(self.ask_how_to_print)
        self.hold(self.papers)
        yield
        self.papers.refresh()
        self.add(self.papers, to_refresh=self.papers)
        yield

    def after(self, title: str) -> Iterator[None]:
        """Put the picture of the signature below the fields of the tester."""
        group = self.groups[-1]
        if title == TESTER and isinstance(group, PlainGroup):
            self.signature = SignatureStrip(self._bridge)
            group.add_extra(self.signature)
            yield

    def below(self) -> Iterator[None]:
        """Put the preview of the papers below the form."""
        self.preview = PreviewCard(self._bridge, self._desk)
        self.add(self.preview)
        yield

    def _place(self, part: QWidget | None, to_refresh: PagePart | None) -> None:
        super()._place(part, to_refresh)
        if self.is_whole:
            self.ready.emit()

    def round_off(self) -> None:
        """Draw the preview if the job has changed."""
        if self.is_whole:
            self.preview.refresh()

    def ask_where(self, kind: str) -> None:
        """Ask where to save a report."""
        self.papers.ask_where(kind)

    def ask_to_issue(self, kind: str) -> None:
        """Ask what is needed to issue a report."""
        self.papers.ask_to_issue(kind)

    def ask_how_to_print(self, give_up: Callable[[], object] = lambda: None) -> None:
        """Ask which paper to print, the one that the preview shows or another.

        `give_up` is called where nobody wants to print after all.
        """
        self.papers.ask_how_to_print(self.shown_kind(), give_up)

    def show_preview_at(self, distance: int) -> None:
        """Scroll to a place that lies so far below the top of the preview."""
        self.verticalScrollBar().setValue(self.preview.y() + distance)
