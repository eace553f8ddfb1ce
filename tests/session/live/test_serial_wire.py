"""A serial port, tried on a pseudo-terminal where the system has them and pyserial is there."""

from __future__ import annotations

import importlib.util
import os
import subprocess
import sys
import threading
from pathlib import Path

import pytest

from deskapp.session.live.serial_wire import SerialSettings, SerialWire, serial_ports
from deskapp.session.live.sources import SourceState, from_serial
from deskapp.session.live.wires import WireTrouble

ROOT = Path(__file__).resolve().parents[3]

with_pyserial = pytest.mark.skipif(
    importlib.util.find_spec("serial") is None, reason="pyserial is not installed"
)
with_terminals = pytest.mark.skipif(
    not hasattr(os, "openpty"), reason="the system has no pseudo-terminals"
)


@pytest.fixture
def terminal():
    """Two ends of a pseudo-terminal: a handle to write to, and the name of the port."""
    near, far = os.openpty()
    name = os.ttyname(far)
    open_ends = [near, far]
    yield near, name, open_ends
    for handle in open_ends:
        os.close(handle)


@with_pyserial
@with_terminals
def test_that_lines_come_from_a_serial_port_until_stopped(terminal, fetch, reach):
    near, name, _ends = terminal
    source = from_serial(SerialSettings(name))
    source.start()
    reach(source, SourceState.OPEN)
    for part in (b"1,-25", b".0\r\n2,-26.0\r\n"):
        os.write(near, part)
    assert fetch(source, 2) == ["1,-25.0", "2,-26.0"]
    assert source.stop()
    assert source.notice.state is SourceState.ENDED
    assert "line source" not in {thread.name for thread in threading.enumerate()}


@with_pyserial
@with_terminals
def test_that_a_port_that_goes_away_is_told_in_words(terminal):
    near, name, ends = terminal
    wire = SerialWire(SerialSettings(name))
    wire.open()
    os.close(near)
    ends.remove(near)
    with pytest.raises(WireTrouble, match="no longer answers"):
        for _ in range(3):
            wire.receive()
    wire.close()
    assert wire.receive() is None


@with_pyserial
@with_terminals
def test_that_a_port_in_use_is_told_in_words(terminal):
    _near, name, _ends = terminal
    first, second = SerialWire(SerialSettings(name)), SerialWire(SerialSettings(name))
    first.open()
    with pytest.raises(WireTrouble, match="in use"):
        second.open()
    first.close()
    second.open()
    second.close()


@with_pyserial
def test_that_a_missing_port_is_told_in_words(tmp_path):
    with pytest.raises(WireTrouble, match=r"no port|cannot be opened"):
        SerialWire(SerialSettings(str(tmp_path / "no-port"))).open()


@with_pyserial
@with_terminals
@pytest.mark.parametrize(
    "wrong", [{"data_bits": 11}, {"parity": "X"}, {"stop_bits": 0}, {"baud": -1}, {"baud": 10**12}]
)
def test_that_settings_no_port_has_are_told_in_words(terminal, wrong):
    _near, name, _ends = terminal
    with pytest.raises(WireTrouble, match="set up"):
        SerialWire(SerialSettings(name, **wrong)).open()


@with_pyserial
def test_that_the_ports_of_this_computer_are_listed_with_words():
    assert all(found.port in found.words for found in serial_ports())


def test_that_a_missing_package_is_told_in_words(monkeypatch):
    monkeypatch.setitem(sys.modules, "serial", None)
    monkeypatch.setitem(sys.modules, "serial.tools.list_ports", None)
    with pytest.raises(WireTrouble, match="pyserial"):
        SerialWire(SerialSettings("COM1")).open()
    with pytest.raises(WireTrouble, match="pyserial"):
        serial_ports()


def test_that_nothing_loads_pyserial_before_it_is_needed():
    code = "import sys, deskapp.session.live.sources, deskapp.session.live.serial_wire as w\n"
    code += "w.SerialWire(w.SerialSettings('COM1')); print('serial' in sys.modules)"
    command = [sys.executable, "-c", code]
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "False"
