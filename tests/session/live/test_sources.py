"""Sources on scripted wires: no network, no files, no real time but for threads handing over."""

from __future__ import annotations

import threading
import time

import pytest

from deskapp.session.live.sources import (
    LineSource,
    ReceivedLine,
    SourceNotice,
    SourceState,
    read_address,
)
from deskapp.session.live.wires import WireTrouble

LONGEST_S = 10.0


class ScriptedWire:
    """Gives each of its answers once: bytes, None for the end, or raises trouble.

    `opens` are the answers of opening: None goes well. After the last answer it stays silent until
    it is interrupted.
    """

    place = "the wire"

    def __init__(self, *answers: object, opens: tuple[object, ...] = (), comes_back: bool = True):
        self.may_come_back = comes_back
        self.opened = self.closed = 0
        self._answers = list(answers)
        self._opens = list(opens)
        self._interrupted = threading.Event()

    def open(self):
        self.opened += 1
        answer = self._opens.pop(0) if self._opens else None
        if isinstance(answer, Exception):
            raise answer

    def receive(self):
        if not self._answers:
            self._interrupted.wait(LONGEST_S)
            return b""
        answer = self._answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer

    def interrupt(self):
        self._interrupted.set()

    def close(self):
        self.closed += 1


class SteppedClock:
    """A clock that goes on by one second each time it is looked at."""

    def __init__(self):
        self._now = 100.0

    def __call__(self):
        self._now += 1.0
        return self._now


def source_of(*answers: object, **options: object) -> LineSource:
    """A source that pauses next to nothing before it tries again."""
    wire_options = {name: options.pop(name) for name in ("opens", "comes_back") if name in options}
    wire = ScriptedWire(*answers, **wire_options)
    return LineSource(wire, **({"first_pause": 0.001, "tries": 3} | options))


def everything(source: LineSource) -> list[ReceivedLine | SourceNotice]:
    """All a source says until it is over."""
    source.start()
    source._thread.join(LONGEST_S)
    assert not source.is_running
    return source.pending()


def states(items: list[ReceivedLine | SourceNotice]) -> list[SourceState]:
    return [item.state for item in items if isinstance(item, SourceNotice)]


def texts(items: list[ReceivedLine | SourceNotice]) -> list[str]:
    return [item.text for item in items if isinstance(item, ReceivedLine)]


def test_that_lines_come_out_whole_and_in_order_and_the_end_is_told():
    items = everything(source_of(b"one\ntw", b"o\r\nthr", b"ee", None))
    assert texts(items) == ["one", "two", "three"]
    assert states(items) == [
        *(SourceState.CONNECTING, SourceState.OPEN),
        *(SourceState.ARRIVING, SourceState.ENDED),
    ]
    assert isinstance(items[-1], SourceNotice)
    assert items[-1].text == "the wire sends no more."


def test_that_a_loop_gets_the_lines_and_ends_with_the_source():
    assert [line.text for line in source_of(b"one\ntwo\n", None)] == ["one", "two"]


def test_that_lines_know_when_they_came():
    source = source_of(b"one\n", b"two\n", None, clock=SteppedClock())
    times = [item.arrived for item in everything(source) if isinstance(item, ReceivedLine)]
    assert times == [2.0, 3.0]


def test_that_a_line_too_long_leaves_a_mark_in_its_place():
    items = everything(source_of(b"one\n", b"x" * 5000 + b"\n", b"two\n", None))
    lines = [item for item in items if isinstance(item, ReceivedLine)]
    assert [(line.text, line.too_long) for line in lines] == [
        ("one", False),
        ("", True),
        ("two", False),
    ]


def test_that_a_wire_that_cannot_be_opened_says_why_and_is_not_tried_again():
    source = source_of(opens=(WireTrouble("No such port."),))
    items = everything(source)
    assert states(items) == [SourceState.CONNECTING, SourceState.TROUBLE]
    assert source.notice.text == "No such port."
    assert source._wire.opened == source._wire.closed == 1


