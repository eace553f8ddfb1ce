"""Looks for unused memory in the thread of the window alone, and at length only in quiet moments.

Python looks for objects that only hold each other in whatever thread happens to make a new one. A
widget found so by another thread is taken apart there, while the window may be at work on it, and
the program ends. So that search is turned off, and a timer of the window does it instead.
"""

from __future__ import annotations

import gc
import sys

from PySide6.QtCore import QObject, QTimer

PACE = 1000
"""Milliseconds between two looks at how much there is to do."""
FEW = 50
"""New objects between two looks up to which nobody was at work."""
OLDER_TOO = 10
"""Every so many searches among what is new, one takes in what outlived the last ones."""
GROWTH, SOME = 1.25, 50_000
"""A search of everything is due, when it is quiet, with a quarter more pieces of memory in use than
the last one left, and so many; it takes about as long as a picture on the screen."""
GROWTH_AT_WORK = 3.0
"""The same while somebody is at work: then it must be worth a stop."""


class Sweeper(QObject):
    """Frees what nobody uses any more; to be made once, in the thread of the window."""

    def __init__(self, parent: QObject | None = None) -> None:
        """Turn off the search by the interpreter, and search here from now on."""
        super().__init__(parent)
        gc.disable()
        self._searches = 0
        self._new = gc.get_count()[0]
        self._loaded = 0
        self._held = sys.getallocatedblocks()
        self._timer = QTimer(self)
        self._timer.setInterval(PACE)
        self._timer.timeout.connect(self.look)
        self._timer.start()

    def keep_loaded(self) -> None:
        """Search no more among what is there now, since it stays for the whole run."""
        gc.collect()
        gc.freeze()
        self._loaded = self._held = sys.getallocatedblocks()
        self._new = gc.get_count()[0]

    def look(self) -> None:
        """Search what is new where there is enough of it; everything, where that is due."""
        before, self._new = self._new, gc.get_count()[0]
        if self._new > gc.get_threshold()[0]:
            self._searches += 1
            with_older = self._searches % OLDER_TOO == 0
            gc.collect(1 if with_older else 0)
            self._new = gc.get_count()[0]
            if with_older:
                self._sweep_beyond(GROWTH_AT_WORK)
        elif self._searches and self._new - before <= FEW:
            self._searches = 0
            self._sweep_beyond(GROWTH)

    def _sweep_beyond(self, growth: float) -> None:
        # Objects must not be listed to count them: another thread may be at work on one of them.
        more = sys.getallocatedblocks() - self._loaded
        if more > growth * (self._held - self._loaded) + SOME:
            gc.collect()
            self._held = sys.getallocatedblocks()
            self._new = gc.get_count()[0]
