"""Work in another thread."""

from __future__ import annotations

import gc
import threading
import weakref
from collections.abc import Callable

import pytest
from pytestqt.qtbot import QtBot
from shiboken6 import delete

from deskapp.session.long_work import LongWork
from deskapp.ui.progress import Undertaking
from deskapp.ui.tasks import Dispatcher, Mailbox


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
        qtbot.waitUntil(lambda: not Mailbox.of_app().errands)
    assert caught == []


def test_that_steps_told_to_what_is_closed_end_quietly(qtbot: QtBot) -> None:
    undertaking = Undertaking("Trying")
    gate, over = threading.Event(), threading.Event()

    def do(work: LongWork) -> None:
        gate.wait(5)
        try:
            work.step(1, 1, "a step")
        finally:
            over.set()

    undertaking.start(do)
    delete(undertaking)
    with qtbot.captureExceptions() as caught:
        gate.set()
        assert over.wait(5)
        qtbot.waitUntil(lambda: not Mailbox.of_app().errands)
    assert caught == []


class Held:
    """Something only the work holds on to."""


@pytest.mark.parametrize("fails", [False, True])
def test_that_what_the_work_holds_is_let_go_of_in_the_thread_of_the_window(
    qtbot: QtBot, fails: bool
) -> None:
    ends: list[int] = []

    def work_with(held: Held) -> Callable[[], Held]:
        def work() -> Held:
            if fails:
                raise ValueError(held)
            return held

        return work

    def begin(dispatcher: Dispatcher) -> None:
        held = Held()
        weakref.finalize(held, lambda: ends.append(threading.get_ident()))
        dispatcher.start(work_with(held))

    for _turn in range(50):
        dispatcher = Dispatcher("Trying")
        begin(dispatcher)
        with qtbot.waitSignal(dispatcher.busy_changed):
            pass
    qtbot.waitUntil(lambda: not Mailbox.of_app().errands)
    gc.collect()
    assert ends == [threading.get_ident()] * 50
