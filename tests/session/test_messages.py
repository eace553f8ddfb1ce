"""What is said about a field: its name, what was typed, what is allowed, how to mend it."""

from __future__ import annotations

import re
from datetime import date

import pytest

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.session.editor import Editor
from deskapp.session.messages import unread_finding
from deskapp.session.opening import new_job
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.session.typed import default_unit
from deskapp.units.convert import from_unit, to_unit
from deskapp.units.display import UnitSystem
from deskapp.units.entry import NumberStyle, Quantity, parse
from deskapp.units.kinds import Kind

QUANTITIES = [spec for spec in FIELDS if spec.form is Form.QUANTITY]

MOMENTS = [spec for spec in FIELDS if spec.form in (Form.DAY, Form.CLOCK)]


def editor_with(spec: FieldSpec) -> tuple[Editor, str]:
    """Return a new job that has the field, and its path."""
    editor = new_job(Shelf(), Preferences())
    list_path, star, _field = spec.path.replace(".*.", ".0.").partition(".0.")
    if star and editor.row_count(list_path) == 0:
        editor.add_row(list_path)
    return editor, spec.path.replace("*", "0")


@pytest.mark.parametrize("spec", QUANTITIES, ids=lambda spec: spec.path)
def test_that_a_value_out_of_range_is_named_with_its_range_and_a_way_out(spec: FieldSpec):
    assert spec.allowed is not None, "every quantity has a range"
    editor, path = editor_with(spec)
    high = from_unit(spec.allowed.high, spec.allowed.unit)
    assert spec.units is not None
    typed = str(int(to_unit(high, spec.units.ip) * 100 + 1000))
    editor.enter(path, typed)
    (finding,) = [one for one in editor.findings if one.path == path and one.level is Level.STOP]
    assert spec.label in finding.what
    assert typed[0] in finding.what
    assert finding.allowed.startswith("Allowed: ")
    assert "clear the field" in finding.mend
    assert editor.entry_text(path) == typed, "what was typed stays"


@pytest.mark.parametrize("spec", QUANTITIES, ids=lambda spec: spec.path)
def test_that_a_text_that_is_no_quantity_is_quoted_with_what_is_needed(spec: FieldSpec):
    editor, path = editor_with(spec)
    editor.enter(path, "a handful")
    finding = editor.finding_at(path)
    assert finding is not None
    assert spec.label in finding.what
    assert "a handful" in finding.what
    assert "needed here" in finding.allowed
    assert finding.mend
    assert editor.entry_text(path) == "a handful"


@pytest.mark.parametrize("spec", MOMENTS, ids=lambda spec: spec.path)
def test_that_a_text_that_is_no_day_or_time_is_quoted_with_what_is_needed(spec: FieldSpec):
    editor, path = editor_with(spec)
    editor.enter(path, "when it rains")
    finding = editor.finding_at(path)
    assert finding is not None
    assert spec.label in finding.what
    assert "when it rains" in finding.what
    assert "needed here" in finding.allowed
    assert finding.mend
    assert editor.entry_text(path) == "when it rains"


def test_that_a_new_job_is_quiet_and_empty_fields_are_no_fault():
    editor = new_job(Shelf(), Preferences())
    assert editor.findings == ()
    editor.enter("tests.0.readings.0.fan_signal", "32")
    assert {"flow_basis_missing", "limit_missing"} <= {one.code for one in editor.findings}


@pytest.mark.parametrize("style", ["point", "comma"])
def test_that_a_number_that_can_be_meant_in_two_ways_is_asked_about_and_kept(style: str):
    preferences = Preferences.model_validate({"number_style": style})
    editor = new_job(Shelf(), preferences)
    editor.enter("house.floor_area", "1.234")
    finding = editor.finding_at("house.floor_area")
    if style == "point":
        assert editor.value_at("house.floor_area").si == pytest.approx(from_unit(1.234, "ft2"))
        return
    assert finding is not None
    assert "more than one way" in finding.what
    assert "1234" in finding.mend
    assert editor.value_at("house.floor_area").si is None
    assert editor.entry_text("house.floor_area") == "1.234"


def test_that_a_year_is_told_as_a_year(editor: Editor) -> None:
    editor.enter("house.year_built", "20266")
    found = editor.finding_at("house.year_built")
    assert found is not None
    assert found.what == "Year built is 20266."
    assert found.allowed == "Allowed: 1000 to 2100."


def test_that_a_test_dated_ahead_is_remarked_on_as_it_is_typed(day_of_tests: date) -> None:
    editor = Editor(Job(), Shelf(), Preferences())
    editor.add_row("tests")
    editor.enter("tests.0.tested_on", day_of_tests.isoformat())
    assert editor.finding_at("tests.0.tested_on") is None
    editor.enter("tests.0.tested_on", day_of_tests.replace(year=2028).isoformat())
    found = editor.finding_at("tests.0.tested_on")
    assert found is not None
    assert found.code == "day_ahead"


@pytest.mark.parametrize("system", list(UnitSystem))
def test_that_each_field_gives_its_examples_in_the_unit_it_shows(system: UnitSystem) -> None:
    """A person who types a number alone types it in the unit that stands beside the field."""
    preferences = Preferences(unit_system=system)
    for spec in FIELDS:
        if spec.form is not Form.QUANTITY or spec.kind in (Kind.NUMBER, Kind.COUNT):
            continue
        value = Measured(si=None, typed="about so much")
        found = unread_finding(spec, spec.path.replace("*", "0"), value, preferences)
        assert found is not None
        examples = found.allowed.partition("such as ")[2].rstrip(".")
        unit = default_unit(spec, system)
        units = {
            one.unit
            for text in re.split(r", | or ", examples)
            if isinstance(
                one := parse(text, spec.kind or Kind.NUMBER, unit, NumberStyle.POINT), Quantity
            )
        }
        assert unit in units or (unit == "ft" and units & {"ft", "in"}), (spec.path, examples)
