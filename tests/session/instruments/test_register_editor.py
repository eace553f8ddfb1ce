"""The open register: typing, rows, undo, findings, keeping. All of it is invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.finding import Level
from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.register import InstrumentRegister
from deskapp.session.instruments import store
from deskapp.session.instruments.check_history import history_of
from deskapp.session.instruments.check_sheet import CheckSheet
from deskapp.session.instruments.due import due
from deskapp.session.instruments.register_editor import NOTES, RegisterEditor, spec_at
from deskapp.session.instruments.ring_fit import PairText, fit_ring
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Preferences()
INSTRUMENT_FIELDS = [
    field for field in (*FIELDS, *NOTES.values()) if field.path.startswith(("gauges.", "fans."))
]
READ = [field for field in INSTRUMENT_FIELDS if field.form in (Form.QUANTITY, Form.DAY)]
PAIRS = [PairText(f"{p}", f"{11.5 * p**0.5:.2f}") for p in (12, 25, 50, 100, 180, 300)]


@pytest.fixture
def editor(register: InstrumentRegister) -> RegisterEditor:
    return RegisterEditor(register, IP)


def place(field: FieldSpec) -> str:
    return field.path.replace("*", "0")


def named(fields: list[FieldSpec]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("field", fields, ids=[field.path for field in fields])


@named(INSTRUMENT_FIELDS)
def test_that_every_field_takes_a_good_text_and_gives_it_back(
    editor: RegisterEditor, field: FieldSpec
):
    editor.enter(place(field), "")
    editor = RegisterEditor(editor.register, IP)
    before = editor.register
    text = "11 Mar 2026" if field.form is Form.DAY else field.example or "7.5"
    editor.enter(place(field), text)
    assert editor.register != before
    assert editor.entry_text(place(field)) == text
    assert editor.shown_text(place(field))
    assert not [f for f in editor.findings if f.path == place(field) and f.code == "unread"]
    after = editor.register
    assert InstrumentRegister.model_validate_json(after.model_dump_json()) == after
    editor.undo()
    assert editor.register == before
    editor.redo()
    assert editor.register == after


@named(READ)
@pytest.mark.parametrize("text", ["twelve-ish", "1,2,3.4.5", "-", "NaN", "0x10", "1e999"])
def test_that_nonsense_is_kept_and_named(editor: RegisterEditor, field: FieldSpec, text: str):
    editor.enter(place(field), text)
    assert editor.entry_text(place(field)) == text
    found = editor.finding_at(place(field))
    assert found is not None
    assert found.level is Level.STOP
    assert label_of(place(field)) in found.what
    assert found.allowed
    assert found.mend
    editor.enter(place(field), " ")
    assert editor.value_at(place(field)) is None


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("gauges.0.accuracy_percent", "60 %"),
        ("gauges.0.accuracy_percent", "-1 %"),
        ("gauges.0.accuracy_absolute", "101 Pa"),
        ("fans.0.rings.0.accuracy", "51 %"),
        ("fans.0.rings.0.exponent", "0.9"),
        ("fans.0.rings.0.coefficient", "0 cfm"),
    ],
)
def test_that_a_value_out_of_all_range_is_named(editor: RegisterEditor, path: str, text: str):
    editor.enter(path, text)
    found = editor.finding_at(path)
    assert found is not None
    assert found.level is Level.STOP
    assert label_of(path) in found.what


@pytest.mark.parametrize(
    "path",
    [
        "gauges.7.serial",
        "gauges.0.color",
        "tests.0.label",
        "number",
        "gauges.0.retired",
        "fans",
        "",
    ],
)
def test_that_a_place_the_register_does_not_have_is_a_mistake_of_the_caller(
    editor: RegisterEditor, path: str
):
    before = editor.register
    with pytest.raises(KeyError):
        editor.enter(path, "1")
    with pytest.raises(KeyError):
        spec_at(path) and editor.value_at(path)
    assert editor.register is before


def test_that_text_left_untouched_is_no_step(editor: RegisterEditor):
    editor.enter("gauges.0.serial", "GA-01")
    editor.enter("fans.0.rings.0.coefficient", "11.3 cfm")
    assert editor.undo_label == ""
    assert not editor.is_dirty


def test_that_rows_come_and_go_and_come_back(editor: RegisterEditor):
    before = editor.register
    assert editor.add_row("gauges") == "gauges.1"
    assert editor.add_row("fans") == "fans.1"
    assert editor.add_row("fans.1.rings") == "fans.1.rings.1"
    assert editor.undo_label == "Undo add ring 2 (fan 2)"
    assert (editor.row_count("gauges"), editor.row_count("fans.1.rings")) == (2, 2)
    assert [item.fan.key for item in editor.register.fans] == ["f1", "f2"]
    editor.remove_row("fans.1.rings.0")
    editor.remove_row("fans.0")
    editor.remove_row("gauges.1")
    assert len(editor.register.fans) == 1
    assert editor.add_row("fans") == "fans.1"
    assert editor.register.fans[1].fan.key == "f1"
    while editor.undo_label:
        editor.undo()
    assert editor.register == before
    for list_path in ("tests", "gauges.0", "fans.0.checks", "systems"):
        with pytest.raises(KeyError):
            editor.add_row(list_path)


def test_that_typing_in_one_field_is_one_step(editor: RegisterEditor):
    for text in ("s", "sp", "spare"):
        editor.enter("gauges.0.notes", text)
    assert editor.undo_label == "Undo notes on the gauge"
    editor.undo()
    assert editor.register.gauges[0].notes == ""
    assert editor.redo_label == "Redo notes on the gauge"


def test_that_a_retired_instrument_is_kept_and_no_longer_listed(editor: RegisterEditor):
    from datetime import date

    late = date(2027, 1, 1)
    editor.retire("fans.0")
    assert editor.undo_label == "Undo retire Duct fan, FA-01"
    assert [item.path for item in due(editor.register, late).overdue] == ["gauges.0"]
    assert len(editor.register.fans) == 1
    editor.retire("fans.0", retired=False)
    assert {item.path for item in due(editor.register, late).overdue} == {"gauges.0", "fans.0"}
    with pytest.raises(KeyError):
        editor.retire("fans.0.rings.0")


def test_that_a_fit_fills_a_ring_in_one_step(editor: RegisterEditor):
    before = editor.register
    editor.fill_ring("fans.0.rings.0", fit_ring(PAIRS, IP))
    ring = editor.register.fans[0].fan.rings[0]
    assert ring.coefficient is not None
    assert ring.coefficient.typed.startswith("11.")
    assert len(ring.certificate_pairs) == 6
    assert editor.finding_at("fans.0.rings.0.coefficient") is None
    assert editor.undo_label == "Undo fit of ring 1 (fan 1)"
    editor.undo()
    assert editor.register == before
    with pytest.raises(ValueError, match="cannot fill"):
        editor.fill_ring("fans.0.rings.0", fit_ring(PAIRS[:1], IP))


def test_that_a_law_changed_beside_its_pairs_is_asked_about(editor: RegisterEditor):
    editor.fill_ring("fans.0.rings.0", fit_ring(PAIRS, IP))
    editor.enter("fans.0.rings.0.coefficient", "12 cfm")
    found = editor.finding_at("fans.0.rings.0.coefficient")
    assert found is not None
    assert found.level is Level.CHECK
    assert "off the pairs" in found.what


def test_that_a_check_joins_the_history_in_one_step(editor: RegisterEditor):
    sheet = CheckSheet(editor.register.fans[0], editor.register.gauges, IP)
    sheet.choose("check.ring", "r1")
    for path, text in {
        "check.done_on": "2026-03-11",
        "check.hole_diameter": "4 in",
        "check.plate_pressure": "25",
        "check.fan_signal": "36",
    }.items():
        sheet.enter(path, text)
    before = editor.register
    editor.add_check("fans.0", sheet.record())
    assert editor.shown_text("fans.0.field_check_on") == "Mar\N{NO-BREAK SPACE}11, 2026"
    assert editor.shown_text("fans.0.field_check_error") == "2.1%"
    assert len(history_of(editor.register.fans[0], IP.formatter).points) == 1
    assert editor.undo_label == "Undo field check of Duct fan, FA-01"
    editor.undo()
    assert editor.register == before


def test_that_instruments_of_a_job_are_registered_once(editor: RegisterEditor):
    fan = Fan(key="f1", serial="FA-02", description="Second fan")
    assert editor.take_in(fan) == "fans.1"
    assert editor.register.fans[1].fan == fan.model_copy(update={"key": "f2"})
    assert editor.take_in(fan.model_copy(update={"serial": "fa-02"})) == "fans.1"
    assert editor.take_in(Gauge(key="g5", serial="GA-01")) == "gauges.0"
    assert editor.take_in(Gauge(key="g5", serial="GA-05")) == "gauges.1"
    assert len(editor.register.fans) == len(editor.register.gauges) == 2
    assert editor.name_of("fans.1") == "Second fan, FA-02"


def test_that_serial_numbers_must_tell_instruments_apart(editor: RegisterEditor):
    editor.add_row("gauges")
    assert [finding.code for finding in editor.findings] == ["serial-missing"]
    editor.enter("gauges.1.serial", "ga 01".replace(" ", "-"))
    [twice] = editor.findings
    assert (twice.path, twice.level) == ("gauges.1.serial", Level.CHECK)
    assert "Two-channel gauge, GA-01" in twice.what
    editor.retire("gauges.0")
    assert editor.findings == ()


def test_that_a_register_is_kept_and_then_clean(tmp_path: Path, editor: RegisterEditor):
    heard: list[bool] = []
    stop = editor.listen(lambda: heard.append(editor.is_dirty))
    editor.enter("gauges.0.notes", "spare")
    assert editor.is_dirty
    assert editor.keep(tmp_path) is None
    assert not editor.is_dirty
    assert store.load(tmp_path).register == editor.register
    stop()
    editor.undo()
    assert heard == [True, False]
    assert editor.is_dirty


def test_that_a_register_that_cannot_be_kept_stays_unsaved(tmp_path: Path, editor: RegisterEditor):
    (tmp_path / "file").write_text("in the way")
    editor.enter("gauges.0.notes", "spare")
    assert editor.keep(tmp_path / "file") is not None
    assert editor.is_dirty


def test_that_texts_follow_the_preferences(editor: RegisterEditor):
    before = editor.register
    editor.prefer(Preferences(unit_system=UnitSystem.SI, number_style=NumberStyle.COMMA))
    assert editor.shown_text("fans.0.rings.0.coefficient") == "5,333\N{NO-BREAK SPACE}L/s"
    assert editor.register is before


TYPED = [place(field) for field in INSTRUMENT_FIELDS]
ANY = st.one_of(st.text(max_size=12), st.text("0123456789.,-e Pacfm%", max_size=8))


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from(TYPED), ANY, max_size=6))
def test_that_whatever_is_typed_can_be_kept(
    tmp_path: Path, register: InstrumentRegister, typed: dict[str, str]
):
    editor = RegisterEditor(register, IP)
    for path, text in typed.items():
        editor.enter(path, text)
    assert editor.findings is not None
    assert editor.keep(tmp_path) is None
    assert store.load(tmp_path).register == editor.register


def test_that_what_is_said_of_instruments_is_written_as_preferred(editor: RegisterEditor):
    editor.enter("fans.0.rings.0.exponent", "0.95")
    said: list[str] = []
    for style in NumberStyle:
        editor.prefer(Preferences(number_style=style))
        found = [one for one in editor.findings if one.path == "fans.0.rings.0.exponent"]
        said.append(" ".join(one.text for one in found))
    points, commas = said
    assert "0.3" in points
    assert "0,3" in commas
    assert "0.3" not in commas
