from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.session.live.lines import LineSplitter


def split(data: bytes, cuts: list[int], **options: int) -> list[str]:
    """Feed `data` in the pieces that `cuts` make of it, then end the stream."""
    splitter = LineSplitter(**options)
    lines: list[str] = []
    for start, end in zip([0, *cuts], [*cuts, len(data)], strict=True):
        lines += splitter.feed(data[start:end])
    return lines + splitter.rest()


@pytest.mark.parametrize("end", [b"\n", b"\r", b"\r\n"])
def test_that_each_kind_of_line_end_ends_a_line_once(end):
    assert split(b"one" + end + b"two" + end, []) == ["one", "two"]


_PIECES = st.lists(st.sampled_from([b"\r", b"\n", b"\r\n", b"a", b"25.1", b"\xc2\xb0", b" "]))


@settings(deadline=None)
@given(_PIECES.map(b"".join), st.data())
def test_that_lines_do_not_depend_on_how_the_bytes_come(data, draw):
    cuts = sorted(draw.draw(st.lists(st.integers(0, len(data)), max_size=8)))
    whole = [piece.decode() for piece in re.split(rb"\r\n|\r|\n", data)]
    if whole[-1] == "":
        whole.pop()
    assert split(data, cuts) == whole


def test_that_the_end_of_a_line_may_be_parted_between_two_arrivals():
    splitter = LineSplitter()
    assert splitter.feed(b"25.1\r") == ["25.1"]
    assert splitter.feed(b"\n25") == []
    assert splitter.feed(b".2\r\n") == ["25.2"]


@pytest.mark.parametrize("cuts", [[], [1], [2, 3], [3]])
def test_that_a_byte_order_mark_is_dropped_at_the_beginning_only(cuts):
    assert split(b"\xef\xbb\xbftime\n\xef\xbb\xbf1\n", cuts) == ["time", "\ufeff1"]


def test_that_a_last_line_without_an_end_is_kept():
    assert split(b"1\n2", []) == ["1", "2"]


def test_that_a_line_of_a_megabyte_is_dropped_without_being_kept():
    splitter = LineSplitter()
    seen: list[str] = []
    for _ in range(1024):
        seen += splitter.feed(b"9" * 1024)
    assert seen == []
    assert splitter.dropped == 1
    assert splitter.feed(b"9\n25.0\n") == ["25.0"]
    assert splitter.dropped == 1


def test_that_the_end_of_the_stream_ends_a_line_that_was_too_long():
    assert split(b"x" * 11, [], longest=10) == []
    assert split(b"x" * 10, [], longest=10) == ["x" * 10]


def test_that_bytes_that_are_not_utf8_still_give_text():
    assert split("21 °C\n".encode("latin-1"), []) == ["21 °C"]
    assert split("21 °C\n".encode(), []) == ["21 °C"]