def test_that_a_broken_wire_is_opened_again_and_half_a_line_is_not_glued():
    source = source_of(
        *(b"one\ntw", WireTrouble("Lost."), b"three\n", None),
        opens=(None, WireTrouble("Still away."), None),
    )
    items = everything(source)
    assert texts(items) == ["one", "three"]
    assert states(items) == [
        *(SourceState.CONNECTING, SourceState.OPEN, SourceState.ARRIVING),
        *(SourceState.TRYING_AGAIN, SourceState.TRYING_AGAIN),
        *(SourceState.OPEN, SourceState.ARRIVING, SourceState.ENDED),
    ]
    said = [item.text for item in items if isinstance(item, SourceNotice)]
    assert said[3] == "Lost. Trying again (1 of 3)."
    assert said[4] == "Still away. Trying again (2 of 3)."


def test_that_it_gives_up_after_the_last_try_and_says_so():
    away = WireTrouble("Away.")
    source = source_of(b"one\n", WireTrouble("Lost."), opens=(None, away, away, away))
    items = everything(source)
    assert states(items)[-1] is SourceState.TROUBLE
    assert source.notice.text == "Away. Connect again once it is back."
    assert source._wire.opened == 4
    assert source._wire.closed >= 2


def test_that_a_wire_that_cannot_come_back_is_not_opened_again():
    source = source_of(b"one\n", WireTrouble("The disk is gone."), comes_back=False)
    assert states(everything(source))[-1] is SourceState.TROUBLE
    assert source.notice.text == "The disk is gone."
    assert source._wire.opened == 1


def test_that_an_unforeseen_error_is_told_and_closes_the_wire():
    source = source_of(KeyError("x"))
    assert states(everything(source))[-1] is SourceState.TROUBLE
    assert "KeyError" in source.notice.text
    assert source._wire.closed == 1


def test_that_silence_is_remarked_once_and_the_return_as_well():
    source = source_of(
        *(b"one\n", *[b""] * 8, b"two\n", None), clock=SteppedClock(), quiet_after=3.0
    )
    items = everything(source)
    assert states(items) == [
        *(SourceState.CONNECTING, SourceState.OPEN, SourceState.ARRIVING),
        *(SourceState.QUIET, SourceState.ARRIVING, SourceState.ENDED),
    ]
    assert "for 3 s" in items[4].text


def test_that_stopping_wakes_a_waiting_source_and_closes_its_wire(fetch):
    source = source_of(b"one\n")
    source.start()
    assert fetch(source, 1) == ["one"]
    begun = time.monotonic()
    assert source.stop()
    assert time.monotonic() - begun < LONGEST_S / 2
    assert list(source) == []
    assert source._wire.closed == 1
    assert source.notice == SourceNotice(SourceState.ENDED, "Reading the wire was stopped.")


def test_that_stopping_ends_a_pause_before_the_next_try(reach):
    source = source_of(b"one\n", WireTrouble("Lost."), first_pause=60.0)
    source.start()
    reach(source, SourceState.TRYING_AGAIN)
    assert source.stop()
    assert source.notice.state is SourceState.ENDED
    assert source._wire.opened == 1


def test_that_a_source_nobody_fetches_from_waits_and_can_still_be_stopped(reach):
    source = source_of(b"line\n" * 1000, None, most_waiting=10)
    source.start()
    reach(source, SourceState.ARRIVING)
    assert source.is_running
    assert source.stop()
    assert len(source.pending()) <= 12


def test_that_a_source_can_be_stopped_before_it_was_started():
    source = source_of(b"one\n")
    assert source.stop()
    assert list(source.pending()) == []


def test_that_a_with_block_starts_and_stops():
    with source_of(b"one\n") as source:
        assert source.is_running
    assert not source.is_running


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("192.0.2.7:5025", ("192.0.2.7", 5025)),
        (" gauge.local:80 ", ("gauge.local", 80)),
        ("[::1]:5025", ("::1", 5025)),
        ("gauge.local", ("gauge.local", 7000)),
        ("", None),
        ("gauge:", None),
        (":80", None),
        ("gauge:0", None),
        ("gauge:70000", None),
        ("gauge:²", None),
        ("my gauge:80", None),
    ],
)
def test_that_an_address_is_a_host_and_a_port(text, expected):
    assert read_address(text, default_port=7000) == expected


def test_that_a_port_is_needed_where_there_is_no_usual_one():
    assert read_address("gauge.local") is None


def test_that_an_end_and_a_trouble_are_over_and_nothing_else_is():
    over = {state for state in SourceState if state.is_over}
    assert over == {SourceState.ENDED, SourceState.TROUBLE}
