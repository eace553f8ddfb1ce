"""Reads the list of jobs beside the window, a little at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING, TypeAlias

from PySide6.QtCore import QObject, Signal

from deskapp.ui.tasks import Dispatcher

if TYPE_CHECKING:
    from deskapp.session.job_index import JobLine
    from deskapp.session.photo_index import PhotoIndex
    from deskapp.ui.desk import Desk

_STRETCH = 0.25
_Found: TypeAlias = "tuple[tuple[JobLine, ...], PhotoIndex | None]"


class JobReader(QObject):
    """Lists the jobs of the folder for jobs, and those used last.

    Signals: `listed` with the lines known so far and whether that is all; names come first, what
    is in the files follows in stretches of a quarter of a second. `photos_known` with the index of
    the photos of all jobs, once all is read.
    """

    listed = Signal(object, bool)
    photos_known = Signal(object)

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

        def look() -> _Found:
            self._index.prefer(preferences)
            self._index.look(folder, recent)
            return self._read(0.0)

        self._dispatcher.start(look)

    def _on_done(self, found: _Found) -> None:
        lines, photos = found
        self.listed.emit(lines, photos is not None)
        if photos is not None:
            self.photos_known.emit(photos)
        elif not self._dispatcher.is_busy:
            self._dispatcher.start(self._go_on)

    def _go_on(self) -> _Found:
        return self._read(_STRETCH)

    def _read(self, seconds: float) -> _Found:
        from deskapp.session.photo_index import PhotoIndex

        more = self._index.read_some(seconds)
        lines = self._index.lines
        return lines, None if more else PhotoIndex(lines)
