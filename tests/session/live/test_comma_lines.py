from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.session.live.columns import ColumnMapping, ColumnUse, SampleField
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.lines import LineSplitter
from deskapp.session.live.reader import LineIntake, Reader, Refusal
from deskapp.session.live.samples import Sample
from deskapp.units.numbers import NumberStyle

HEADER = "time [s],duct pressure [Pa],fan signal [Pa],flow [cfm],house pressure [Pa]"
MAPPING = ColumnMapping(
    columns=(
        ColumnUse(field=SampleField.FAN_SIGNAL, position=0, unit="inH2O"),
        ColumnUse(field=SampleField.DUCT_PRESSURE, position=2, unit="Pa"),
    ),
    delimiter=";",
    style=NumberStyle.COMMA,
    header=("fan", "note", "duct"),
)


def after_header(line: str) -> Sample | Refusal | None:
    reader = CommaReader()
    assert reader.read(HEADER, 0.0) is None
    return reader.read(line, 9.0)


def test_that_a_line_gives_its_values_in_si():
    # 1 cfm = 4.719 474 E-04 m3/s, NIST SP 811 (2008), appendix B.8
    sample = after_header("0.5,-24.9,61.2,187.8,0.1")
    assert isinstance(sample, Sample)
    assert sample.flow == pytest.approx(187.8 * 4.719474e-4, rel=1e-6)
    assert (sample.seconds, sample.duct_pressure) == (0.5, -24.9)
    assert (sample.fan_signal, sample.house_pressure) == (61.2, 0.1)


def test_that_blank_cells_count_as_not_measured():
    assert after_header("0.5,-24.9,,,") == Sample(0.5, -24.9)
    assert after_header("0.5,-24.9") == Sample(0.5, -24.9)


@pytest.mark.parametrize(
    ("line", "word"),
    [
        ("0.5,nan,61.2", "Duct pressure"),
        ("0.5,-24.9,---", "Fan signal"),
        ("0.5,-24.9,inf", "Fan signal"),
        ("0.5,,61.2", "duct pressure"),
        (",-24.9,61.2", "time"),
        ("0.5,-24.9,61.2,100 Pa", "pressure"),
        ("0.5,1e12,61.2", "larger"),
        ("24.9", "duct pressure"),
        ("%%%", "Time"),
    ],
)
def test_that_a_line_that_cannot_be_read_is_refused_in_words(line, word):
    refusal = after_header(line)
    assert isinstance(refusal, Refusal)
    assert word in refusal.reason


@pytest.mark.parametrize("line", ["", "   ", "# a remark", "\0\0", HEADER])
def test_that_lines_without_a_reading_are_passed_over(line):
    assert after_header(line) is None


def test_that_a_stream_joined_in_its_middle_asks_for_the_columns():
    refusal = CommaReader().read("0.5,-24.9,61.2", 0.0)
    assert isinstance(refusal, Refusal)
    assert "columns" in refusal.reason


def test_that_a_later_header_changes_the_columns():
    reader = CommaReader()
    reader.read(HEADER, 0.0)
    reader.read("duct pressure [Pa],time [s]", 0.0)
    assert reader.read("-25,7", 0.0) == Sample(7.0, -25.0)
    assert reader.mapping is not None
    assert reader.mapping.header == ("duct pressure [Pa]", "time [s]")


def test_that_a_mapping_says_what_each_column_holds():
    reader = CommaReader(MAPPING)
    assert reader.read("fan;note;duct", 0.0) is None
    assert reader.read("duct pressure;x;y", 0.0) is None
    sample = reader.read("0,250;gusty;-25,125", 3.0)
    assert isinstance(sample, Sample)
    assert (sample.seconds, sample.duct_pressure) == (3.0, -25.125)
    assert sample.fan_signal == pytest.approx(0.25 * 249.08891, rel=1e-6)
    assert reader.mapping is MAPPING


def test_that_times_of_day_run_on_past_midnight():
    reader = CommaReader()
    reader.read("clock,duct pressure [Pa]", 0.0)
    times = ["23:59:59.5", "00:00:00.5", "00:00:01.5"]
    samples = [reader.read(f"{time},-25", 0.0) for time in times]
    assert [s.seconds for s in samples if isinstance(s, Sample)] == [86399.5, 86400.5, 86401.5]


def test_that_the_reader_fits_the_documented_interface():
    assert isinstance(CommaReader(), Reader)


_DIGITS = st.text(alphabet="0123456789.,;-+eE \r\n\t\"'nainf:", max_size=200)


@settings(deadline=None)
@given(
    st.lists(st.one_of(st.binary(max_size=300), _DIGITS.map(str.encode)), max_size=6),
    st.sampled_from([None, MAPPING]),
    st.booleans(),
)
def test_that_no_bytes_make_the_reader_raise(pieces, mapping, with_header):
    splitter, intake = LineSplitter(), LineIntake(CommaReader(mapping))
    if with_header:
        pieces = [HEADER.encode() + b"\n", *pieces]
    lines: list[str] = []
    for piece in pieces:
        lines += splitter.feed(piece)
    lines += splitter.rest()
    samples = [intake.take(line, 0.0) for line in lines]
    tally = intake.tally
    assert tally.samples == sum(sample is not None for sample in samples)
    assert tally.lines == len(lines) == tally.samples + tally.passed_over + tally.refused
    assert "stumbled" not in " ".join(line.reason for line in tally.last_refused)
