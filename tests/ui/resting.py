"""Tells whether a window is at rest by what it still has to do, and waits until it is."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractAnimation,
    QCoreApplication,
    QDeadlineTimer,
    QEvent,
    QEventLoop,
    QObject,
    QTimer,
)
from PySide6.QtWidgets import QApplication, QWidget

from deskapp.ui.tasks import Mailbox

PATIENCE = 120_000
"""Milliseconds after which a window that comes to no rest is given up, however busy the machine."""
TICK = 100
"""Milliseconds at most that are waited for something to happen."""
CALM_TURNS = 6
"""Turns of the event loop without a layout after which layouts count as over."""
MOST_TURNS = 2000
"""Turns of the event loop in which layouts must come to an end, those of pages built ahead too."""


def unrest(window: QWidget) -> list[str]:
    """What the window still has to do: timers that will ring, animations, work in other threads."""
    timers = (one for one in window.findChildren(QTimer) if one.isActive())
    moving = [
        one
        for root in (window, QApplication.style())
        for one in root.findChildren(QAbstractAnimation)
        if one.state() is QAbstractAnimation.State.Running
    ]
    work = Mailbox.of_app().errands
    return [
        *(f"a timer of {type(one.parent()).__name__}" for one in timers),
        *(f"an animation of {type(one.parent()).__name__}" for one in moving),
        *(f"work in another thread, number {number}" for number in work),
    ]


class _Ear(QObject):
    """Hears each event that is delivered, and which of them asks for a layout."""

    def __init__(self) -> None:
        super().__init__()
        self.count = 0
        self.layouts = 0

    def eventFilter(self, watched: QObject, event: QEvent, /) -> bool:
        del watched
        self.count += 1
        self.layouts += event.type() == QEvent.Type.LayoutRequest
        return False


def settle() -> None:
    """Wait until nothing is laid out anymore: a new height climbs one widget in each turn.

    Unlike `rest` it waits for no timer and no other thread.
    """
    app = QCoreApplication.instance()
    assert app is not None
    ear, calm = _Ear(), 0
    app.installEventFilter(ear)
    try:
        for _turn in range(MOST_TURNS):
            ear.layouts = 0
            app.processEvents()
            calm = 0 if ear.layouts else calm + 1
            if calm == CALM_TURNS:
                return
    finally:
        app.removeEventFilter(ear)
    message = f"Widgets are still laid out after {MOST_TURNS} turns of the event loop."
    raise AssertionError(message)


def rest(window: QWidget) -> None:
    """Wait until the window has nothing left to do.

    That is so when no timer, animation or other work is pending and a round of the event loop
    finds no event: layouts ask each other for their sizes by events, over many rounds.
    """
    app = QCoreApplication.instance()
    assert app is not None
    deadline, ear, clock = QDeadlineTimer(PATIENCE), _Ear(), QTimer()
    app.installEventFilter(ear)
    try:
        while True:
            ear.count = 0
            app.processEvents()
            left = unrest(window)
            if not ear.count and not left:
                return
            assert not deadline.hasExpired(), left or "events and no end"
            if not ear.count:
                clock.start(TICK)
                app.processEvents(QEventLoop.ProcessEventsFlag.WaitForMoreEvents)
                clock.stop()
    finally:
        app.removeEventFilter(ear)
