"""Reads the list of jobs beside the window, a little at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Signal

from deskapp.ui.tasks import Dispatcher

if TYPE_CHECKING:
    from deskapp.session.job_index import JobLine
    from deskapp.ui.desk import Desk

_STRETCH = 0.25


class JobReader(QObject):
    """Lists the jobs of the folder for jobs, and those used last.

    Signals: `listed` with the lines known so far and whether that is all; names come first, what
    is in the files follows in stretches of a quarter of a second.
    """

    listed = Signal(object, bool)

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._desk = desk
        self._index = desk.job_index()
        self._dispatcher = Dispatcher(self)
        self._dispatcher.done.connect(self._on_done)

    def start(self) -> None:
        """See what jobs there are now."""
        preferences = self._desk.preferences
        folder, recent = preferences.jobs_path, preferences.recent

        def look() -> tuple[tuple[JobLine, ...], bool]:
            self._index.look(folder, recent)
            more = self._index.read_some(0.0)
            return self._index.lines, not more

        self._dispatcher.start(look)

    def _on_done(self, found: tuple[tuple[JobLine, ...], bool]) -> None:
        lines, is_whole = found
        self.listed.emit(lines, is_whole)
        if not is_whole and not self._dispatcher.is_busy:
            self._dispatcher.start(self._go_on)

    def _go_on(self) -> tuple[tuple[JobLine, ...], bool]:
        more = self._index.read_some(_STRETCH)
        return self._index.lines, not more
