"""Help of the whole window: the panel of topics, and the way around the sample."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from deskapp.session.help.topics import HelpBook
from deskapp.ui.help.asked_about import field_of
from deskapp.ui.help.help_panel import HelpPanel
from deskapp.ui.help.tour_bar import TourBar

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget

    from deskapp.session.help.topics import Topic
    from deskapp.ui.desk import Desk
    from deskapp.ui.main_window import MainWindow
    from deskapp.ui.workbench import Workbench


class Guide(QObject):
    """Answers F1, and leads around."""

    def __init__(self, window: MainWindow, desk: Desk) -> None:
        super().__init__(window)
        self._window = window
        self._desk = desk
        self.panel: HelpPanel | None = None
        self.tour: TourBar | None = None

    def explain(self, bench: Workbench | None) -> None:
        """Explain the field that has the cursor, or else the page; without a job list all."""
        book = self._book()
        topic: Topic | None = None
        if bench is not None and bench.isVisible():
            field = field_of(self._window.focusWidget())
            page = f"page:{bench.page.page.id}"
            topic = book.topic(page) if field is None else book.of_spec(field.spec)
        self._show(book, topic)

    def list_topics(self) -> None:
        """List all topics, ready to search."""
        self._show(self._book(), None)

    def show_around(self, bench: Workbench) -> None:
        """Lead through the job on the workbench, which is a copy of the sample."""
        if self.tour is None:
            self.tour = TourBar(bench.go_to_place)
            bench.put_on_top(self.tour)
        self.tour.begin()

    def end_tour(self) -> None:
        """Close the way around, as when another job is opened."""
        if self.tour is not None:
            self.tour.hide()

    def refresh(self) -> None:
        """Show the topic in the units that are preferred now."""
        if self.panel is not None:
            self.panel.tell_anew(self._book())

    def retell(self, bench: Workbench | None) -> list[tuple[QWidget, QWidget]]:
        """Make panel and way around anew; return the parts that answer each other."""
        pairs: list[tuple[QWidget, QWidget]] = []
        if self.panel is not None:
            before, self.panel = self.panel, self.panel.made_anew(self._book())
            pairs.append((before, self.panel))
        if self.tour is not None:
            tour, self.tour = self.tour, None
            if bench is not None and not tour.isHidden():
                self.tour = tour.made_anew(bench.go_to_place)
                bench.put_on_top(self.tour)
                self.tour.show()
                pairs.append((tour, self.tour))
        return pairs

    def _show(self, book: HelpBook, topic: Topic | None) -> None:
        if self.panel is None:
            self.panel = HelpPanel(self._window, self._window.memory)
        self.panel.open_at(book, topic)

    def _book(self) -> HelpBook:
        return HelpBook(self._desk.shelf, self._desk.preferences)
