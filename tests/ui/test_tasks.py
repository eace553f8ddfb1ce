"""Work in another thread."""

from __future__ import annotations

import threading

from PySide6.QtCore import QThreadPool
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from deskapp.ui.tasks import Dispatcher


def test_that_work_is_done_in_another_thread_and_delivered_in_this_one(qtbot: QtBot) -> None:
    dispatcher = Dispatcher("Trying")
    here = threading.get_ident()
    arrived: list[int] = []
    dispatcher.done.connect(lambda _outcome: arrived.append(threading.get_ident()))
    with qtbot.waitSignal(dispatcher.done) as done:
        dispatcher.start(threading.get_ident)
    assert done.args[0] != here
    assert arrived == [here]


def test_that_only_the_newest_wish_is_computed_after_the_one_running(qtbot: QtBot) -> None:
    dispatcher = Dispatcher("Trying")
    gate = threading.Event()
    computed: list[int] = []

    def wait() -> int:
        gate.wait(5)
        computed.append(0)
        return 0

    def compute(number: int) -> int:
        computed.append(number)
        return number

    dispatcher.start(wait)
    for number in (1, 2, 3):
        dispatcher.start(lambda number=number: compute(number))
    with qtbot.waitSignal(dispatcher.done) as done:
        gate.set()
    assert done.args == [3]
    assert computed == [0, 3]
    assert not dispatcher.is_busy


def test_that_an_exception_is_handed_over(qtbot: QtBot) -> None:
    dispatcher = Dispatcher("Trying")

    def fall() -> None:
        raise ValueError("no such thing")

    with qtbot.waitSignal(dispatcher.broken) as broken:
        dispatcher.start(fall)
    assert str(broken.args[0]) == "no such thing"


def test_that_work_ends_quietly_when_nobody_waits_for_it_any_more(qtbot: QtBot) -> None:
    dispatcher = Dispatcher("Trying")
    gate = threading.Event()
    dispatcher.start(lambda: gate.wait(5))
    delete(dispatcher)
    gate.set()
    with qtbot.captureExceptions() as caught:
        QThreadPool.globalInstance().waitForDone(5000)
    assert caught == []
