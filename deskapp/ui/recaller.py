"""Learns from jobs beside the window what to offer while one types."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from deskapp.i18n import N_
from deskapp.ui.tasks import Dispatcher

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.session.editor import Editor
    from deskapp.session.recall import Recollection
    from deskapp.ui.desk import Desk


class Recaller(QObject):
    """Keeps what earlier jobs held, as long as the preferences allow it."""

    def __init__(self, desk: Desk, parent: QObject) -> None:
        super().__init__(parent)
        self._desk = desk
        self.held: Recollection | None = None
        self._worker = Dispatcher(N_("Learning what to offer again"), self)
        self._worker.done.connect(self._take)

    def learn(self, editor: Editor) -> None:
        """Look through a job that has a file; one without, such as a sample, teaches nothing."""
        from deskapp.session import recall

        if not self._desk.preferences.offer_entries:
            return
        folder, job = self._desk.folder, editor.job
        if editor.path is not None:
            self._worker.start(lambda: recall.learn(folder, job))
        elif self.held is None:
            self._load()

    def offered(self, pattern: str) -> tuple[str, ...]:
        """Return what was typed into a field in earlier jobs, the newest first."""
        if not self._desk.preferences.offer_entries:
            return ()
        if self.held is None:
            self._load()
            return ()
        return self.held.offered(pattern)

    def forget(self) -> Finding | None:
        """Forget everything; return why not if that does not work."""
        from deskapp.session import recall

        self.held = None
        return recall.forget(self._desk.folder)

    def _load(self) -> None:
        from deskapp.session import recall

        folder = self._desk.folder
        self._worker.start(lambda: recall.load(folder))

    def _take(self, held: Recollection) -> None:
        self.held = held
