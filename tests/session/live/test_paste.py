from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.session.live.paste import MOST_ROWS, parse_pasted
from deskapp.units.numbers import NumberStyle


def columns(pasted: str, first_field: str = "duct_pressure") -> dict[str, list[str]]:
    rows = parse_pasted(pasted, first_field).rows
    return {field: [row[field] for row in rows] for field in (rows[0] if rows else ())}


def test_that_a_column_goes_into_the_field_it_is_pasted_into():
    assert columns("60.1\r\n60.2\r\n60,3\r\n", "fan_signal") == {
        "fan_signal": ["60.1", "60.2", "60,3"],
    }


def test_that_a_table_fills_the_fields_from_there_on():
    assert columns("-25.1\t60.1\t187\n-25.2\t60.2 Pa\t188\n") == {
        "duct_pressure": ["-25.1", "-25.2"],
        "fan_signal": ["60.1", "60.2 Pa"],
        "indicated_flow": ["187", "188"],
    }


def test_that_headings_say_which_column_goes_where_and_in_which_unit():
    pasted = "Fan signal [in. w.c.]\tRemark\tDuct pressure\tFlow [m3/h]\n0.25\tcalm\t-25.1\t100 cfm"
    found = parse_pasted(pasted, "duct_pressure")
    assert found.rows == (
        {"fan_signal": "0.25 in. w.c.", "duct_pressure": "-25.1", "indicated_flow": "100 cfm"},
    )
    assert found.remarks == ("The first row was taken as headings.", "Columns left out: 1.")


def test_that_words_that_name_no_field_stay_for_a_person_to_see():
    assert columns("n/a\n60.1\n", "indicated_flow") == {"indicated_flow": ["n/a", "60.1"]}


def test_that_blank_rows_between_keep_their_place_and_those_at_the_end_go():
    assert columns("60.1\n\n60.3\n\n\t\n", "indicated_flow") == {
        "indicated_flow": ["60.1", "", "60.3"]
    }


def test_that_quoted_cells_and_semicolons_are_understood():
    assert columns('"-25,1\n"\t"60"\n')["duct_pressure"] == ["-25,1"]
    assert columns("-25,1;60\n-25,2;61")["fan_signal"] == ["60", "61"]


def test_that_columns_beyond_the_fields_are_left_out_and_said_so():
    found = parse_pasted("1\t2\t3\t\n", "fan_signal")
    assert found.rows == ({"fan_signal": "1", "indicated_flow": "2"},)
    assert found.remarks == ("Columns left out: 1.",)


def test_that_an_endless_paste_is_cut():
    found = parse_pasted("1\n" * (MOST_ROWS + 1), "duct_pressure")
    assert len(found.rows) == MOST_ROWS
    assert str(MOST_ROWS) in found.remarks[0]


def test_that_only_fields_of_a_reading_are_filled():
    with pytest.raises(ValueError, match="note"):
        parse_pasted("1", "note")


def test_that_a_cell_of_any_length_is_taken_as_it_is():
    assert columns("9" * 200_000)["duct_pressure"] == ["9" * 200_000]


@pytest.mark.parametrize("text", ["", "\n", "\t\t\n \n"])
def test_that_an_empty_paste_gives_no_rows(text):
    assert parse_pasted(text, "duct_pressure").rows == ()


@settings(deadline=None)
@given(st.text(alphabet='0123456789.,;\t\n\r" aPd\0', max_size=80))
def test_that_no_paste_makes_it_raise(text):
    for row in parse_pasted(text, "duct_pressure").rows:
        assert all("\n" not in cell and "\t" not in cell for cell in row.values())


def test_that_commas_part_columns_only_where_they_cannot_be_decimal_marks():
    assert columns("-25.0,32.4\n-24.8,31.9\n", "duct_pressure")["fan_signal"] == ["32.4", "31.9"]
    assert columns("Duct pressure,Fan signal\n-25,32\n-24,31\n")["fan_signal"] == ["32", "31"]
    assert columns("-25,1\n-24,8\n")["duct_pressure"] == ["-25,1", "-24,8"]
    assert columns("1,234.5\n1,300.25\n", "fan_signal")["fan_signal"] == ["1,234.5", "1,300.25"]


def test_that_a_table_with_decimal_commas_is_rewritten_for_who_types_points():
    pasted = parse_pasted("-25,1;60,125\n-25,2;61 Pa\n", "duct_pressure", NumberStyle.POINT)
    assert [row["duct_pressure"] for row in pasted.rows] == ["-25.1", "-25.2"]
    assert [row["fan_signal"] for row in pasted.rows] == ["60.125", "61 Pa"]
    back = parse_pasted("-25.1\t60.125\n-25.2\t61", "duct_pressure", NumberStyle.COMMA)
    assert [row["fan_signal"] for row in back.rows] == ["60,1250", "61"]


def test_that_a_table_that_could_be_read_in_two_ways_is_left_to_be_asked_about():
    pasted = parse_pasted("1,234\n1,567\n", "fan_signal", NumberStyle.COMMA)
    assert [row["fan_signal"] for row in pasted.rows] == ["1,234", "1,567"]
