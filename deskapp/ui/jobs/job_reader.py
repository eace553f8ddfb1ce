"""Reads the list of jobs beside the window, a little at a time."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from PySide6.QtCore import QObject, Signal

from deskapp.i18n import N_
from deskapp.session.settings import usual_folder
from deskapp.ui.progress import Working
from deskapp.ui.tasks import Dispatcher

if TYPE_CHECKING:
    from deskapp.session.job_line import JobLine
    from deskapp.session.photo_index import PhotoIndex
    from deskapp.ui.desk import Desk

_STRETCH = 0.25


class _Found(NamedTuple):
    lines: tuple[JobLine, ...]
    photos: PhotoIndex | None
    read: int
    to_read: int
    away: tuple[str, ...]


class JobReader(Working):
    """Lists the jobs of the folder for jobs, and those used last.

    Signals: `listed` with the lines known so far and whether that is all; names come first, what
    is in the files follows in stretches of a quarter of a second. `photos_known` with the index of
    the photos of all jobs, once all is read. `stopped` where somebody ended the reading: then
    names alone are listed of the rest, until `start` reads on. `away` are the folders that do not
    answer now.
    """

    listed = Signal(object, bool)
    photos_known = Signal(object)
    stopped = Signal()

    def __init__(self, desk: Desk, parent: QObject | None = None) -> None:
        super().__init__(N_("Reading the list of jobs"), parent)
        self._desk = desk
        self._index = desk.job_index()
        self._is_reading = self._is_stopped = False
        self.away: tuple[str, ...] = ()
        self._dispatcher = Dispatcher(N_("Reading the list of jobs"), self)
        self._dispatcher.done.connect(self._on_done)

    @property
    def is_busy(self) -> bool:
        """Whether there is more to read and somebody wants it."""
        return self._is_reading

    @property
    def is_stopped(self) -> bool:
        """Whether somebody ended the reading before all was read."""
        return self._is_stopped

    def start(self, *, again: bool = True) -> None:
        """See what jobs there are now, and read those that changed.

        Without `again`, what was stopped stays so, and only the names are listed anew.
        """
        preferences = self._desk.preferences
        folders, recent = preferences.job_folders, preferences.recent
        self._is_stopped = self._is_stopped and not again
        self._set_reading(not self._is_stopped)

        def look() -> _Found:
            self._index.prefer(preferences)
            self._index.look(folders, recent, usual_folder())
            return self._read(0.0)

        self._dispatcher.start(look)

    def end(self) -> None:
        """Read no further; what is read so far stays and is kept."""
        if self._is_reading:
            self._is_stopped = True
            self._set_reading(False)
            self._dispatcher.start(self._keep)
            self.stopped.emit()

    def _on_done(self, found: _Found) -> None:
        self.away = found.away
        self.listed.emit(found.lines, found.photos is not None)
        if found.photos is not None:
            self._is_stopped = False
            self._set_reading(False)
            self.photos_known.emit(found.photos)
        elif self._is_reading and not self._dispatcher.is_busy:
            self.told.emit(found.read, found.to_read, "")
            self._dispatcher.start(self._go_on)

    def _set_reading(self, is_reading: bool) -> None:
        if is_reading != self._is_reading:
            self._is_reading = is_reading
            self.busy_changed.emit(is_reading)

    # In the other thread

    def _go_on(self) -> _Found:
        return self._read(_STRETCH)

    def _keep(self) -> _Found:
        self._index.keep()
        return self._read(0.0)

    def _read(self, seconds: float) -> _Found:
        from deskapp.session.photo_index import PhotoIndex

        more = self._index.read_some(seconds)
        lines = self._index.lines
        photos = None if more else PhotoIndex(lines)
        return _Found(lines, photos, *self._index.progress, self._index.away)
