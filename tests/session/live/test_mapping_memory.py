from __future__ import annotations

import json

import pytest

from deskapp.session.live import mapping_memory
from deskapp.session.live.columns import ColumnMapping, ColumnUse, SampleField
from deskapp.session.live.mapping_memory import FILE_NAME, recall, remember
from deskapp.units.numbers import NumberStyle


def mapping(position: int = 1) -> ColumnMapping:
    column = ColumnUse(field=SampleField.DUCT_PRESSURE, position=position, unit="inH2O")
    header = ("Zeit", "Düse")
    return ColumnMapping(columns=(column,), delimiter=";", style=NumberStyle.COMMA, header=header)


def test_that_a_mapping_is_remembered_by_serial_number(tmp_path):
    folder = tmp_path / "new"
    assert remember(folder, " GA-01 ", mapping(1)) is None
    assert remember(folder, "GA-02", mapping(2)) is None
    assert recall(folder, "ga-01") == (mapping(1), None)
    assert recall(folder, "GA-02") == (mapping(2), None)
    assert recall(folder, "GA-03") == (None, None)


def test_that_the_latest_mapping_of_an_instrument_counts(tmp_path):
    remember(tmp_path, "GA-01", mapping(1))
    remember(tmp_path, "GA-01", mapping(3))
    assert recall(tmp_path, "GA-01") == (mapping(3), None)


def test_that_an_instrument_without_a_serial_number_is_not_remembered(tmp_path):
    found = remember(tmp_path, "  ", mapping())
    assert found is not None
    assert "serial number" in found.mend
    assert recall(tmp_path, "") == (None, None)


def test_that_the_file_does_not_grow_without_end(tmp_path, monkeypatch):
    monkeypatch.setattr(mapping_memory, "MOST_KEPT", 2)
    for serial in ("GA-01", "GA-02", "GA-01", "GA-03"):
        assert remember(tmp_path, serial, mapping()) is None
    assert recall(tmp_path, "GA-02") == (None, None)
    assert recall(tmp_path, "GA-01")[0] == recall(tmp_path, "GA-03")[0] == mapping()


@pytest.mark.parametrize(
    "text", ["", "{", "[]", "{}", '{"format": "x", "mappings": {}}', "[" * 100_000, "\udcff"]
)
def test_that_a_damaged_file_is_told_and_written_anew(tmp_path, text):
    (tmp_path / FILE_NAME).write_bytes(text.encode("utf-8", "surrogateescape"))
    found, about = recall(tmp_path, "GA-01")
    assert found is None
    assert about is not None
    assert remember(tmp_path, "GA-01", mapping()) is None
    assert recall(tmp_path, "GA-01") == (mapping(), None)


def test_that_one_damaged_entry_leaves_the_others(tmp_path):
    remember(tmp_path, "GA-01", mapping())
    remember(tmp_path, "GA-02", mapping())
    file = tmp_path / FILE_NAME
    data = json.loads(file.read_text("utf-8"))
    data["mappings"]["ga-01"]["columns"][0]["unit"] = "furlong"
    file.write_text(json.dumps(data), "utf-8")
    found, about = recall(tmp_path, "GA-01")
    assert found is None
    assert about is not None
    assert recall(tmp_path, "GA-02") == (mapping(), None)


def test_that_a_folder_that_cannot_be_written_is_told(tmp_path):
    (tmp_path / "file").write_text("x")
    found = remember(tmp_path / "file", "GA-01", mapping())
    assert found is not None
    assert "could not be kept" in found.what
