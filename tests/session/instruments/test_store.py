"""The file of the register: round trip, damage, later versions, and two writers at a time."""

from __future__ import annotations

import json
import multiprocessing
import os
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from deskapp.domain.instrument import CertificateFigure, CertificatePair, Fan, Gauge, Ring
from deskapp.domain.measured import Day, Measured
from deskapp.domain.register import (
    CheckEntries,
    FieldCheck,
    InstrumentRegister,
    RegisteredFan,
    RegisteredGauge,
)
from deskapp.session.instruments.store import EMPTY, FILE_NAME, load, save, text_of

# All of it is invented.
GAUGE = RegisteredGauge(
    gauge=Gauge(
        key="g1",
        description="Two-channel gauge – 2\N{PRIME}",
        serial="GA-01",
        due_on=Day(value=date(2026, 11, 30), typed="30 Nov 2026"),
        accuracy_percent=Measured(si=0.01, unit="percent", typed="1 %"),
        accuracy_absolute=Measured(si=None, typed="a quarter"),
    ),
    notes="Tubing replaced in May",
)
FAN = RegisteredFan(
    fan=Fan(
        key="f1",
        serial="FA-01",
        rings=(
            Ring(
                key="r1",
                coefficient=Measured(si=0.0113, unit="cfm", typed="24.0 cfm"),
                certificate_pairs=(
                    CertificatePair(
                        signal=CertificateFigure(si=25.0, unit="Pa", typed="25"),
                        flow=CertificateFigure(si=0.0566, unit="cfm", typed="120"),
                    ),
                ),
            ),
        ),
    ),
    retired=True,
    checks=(
        FieldCheck(
            entries=CheckEntries(
                done_on=Day(value=date(2026, 3, 2)),
                hole_diameter=Measured(si=0.1016, unit="in", typed="4"),
            ),
            density=1.2041,
            expected=0.0313,
            indicated=0.0317,
            share_off=0.0128,
            tolerance=0.05,
            within=True,
        ),
    ),
)
REGISTER = InstrumentRegister(gauges=(GAUGE,), fans=(FAN,))


def test_that_a_register_comes_back_from_its_file(tmp_path: Path):
    assert save(tmp_path / "made" / "here", REGISTER) is None
    found = load(tmp_path / "made" / "here")
    assert found.register == REGISTER
    assert found.findings == ()
    assert found.set_aside is None


def test_that_a_file_of_version_1_reads_for_good(tmp_path: Path):
    text = (
        '{"format": "ductfolio-instruments", "version": 1, "gauges": [{"gauge": {"key": "g1", '
        '"serial": "GA-01", "due_on": {"value": "2026-11-30", "typed": ""}}}], "fans": []}'
    )
    (tmp_path / FILE_NAME).write_text(text, encoding="utf-8")
    [gauge] = load(tmp_path).register.gauges
    assert gauge.gauge.due_on == Day(value=date(2026, 11, 30))


def test_that_without_a_file_the_register_is_empty_and_nothing_is_said(tmp_path: Path):
    found = load(tmp_path)
    assert found.register == EMPTY
    assert found.findings == ()
    assert list(tmp_path.iterdir()) == []


def good() -> dict[str, object]:
    data: dict[str, object] = json.loads(text_of(REGISTER))
    return data


def changed(**entries: object) -> bytes:
    return json.dumps(good() | entries).encode()


DAMAGED = {
    "nothing": b"",
    "half of a file": text_of(REGISTER)[:300],
    "not text": b"\xff\xfe\x00\x01",
    "a list": b"[]",
    "too deep": b"[" * 100_000,
    "another file": b'{"unit_system": "ip"}',
    "no version": changed(version="one"),
    "version zero": changed(version=0),
    "a version that is no number": changed(version=True),
    "a record with an entry too many": changed(gauges=[{"gauge": {"key": "g1", "color": "red"}}]),
    "a record without a key": changed(gauges=[{"gauge": {}}]),
    "a word for a number": changed(fans=[{"fan": {"key": "f1"}, "checks": "none"}]),
    "two records with one key": changed(gauges=[{"gauge": {"key": "g"}}, {"gauge": {"key": "g"}}]),
    "not a number": text_of(REGISTER).replace(b"0.0128", b"NaN"),
    "a huge number": text_of(REGISTER).replace(b"0.0128", b"1e999"),
}


@pytest.mark.parametrize("case", DAMAGED)
def test_that_a_damaged_file_is_set_aside_whole_and_the_register_starts_empty(
    tmp_path: Path, case: str
):
    (tmp_path / FILE_NAME).write_bytes(DAMAGED[case])
    found = load(tmp_path)
    assert found.register == EMPTY
    [finding] = found.findings
    assert found.set_aside is not None
    assert found.set_aside.read_bytes() == DAMAGED[case]
    assert FILE_NAME in finding.what
    assert found.set_aside.name in finding.mend
    assert not (tmp_path / FILE_NAME).exists()
    assert load(tmp_path).findings == ()


