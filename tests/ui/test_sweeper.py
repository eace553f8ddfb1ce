"""Unused memory is looked for in the thread of the window, whoever makes new objects."""

from __future__ import annotations

import gc
import threading
import weakref
from collections.abc import Callable, Iterator

import pytest
from PySide6.QtCore import QObject
from pytestqt.qtbot import QtBot

from deskapp.ui.sweeper import AWAY, BURST, FEW, SOME, Sweeper
from deskapp.ui.tasks import Dispatcher


class Knot(QObject):
    """Something of the window that only holds itself."""

    def __init__(self) -> None:
        super().__init__()
        self.me = self


def knot_that_tells() -> list[int]:
    """Make a knot nobody uses; return where the thread will stand that takes it apart."""
    ends: list[int] = []
    weakref.finalize(Knot(), lambda: ends.append(threading.get_ident()))
    return ends


def many(number: int) -> list[list[int]]:
    return [[] for _each in range(number)]


def make_many() -> int:
    """Make more new objects than the interpreter allows before it searches."""
    return len(many(20 * gc.get_threshold()[0]))


@pytest.fixture
def searched(monkeypatch: pytest.MonkeyPatch) -> Iterator[list[int]]:
    """The generations that are searched, in order; nothing may be listed to count it."""
    asked: list[int] = []
    plain: Callable[[int], int] = gc.collect

    def collect(generation: int = 2) -> int:
        asked.append(generation)
        return plain(generation)

    def hold_all() -> list[object]:
        pytest.fail("a tuple another thread is making must have no second holder: it would fail")

    monkeypatch.setattr(gc, "collect", collect)
    monkeypatch.setattr(gc, "get_objects", hold_all)
    yield asked


def test_that_the_interpreter_itself_would_take_it_apart_in_the_other_thread(
    qtbot: QtBot,
) -> None:
    """The danger, to show that the tests below can tell."""
    dispatcher = Dispatcher("Trying")
    gc.collect(0)
    ends = knot_that_tells()
    gc.enable()
    try:
        with qtbot.waitSignal(dispatcher.done):
            dispatcher.start(make_many)
    finally:
        gc.disable()
    assert ends != [threading.get_ident()]


def test_that_it_is_taken_apart_in_the_thread_of_the_window(qtbot: QtBot, sweeper: Sweeper) -> None:
    ends = knot_that_tells()
    dispatcher = Dispatcher("Trying")
    with qtbot.waitSignal(dispatcher.done):
        dispatcher.start(make_many)
    assert ends == []
    kept = many(2 * gc.get_threshold()[0])
    sweeper.look()
    assert ends == [threading.get_ident()]
    assert kept


def test_that_a_timer_sees_to_it(qtbot: QtBot, sweeper: Sweeper) -> None:
    sweeper.look()
    ends = knot_that_tells()
    kept = many(2 * gc.get_threshold()[0])
    qtbot.waitUntil(lambda: bool(ends), timeout=20_000)
    assert kept


def test_that_everything_is_searched_only_while_nobody_is_at_work(searched: list[int]) -> None:
    sweeper = Sweeper()
    kept = many(2 * SOME)
    gc.collect(0)
    searched.clear()
    for _look in range(AWAY - 1):
        sweeper.look()
    busy = many(2 * FEW)
    for _look in range(AWAY):
        assert searched == []
        sweeper.look()
    sweeper.look()
    assert searched == [2]
    for _look in range(2 * AWAY):
        sweeper.look()
    assert searched == [2], "nothing was done since"
    gc.unfreeze()
    assert kept
    assert busy


def test_that_memory_does_not_grow_without_end_while_somebody_is_at_work(
    searched: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("deskapp.ui.sweeper.MUCH", 10 * SOME)
    sweeper = Sweeper()
    kept: list[list[int]] = []
    searched.clear()
    looks = 0
    while 2 not in searched and looks < 10 * SOME:
        kept += many(2 * gc.get_threshold()[0])
        sweeper.look()
        looks += 1
    gc.unfreeze()
    assert searched == [*[0] * looks, 2]
    assert looks > 1


def test_that_what_is_built_in_a_moment_is_not_searched_before_everything_is(
    searched: list[int],
) -> None:
    sweeper = Sweeper()
    gc.collect(0)
    searched.clear()
    ends = knot_that_tells()
    built = many(max(2 * SOME, 2 * BURST))
    sweeper.look()
    assert searched == []
    assert ends == []
    busy = many(2 * gc.get_threshold()[0])
    sweeper.look()
    assert searched == [0]
    assert ends == []
    for _look in range(AWAY + 1):
        sweeper.look()
    gc.unfreeze()
    assert searched == [0, 2]
    assert ends == [threading.get_ident()]
    assert built
    assert busy


def test_that_what_is_loaded_is_searched_no_more() -> None:
    sweeper = Sweeper()
    gc.collect()
    before = gc.get_freeze_count()
    stays = [[]]
    assert any(one is stays for one in gc.get_objects())
    sweeper.keep_loaded()
    try:
        assert gc.get_freeze_count() > before
        assert not any(one is stays for one in gc.get_objects())
    finally:
        gc.unfreeze()
