"""Steps told in place, and a way to give the work up."""

from __future__ import annotations

import time
from threading import Event

import pytest
from pytestqt.qtbot import QtBot

from deskapp.session.long_work import LongWork
from deskapp.ui.progress import PATIENCE, ProgressLine, Undertaking


def test_that_a_line_tells_the_step_only_after_a_while(qtbot: QtBot) -> None:
    undertaking = Undertaking("Papers")
    line = ProgressLine(undertaking)
    qtbot.addWidget(line)
    gate = Event()

    def do(work: LongWork) -> int:
        work.step(1, 3, "drawing")
        gate.wait(20)
        return 7

    started = time.monotonic()
    with qtbot.waitSignal(undertaking.told):
        undertaking.start(do)
    assert not line.isVisible()
    qtbot.waitUntil(line.isVisible)
    assert time.monotonic() - started >= 0.9 * PATIENCE / 1000  # the clock of Qt is coarse
    assert line.words.text() == "Step 1 of 3: drawing"
    assert (line.bar.value(), line.bar.maximum()) == (0, 3)
    with qtbot.waitSignal(undertaking.done) as done:
        gate.set()
    assert done.args == [7]
    assert not line.isVisible()


@pytest.mark.alone
def test_that_canceling_is_at_once_whatever_the_work_is_at(qtbot: QtBot) -> None:
    undertaking = Undertaking("Papers")
    line = ProgressLine(undertaking)
    qtbot.addWidget(line)
    gate, over = Event(), Event()
    kept: list[str] = []

    def do(work: LongWork) -> None:
        try:
            gate.wait(20)
            work.settle()
            kept.append("a file")
        finally:
            over.set()

    undertaking.start(do)
    qtbot.waitUntil(line.isVisible)
    begin = time.perf_counter()
    with qtbot.waitSignal(undertaking.given_up):
        line.cancel.click()
    assert time.perf_counter() - begin < 0.2
    assert not undertaking.is_busy
    # Something else may begin although the first is not at its end yet.
    with qtbot.waitSignal(undertaking.done) as done:
        assert undertaking.start(lambda _work: 2)
    assert done.args == [2]
    gate.set()
    assert over.wait(10)
    assert kept == []


def test_that_one_thing_is_done_at_a_time(qtbot: QtBot) -> None:
    undertaking = Undertaking("Papers")
    gate = Event()
    assert undertaking.start(lambda _work: gate.wait(20))
    assert not undertaking.start(lambda _work: None)
    with qtbot.waitSignal(undertaking.done):
        gate.set()


def test_that_work_is_not_given_up_once_files_are_being_written(qtbot: QtBot) -> None:
    undertaking = Undertaking("Papers")
    settled, gate = Event(), Event()

    def do(work: LongWork) -> str:
        work.settle()
        settled.set()
        gate.wait(20)
        return "written"

    undertaking.start(do)
    assert settled.wait(10)
    assert not undertaking.end()
    with qtbot.waitSignal(undertaking.done) as done:
        gate.set()
    assert done.args == ["written"]


def test_that_a_line_opened_in_the_middle_of_the_work_tells_how_far_it_is(qtbot: QtBot) -> None:
    undertaking, gate = Undertaking("Papers"), Event()

    def do(work: LongWork) -> None:
        work.step(2, 3, "drawing")
        gate.wait(20)

    with qtbot.waitSignal(undertaking.told):
        undertaking.start(do)
    line = ProgressLine(undertaking)
    qtbot.addWidget(line)
    assert line.words.text() == "Step 2 of 3: drawing"
    with qtbot.waitSignal(undertaking.done):
        gate.set()
    assert undertaking.last_told is None
