"""The training server on the loopback address; every wait is bounded."""

from __future__ import annotations

import socket
import threading
import time

import pytest

from deskapp.session.live.simulated import HEADER, Move, SimulatedCase, SimulatedSystem
from deskapp.session.live.sources import SourceState, from_tcp
from deskapp.session.live.training_server import HOST, TrainingServer

LONGEST_S = 10.0
CASE = SimulatedCase(0.006, 0.6, 0.01, noise=0.1)


def wait_until_over(server: TrainingServer) -> None:
    deadline = time.monotonic() + LONGEST_S
    while server.is_running:
        assert time.monotonic() < deadline
        time.sleep(0.005)


def test_that_a_listener_gets_the_whole_stream_and_then_it_ends():
    system = SimulatedSystem(CASE, 1)
    with TrainingServer(system, [Move(0.0, 25.0)], pace=0.0, longest=60.0) as server:
        source = from_tcp(*server.address)
        lines = [line.text for line in source]
        wait_until_over(server)
    assert source.notice.state is SourceState.ENDED
    assert lines[0] == HEADER
    assert len(lines) == 1 + 120
    assert float(lines[-1].split(",")[1]) == pytest.approx(-25.0, abs=1.0)


def test_that_it_listens_on_this_computer_only():
    with TrainingServer(SimulatedSystem(CASE, 1)) as server:
        assert server.address[0] == HOST == "127.0.0.1"
        assert server._socket.getsockname()[0] == "127.0.0.1"


def test_that_it_ends_by_itself_when_nobody_listens():
    server = TrainingServer(SimulatedSystem(CASE, 1), idle=0.01)
    server.start()
    wait_until_over(server)
    with pytest.raises(ConnectionRefusedError):
        socket.create_connection(server.address, 0.5)


def test_that_the_hand_moves_the_pressure_while_it_runs(fetch):
    system = SimulatedSystem(CASE, 1)
    with TrainingServer(system, pace=0.002) as server, from_tcp(*server.address) as source:
        still = fetch(source, 10)[1:]
        assert max(abs(float(line.split(",")[1])) for line in still) < 1.0
        server.set_pressure(50.0)
        assert float(fetch(source, 80)[-1].split(",")[1]) == pytest.approx(-50.0, abs=1.0)


def test_that_a_listener_may_leave_and_come_back(fetch):
    with TrainingServer(SimulatedSystem(CASE, 1), pace=0.002) as server:
        with from_tcp(*server.address) as first:
            assert fetch(first, 3)[0] == HEADER
        with from_tcp(*server.address) as second:
            header, line, *_ = fetch(second, 3)
        assert header == HEADER
        assert float(line.split(",")[0]) > 1.0


def test_that_stopping_ends_it_in_the_middle_of_a_line_and_leaves_no_thread(fetch):
    server = TrainingServer(SimulatedSystem(CASE, 1), pace=60.0)
    server.start()
    with from_tcp(*server.address) as source:
        fetch(source, 1)
        begun = time.monotonic()
        assert server.stop()
        assert time.monotonic() - begun < 2.0
    assert "training" not in {thread.name for thread in threading.enumerate()}


def test_that_it_may_be_stopped_before_it_was_started():
    assert TrainingServer(SimulatedSystem(CASE, 1)).stop()
