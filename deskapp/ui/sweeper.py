"""Looks for unused memory in the thread of the window alone, and at length only in quiet moments.

Python looks for objects that only hold each other in whatever thread happens to make a new one. A
widget found so by another thread is taken apart there, while the window may be at work on it, and
the program ends. So that search is turned off, and a timer of the window does it instead.

A search takes the longer the more there is to search: a few milliseconds for what is new, several
pictures on the screen for everything. So only what is new is searched while somebody is at work.
"""

from __future__ import annotations

import gc
import sys

from PySide6.QtCore import QObject, QTimer

PACE = 250
"""Milliseconds between two looks at how much there is to do."""
FEW = 20
"""New objects between two looks up to which nobody was at work."""
BURST = 8_000
"""So many new objects at once are something that was built and stays, such as a page: searching
them would take longer than a picture on the screen, so they are left for the search of everything.
"""
AWAY = 120
"""Looks in a row at which nobody was at work, until everything is searched: half a minute."""
SOME, MUCH = 20_000, 1_000_000
"""More pieces of memory in use than the last search of everything left, from which on another one
pays while nobody is at work; and in any case, though somebody has to wait for it."""


class Sweeper(QObject):
    """Frees what nobody uses any more; to be made once, in the thread of the window."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Turn off the search by the interpreter, and search here from now on."""
        super().__init__(parent)
        gc.disable()
        self._new = gc.get_count()[0]
        self._quiet = 0
        self._held = sys.getallocatedblocks()
        self._timer = QTimer(self)
        self._timer.setInterval(PACE)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def keep_loaded(self) -> None:
        """Search what is there now, and from now on only together with everything else."""
        gc.collect()
        gc.freeze()
        self._held = sys.getallocatedblocks()
        self._new = gc.get_count()[0]

    def look(self) -> None:
        """Search what is new where there is enough of it; everything, where that is due."""
        before, self._new = self._new, gc.get_count()[0]
        self._quiet = self._quiet + 1 if self._new - before <= FEW else 0
        if self._quiet >= AWAY:
            self._quiet = 0
            self._search_all_beyond(SOME)
        elif self._new > gc.get_threshold()[0]:
            if self._new > BURST:
                gc.freeze()
            else:
                gc.collect(0)
            self._search_all_beyond(MUCH)
        self._new = gc.get_count()[0]

    def _search_all_beyond(self, growth: int) -> None:
        # Objects must not be listed to count them: another thread may be at work on one of them.
        if sys.getallocatedblocks() - self._held > growth:
            gc.unfreeze()
            self.keep_loaded()
