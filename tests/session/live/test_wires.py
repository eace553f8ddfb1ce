"""Real files, and real sockets on the loopback address only; every wait is bounded."""

from __future__ import annotations

import os
import socket
import struct
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from deskapp.session.live.sources import LineSource, SourceState, from_file, from_tcp
from deskapp.session.live.wires import TcpWire, WireTrouble

LONGEST_S = 10.0


@contextmanager
def listening(backlog: int = 1) -> Iterator[socket.socket]:
    """A socket that listens on a free port of the loopback address."""
    with socket.socket() as server:
        server.settimeout(LONGEST_S)
        server.bind(("127.0.0.1", 0))
        server.listen(backlog)
        yield server


def test_that_a_log_is_read_to_its_end(tmp_path):
    log = tmp_path / "log.csv"
    log.write_bytes(b"\xef\xbb\xbftime,duct\r\n1,-25\r\n2,-25.1")
    source = from_file(log)
    assert [line.text for line in source] == ["time,duct", "1,-25", "2,-25.1"]
    assert source.notice.text == "“log.csv” sends no more."


def test_that_a_growing_log_is_followed_until_stopped(tmp_path, fetch):
    log = tmp_path / "log.csv"
    log.write_text("1,-25\n")
    with from_file(log, follow=True) as source:
        assert fetch(source, 1) == ["1,-25"]
        with log.open("a") as stream:
            stream.write("2,-26\n")
        assert fetch(source, 1) == ["2,-26"]
        log.write_text("3,-27\n")  # begun anew
        assert fetch(source, 1) == ["3,-27"]
        assert source.stop()
        assert list(source) == []


@pytest.mark.parametrize("name", ["missing.csv", "."])
def test_that_a_log_that_cannot_be_read_is_told_in_words(tmp_path, name):
    source = from_file(tmp_path / name)
    assert list(source) == []
    assert source.notice.state is SourceState.TROUBLE
    assert "Choose" in source.notice.text


def test_that_lines_come_over_tcp_until_the_other_end_closes():
    with listening() as server:
        source = from_tcp(*server.getsockname())
        source.start()
        peer, _ = server.accept()
        with peer:
            peer.sendall(b"1,-25\n2,")
            peer.sendall(b"-26\n")
        assert [line.text for line in source] == ["1,-25", "2,-26"]
    assert source.notice.state is SourceState.ENDED
    assert source.stop()


def test_that_stopping_closes_the_connection_of_a_silent_instrument():
    with listening() as server:
        source = from_tcp(*server.getsockname())
        source.start()
        peer, _ = server.accept()
        with peer:
            peer.settimeout(LONGEST_S)
            begun = time.monotonic()
            assert source.stop()
            assert time.monotonic() - begun < 2.0
            assert peer.recv(1) == b""
    assert "line source" not in {thread.name for thread in threading.enumerate()}
    assert source._wire._socket is None


def test_that_a_broken_connection_is_made_again(fetch):
    with (
        listening() as server,
        LineSource(TcpWire(*server.getsockname()), first_pause=0.01) as source,
    ):
        peer, _ = server.accept()
        peer.sendall(b"1,-25\n")
        assert fetch(source, 1) == ["1,-25"]
        # A linger time of zero resets the connection instead of closing it in order.
        layout = "hh" if os.name == "nt" else "ii"
        peer.setsockopt(socket.SOL_SOCKET, socket.SO_LINGER, struct.pack(layout, 1, 0))
        peer.close()
        peer, _ = server.accept()
        with peer:
            peer.sendall(b"2,-26\n")
            assert fetch(source, 1) == ["2,-26"]
            assert source.stop()


def test_that_a_closed_port_is_told_in_words():
    with listening() as server:
        address = server.getsockname()
    source = from_tcp(*address)
    assert list(source) == []
    assert source.notice.state is SourceState.TROUBLE
    assert "takes no connection" in source.notice.text
    assert f"127.0.0.1:{address[1]}" in source.notice.text


@pytest.mark.parametrize(
    ("error", "words"),
    [
        (socket.gaierror(-2, "unknown"), "Nothing is known by the name “gauge”"),
        (TimeoutError(), "no answer within 2 s"),
        (OSError(101, "Network is unreachable"), "no way to gauge:9"),
        (OSError(5, "Input/output error"), "Input/output error"),
        (OverflowError("port"), "cannot be reached"),
        (UnicodeError("label too long"), "Nothing is known"),
    ],
)
def test_that_each_way_not_to_connect_has_its_words(monkeypatch, error, words):
    def refuse(*_arguments: object) -> None:
        raise error

    monkeypatch.setattr(socket, "create_connection", refuse)
    with pytest.raises(WireTrouble, match=words):
        TcpWire("gauge", 9, connect_timeout=2.0).open()


def test_that_an_address_with_colons_is_shown_in_brackets():
    assert TcpWire("::1", 80).place == "[::1]:80"


def test_that_a_wire_that_is_not_open_gives_nothing():
    wire = TcpWire("127.0.0.1", 9)
    assert wire.receive() is None
    wire.interrupt()
    wire.close()
