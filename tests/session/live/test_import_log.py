"""Logs are invented; 1 in. of water (4 °C) = 249.0889 Pa, NIST SP 811 (2008), appendix B.8."""

from __future__ import annotations

import pytest
from pydantic import ValidationError

from deskapp.domain.finding import Finding
from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.live.columns import ColumnMapping, ColumnUse, SampleField
from deskapp.session.live.import_log import (
    MOST_READINGS,
    TextLog,
    log_from_bytes,
    open_log,
    preview,
    reshaped,
    to_readings,
    to_samples,
)
from deskapp.session.live.steadiness import averages
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.units.numbers import NumberStyle

POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA
COMMA_LOG = (
    "Zeit [s];duct pressure [Pa];fan signal [in. w.c.];flow [L/s]\r\n"
    "0;-25,10;0,250;88,6\r\n"
    "1;-25,125;0,251;88,7\r\n"
    "2;-24,9;---;88,1\r\n"
    "\r\n"
    "3;nan;;\r\n"
    "End of the log\r\n"
)


def taken(text: str | bytes) -> TextLog:
    data = text if isinstance(text, bytes) else text.encode()
    log = log_from_bytes(data, "log.csv")
    assert not isinstance(log, Finding), log
    return log


def mapped(log: TextLog, flow_unit: str | None = None) -> ColumnMapping:
    return log.mapping(log.proposal(flow_unit).columns)


def test_that_rows_become_readings_with_their_digits_and_units():
    log = taken(COMMA_LOG)
    imported = to_readings(log, mapped(log), COMMA)
    assert [row.number for row in imported.rows] == [2, 3, 4]
    assert imported.rows[0].texts == {
        "duct_pressure": "-25,10 Pa",
        "fan_signal": "0,250 in. w.c.",
        "indicated_flow": "88,6 L/s",
    }
    first = imported.rows[0].reading
    assert first.duct_pressure is not None
    assert first.fan_signal is not None
    assert first.duct_pressure.si == -25.1
    assert first.fan_signal.si == pytest.approx(0.25 * 249.0889, rel=1e-6)
    assert imported.rows[1].texts["duct_pressure"] == "-25,1250 Pa"


def test_that_a_cell_that_cannot_be_read_keeps_its_text_for_a_person_to_see():
    log = taken(COMMA_LOG)
    signal = to_readings(log, mapped(log), COMMA).rows[2].reading.fan_signal
    assert signal is not None
    assert (signal.si, signal.typed) == (None, "---")


def test_that_rows_without_any_reading_are_left_out_and_named():
    log = taken(COMMA_LOG)
    left_out = to_readings(log, mapped(log), COMMA).left_out
    assert [(line.number, line.excerpt) for line in left_out] == [
        (6, "3;nan;;"),
        (7, "End of the log"),
    ]
    assert "nan" in left_out[0].reason


@pytest.mark.parametrize("person", NumberStyle)
def test_that_imported_texts_mean_the_same_once_they_are_typed_into_a_job(person):
    log = taken(COMMA_LOG)
    imported = to_readings(log, mapped(log), person)
    editor = Editor(Job(), Shelf(), Preferences(number_style=person))
    editor.add_row("tests")
    for row in imported.rows:
        path = editor.add_row("tests.0.readings")
        for field, text in row.texts.items():
            editor.enter(f"{path}.{field}", text)
    assert editor.job.tests[0].readings == tuple(row.reading for row in imported.rows)


@pytest.mark.parametrize(
    "encode",
    [
        lambda text: text.encode("utf-8-sig"),
        lambda text: text.encode("utf-16"),
        lambda text: text.encode("latin-1"),
        lambda text: text.replace("\r\n", "\r").encode(),
    ],
    ids=["utf-8 with mark", "utf-16", "latin-1", "old line ends"],
)
def test_that_a_log_is_read_in_each_common_encoding(encode):
    log = taken(encode(COMMA_LOG.replace("Zeit", "Uhrzeit für")))
    assert log.shape.header[0] == "Uhrzeit für [s]"
    assert len(to_readings(log, mapped(log), POINT).rows) == 3