def test_that_two_damaged_files_are_both_kept(tmp_path: Path):
    for text in (b"one", b"two"):
        (tmp_path / FILE_NAME).write_bytes(text)
        load(tmp_path)
    kept = sorted(path.read_bytes() for path in tmp_path.iterdir())
    assert kept == [b"one", b"two"]


def test_that_a_file_damaged_since_is_set_aside_before_saving(tmp_path: Path):
    save(tmp_path, EMPTY)
    (tmp_path / FILE_NAME).write_bytes(b"somebody's own notes")
    assert save(tmp_path, REGISTER) is None
    assert load(tmp_path).register == REGISTER
    [aside] = [path for path in tmp_path.iterdir() if path.name != FILE_NAME]
    assert aside.read_bytes() == b"somebody's own notes"


def test_that_a_file_of_a_later_version_is_left_alone(tmp_path: Path):
    later = changed(version=2, meters=[])
    (tmp_path / FILE_NAME).write_bytes(later)
    found = load(tmp_path)
    assert found.register == EMPTY
    assert "later version" in found.findings[0].what
    refused = save(tmp_path, REGISTER)
    assert refused is not None
    assert refused.mend
    assert (tmp_path / FILE_NAME).read_bytes() == later


def test_that_a_file_that_may_not_be_opened_is_left_alone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    save(tmp_path, REGISTER)
    with monkeypatch.context() as patch:
        patch.setattr(Path, "read_bytes", _forbidden)
        found = load(tmp_path)
        assert found.register == EMPTY
        assert "Permission denied" in found.findings[0].what
        assert save(tmp_path, EMPTY) == found.findings[0]
    assert load(tmp_path).register == REGISTER


def test_that_a_damaged_file_that_cannot_be_moved_is_not_written_over(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    (tmp_path / FILE_NAME).write_bytes(b"damaged")
    monkeypatch.setattr(Path, "rename", _forbidden)
    found = load(tmp_path)
    assert found.set_aside is None
    assert "Permission denied" in found.findings[0].mend
    assert save(tmp_path, REGISTER) == found.findings[0]
    assert (tmp_path / FILE_NAME).read_bytes() == b"damaged"


def test_that_a_full_disk_keeps_the_old_file_and_says_so(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    save(tmp_path, REGISTER)

    def full(_handle: int) -> None:
        raise OSError(28, os.strerror(28))

    with monkeypatch.context() as patch:
        patch.setattr(os, "fsync", full)
        found = save(tmp_path, EMPTY)
    assert found is not None
    assert "disk is full" in found.what
    assert load(tmp_path).register == REGISTER
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


def test_that_a_folder_that_cannot_be_made_is_told(tmp_path: Path):
    (tmp_path / "file").write_text("in the way")
    found = save(tmp_path / "file", REGISTER)
    assert found is not None
    assert found.mend


def many(count: int) -> InstrumentRegister:
    """A register that says, in every record, how many there are."""
    return InstrumentRegister(
        gauges=tuple(
            RegisteredGauge(gauge=Gauge(key=f"g{n}", serial=str(count)), notes="x" * 500)
            for n in range(count)
        )
    )


def _save_often(folder: Path, count: int) -> None:
    for _round in range(40):
        assert save(folder, many(count)) is None


def test_that_of_two_writers_the_last_one_wins_and_no_half_file_is_ever_read(tmp_path: Path):
    save(tmp_path, many(3))
    context = multiprocessing.get_context("spawn")
    writers = [context.Process(target=_save_often, args=(tmp_path, n)) for n in (3, 90)]
    for writer in writers:
        writer.start()
    seen: set[int] = set()
    while any(writer.is_alive() for writer in writers):
        found = load(tmp_path)
        assert found.findings == ()
        count = len(found.register.gauges)
        assert {gauge.gauge.serial for gauge in found.register.gauges} == {str(count)}
        seen.add(count)
    for writer in writers:
        writer.join()
        assert writer.exitcode == 0
    assert seen <= {3, 90}
    assert len(load(tmp_path).register.gauges) in (3, 90)
    assert [path.name for path in tmp_path.iterdir()] == [FILE_NAME]


def _forbidden(*_arguments: object) -> None:
    raise PermissionError(13, os.strerror(13))


def test_that_the_same_register_always_gives_the_same_text():
    assert text_of(REGISTER) == text_of(
        InstrumentRegister.model_validate_json(REGISTER.model_dump_json())
    )


@pytest.mark.parametrize("make", [lambda: "lone \ud83d half", lambda: "line\u2028separator"])
def test_that_any_text_can_be_kept(tmp_path: Path, make: Callable[[], str]):
    noted = InstrumentRegister(gauges=(GAUGE.model_copy(update={"notes": make()}),))
    assert save(tmp_path, noted) is None
    assert load(tmp_path).findings == ()
