from __future__ import annotations

import pytest
from pydantic import ValidationError

from deskapp.session.live.columns import (
    ColumnMapping,
    ColumnUse,
    SampleField,
    propose,
    split_line,
)

TIME, DUCT, SIGNAL, FLOW, HOUSE = SampleField


def proposed(*header: str, flow_unit: str | None = None) -> dict[SampleField, tuple[int, str]]:
    found = propose(header, flow_unit)
    return {column.field: (column.position, column.unit) for column in found.columns}


@pytest.mark.parametrize(
    ("header", "expected"),
    [
        (
            (
                "time [s]",
                "duct pressure [Pa]",
                "fan signal [Pa]",
                "flow [cfm]",
                "house pressure [Pa]",
            ),
            {
                TIME: (0, "s"),
                DUCT: (1, "Pa"),
                SIGNAL: (2, "Pa"),
                FLOW: (3, "cfm"),
                HOUSE: (4, "Pa"),
            },
        ),
        (("Fan pressure (Pa)", "Pressure (Pa)"), {SIGNAL: (0, "Pa"), DUCT: (1, "Pa")}),
        (("elapsed_min", "duct_pressure_inH2O"), {TIME: (0, "min"), DUCT: (1, "inH2O")}),
        (
            ("ductPressure", "flowSignal", "airflow / m3/h"),
            {DUCT: (0, "Pa"), SIGNAL: (1, "Pa"), FLOW: (2, "m3/h")},
        ),
        (("Duct pressure in. w.c.", "Flow L/s"), {DUCT: (0, "inH2O"), FLOW: (1, "L/s")}),
    ],
)
def test_that_header_words_and_units_suggest_the_columns(header, expected):
    assert proposed(*header) == expected


def test_that_other_pressures_are_not_taken_for_the_duct_pressure():
    header = ("Barometric pressure [kPa]", "Target pressure [Pa]", "Duct pressure [Pa]")
    assert proposed(*header) == {DUCT: (2, "Pa")}


def test_that_a_flow_without_a_unit_is_left_out_and_said_so():
    found = propose(["duct pressure", "flow"])
    assert [column.field for column in found.columns] == [DUCT]
    assert found.assumed == {DUCT}
    assert "flow" in found.remarks[0]
    assert proposed("duct pressure", "flow", flow_unit="cfm")[FLOW] == (1, "cfm")


def test_that_an_unknown_unit_is_named_and_its_column_left_out():
    found = propose(["time [ms]", "duct pressure [Pa]"])
    assert [column.field for column in found.columns] == [DUCT]
    assert "ms" in found.remarks[0]


def test_that_each_field_comes_from_its_best_column_only():
    assert proposed("Pressure", "Duct pressure", "Duct pressure 2") == {DUCT: (1, "Pa")}


@pytest.mark.parametrize("header", [(), ("",), ("a", "b"), ("x" * 5000,), ("flow [cfm]",)])
def test_that_a_header_without_a_duct_pressure_is_not_usable(header):
    assert not propose(header).is_usable


def use(field: SampleField, position: int, unit: str) -> dict[str, object]:
    return {"field": field, "position": position, "unit": unit}


@pytest.mark.parametrize(
    ("columns", "words"),
    [
        ([use(SIGNAL, 0, "Pa")], "no column holds the duct pressure"),
        ([use(DUCT, 0, "Pa"), use(SIGNAL, 0, "Pa")], "used twice"),
        ([use(DUCT, 0, "Pa"), use(DUCT, 1, "Pa")], "used twice"),
        ([use(DUCT, 0, "cfm")], "does not measure"),
        ([use(DUCT, 0, "furlong")], "does not measure"),
        ([use(DUCT, -1, "Pa")], "greater than or equal to 0"),
    ],
)
def test_that_a_mapping_that_cannot_work_is_refused(columns, words):
    with pytest.raises(ValidationError, match=words):
        ColumnMapping.model_validate({"columns": columns})


def test_that_columns_are_parted_by_a_known_mark_only():
    with pytest.raises(ValidationError, match="parted"):
        ColumnMapping(columns=(ColumnUse(field=DUCT, position=0, unit="Pa"),), delimiter="x")


@pytest.mark.parametrize(
    ("line", "delimiter", "cells"),
    [
        ("1, 2 ,3", ",", ["1", "2", "3"]),
        ('"25,1","60,3"', ",", ["25,1", "60,3"]),
        ("1;2;;", ";", ["1", "2", "", ""]),
        ("  1   2  3 ", " ", ["1", "2", "3"]),
        ("1\t2", "\t", ["1", "2"]),
        ('"open, 2', ",", ["open, 2"]),
        ("", ",", []),
        ("a\rb,2", ",", ["a\rb", "2"]),
    ],
)
def test_that_a_line_is_cut_into_cells(line, delimiter, cells):
    assert split_line(line, delimiter) == cells
