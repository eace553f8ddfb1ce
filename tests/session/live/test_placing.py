from __future__ import annotations

import pytest

from deskapp.session.live.paste import parse_pasted
from deskapp.session.live.placing import place_readings

READINGS = "tests.0.readings"


def shown(editor, field: str) -> list[str]:
    count = editor.row_count(READINGS)
    return [editor.entry_text(f"{READINGS}.{place}.{field}") for place in range(count)]


def test_that_rows_are_put_below_the_readings_that_are_there(editor):
    rows = [
        {"duct_pressure": "-25.13 Pa", "fan_signal": "61.25 Pa", "note": "average"},
        {"duct_pressure": "-25.2 Pa", "note": ""},
    ]
    place_readings(editor, READINGS, rows)
    assert shown(editor, "duct_pressure") == ["", "-25.13 Pa", "-25.2 Pa"]
    assert shown(editor, "fan_signal") == ["", "61.25 Pa", ""]
    assert shown(editor, "note") == ["", "average", ""]
    assert editor.value_at(f"{READINGS}.1.duct_pressure").si == -25.13


def test_that_a_pasted_column_leaves_the_other_fields_alone(editor):
    place_readings(editor, READINGS, parse_pasted("-25.1\n-25.2", "duct_pressure").rows, 0)
    column = [{"fan_signal": text} for text in ("60", "61")]
    place_readings(editor, READINGS, column, 0)
    assert shown(editor, "duct_pressure") == ["-25.1", "-25.2"]
    assert shown(editor, "fan_signal") == ["60", "61"]


def test_that_a_row_without_a_field_keeps_what_it_had(editor):
    editor.enter(f"{READINGS}.0.fan_signal", "60")
    rows = [{"duct_pressure": "-25"}, {"fan_signal": "61"}]
    place_readings(editor, READINGS, rows, 0)
    assert shown(editor, "fan_signal") == ["60", "61"]
    assert shown(editor, "duct_pressure") == ["-25", ""]


def test_that_a_block_is_one_step_to_undo_and_to_redo(editor):
    before = editor.job
    rows = [{"duct_pressure": "-25", "fan_signal": "60"}, {"duct_pressure": "-26", "note": "calm"}]
    place_readings(editor, READINGS, rows)
    after = editor.job
    assert editor.undo_label == "Undo entries from reading 2 (test 1) on"
    editor.undo()
    assert editor.job == before
    assert not editor.is_dirty
    editor.redo()
    assert editor.job == after


def test_that_nothing_to_place_changes_nothing(editor):
    before = editor.job
    place_readings(editor, READINGS, [])
    assert editor.job is before
    with pytest.raises(KeyError):
        place_readings(editor, "tests.7.readings", [{"duct_pressure": "1"}])