def test_that_many_rows_are_a_recording_and_are_averaged(rules):
    lines = [f"{n * 0.5},{-25.0 + 0.1 * (n % 3)},{60.0 + n % 2}" for n in range(60)]
    log = taken("time,duct pressure,fan signal\n" + "\n".join(lines) + "\nnot a line\n")
    assert log.is_recording
    samples, tally = to_samples(log, mapped(log))
    assert (len(samples), tally.refused) == (60, 1)
    first, second = averages(samples, rules, 12.0)
    assert first.duct_pressure == pytest.approx(-24.9, abs=0.02)
    assert first.fan_signal == pytest.approx(60.5, abs=0.05)
    assert second.began > 12.0


def test_that_rows_without_a_time_are_a_second_apart(rules):
    log = taken("duct pressure [Pa]\n" + "-25.0\n" * 40)
    samples, _tally = to_samples(log, mapped(log))
    assert [sample.seconds for sample in samples[:3]] == [0.0, 1.0, 2.0]
    assert len(averages(samples, rules, 10.0)) == 3


def test_that_a_preview_shows_cells_and_what_a_mapping_cannot_read():
    log = taken(COMMA_LOG)
    rows = preview(log, mapped(log), most=4)
    assert [row.number for row in rows] == [2, 3, 4, 6]
    assert rows[0].cells == ("0", "-25,10", "0,250", "88,6")
    assert rows[0].problems == {}
    assert list(rows[2].problems) == [2]
    assert list(rows[3].problems) == [1]
    assert [row.problems for row in preview(log)] == [{}] * 5


def test_that_a_time_column_is_previewed_as_a_time():
    log = taken("clock,duct pressure\n14:03:22,-25.1\n99:99:99,-25.2\n")
    assert [list(row.problems) for row in preview(log, mapped(log))] == [[], [0]]


def test_that_a_person_may_read_the_log_in_another_way():
    log = taken("25,1\n25,2\n")
    assert not log.shape.is_sure
    again = reshaped(log, ";", COMMA)
    assert not isinstance(again, Finding)
    column = ColumnUse(field=SampleField.DUCT_PRESSURE, position=0, unit="Pa")
    rows = to_readings(again, again.mapping((column,)), COMMA).rows
    assert [row.texts["duct_pressure"] for row in rows] == ["25,1 Pa", "25,2 Pa"]
    assert isinstance(reshaped(taken("a;b1\n1;2\n"), "|", POINT), Finding)


def test_that_a_mapping_fits_logs_laid_out_alike_only():
    log = taken(COMMA_LOG)
    mapping = mapped(log)
    assert log.fits(mapping)
    assert log.fits(mapping.model_copy(update={"header": tuple(map(str.upper, mapping.header))}))
    assert not taken("a;b;c;d\n1;2;3;4\n").fits(mapping)
    bare = mapping.model_copy(update={"header": ()})
    assert not log.fits(bare)
    assert taken("1;2;3;4\n").fits(bare)
    assert not taken("1;2;3\n").fits(bare)


def test_that_columns_without_a_duct_pressure_make_no_mapping():
    log = taken("1;2\n")
    with pytest.raises(ValidationError):
        log.mapping(log.proposal().columns)


def test_that_no_more_readings_are_taken_than_a_job_can_bear():
    log = taken("duct pressure\n" + "-25.0\n" * (MOST_READINGS + 5))
    imported = to_readings(log, mapped(log), POINT)
    assert len(imported.rows) == MOST_READINGS
    assert "Only the first" in imported.left_out[-1].reason


@pytest.mark.parametrize(
    ("data", "word"),
    [
        (b"", "number"),
        (b"words only\n", "number"),
        (b"1\0\0\n2\0\n", "text file"),
        (b"x" * 1_000_000, "number"),
    ],
)
def test_that_what_is_no_log_is_told_in_words(data, word):
    found = log_from_bytes(data, "photo.jpg")
    assert isinstance(found, Finding)
    assert "photo.jpg" in found.what
    assert word in found.what
    assert found.mend


def test_that_a_file_is_taken_in_or_refused_in_words(tmp_path, monkeypatch):
    file = tmp_path / "log.csv"
    assert isinstance(open_log(file), Finding)
    assert isinstance(open_log(tmp_path), Finding)
    file.write_text("1;2.5\n", encoding="utf-8")
    log = open_log(file)
    assert isinstance(log, TextLog)
    assert log.name == "log.csv"
    monkeypatch.setattr("deskapp.session.live.import_log.LARGEST_LOG", 5)
    assert isinstance(open_log(file), Finding)
