from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, field_at
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.session.typed import default_unit
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP, SI = UnitSystem.IP, UnitSystem.SI
POINT, COMMA = NumberStyle.POINT, NumberStyle.COMMA
AREA = "house.floor_area"
QUANTITIES = [field for field in FIELDS if field.form is Form.QUANTITY]


def opened(system: UnitSystem = IP, style: NumberStyle = POINT) -> Editor:
    return Editor(Job(), Shelf(), Preferences(unit_system=system, number_style=style))


def prefer(editor: Editor, system: UnitSystem = IP, style: NumberStyle = POINT) -> None:
    editor.prefer(Preferences(unit_system=system, number_style=style))


def test_that_a_number_alone_takes_the_unit_of_the_system_in_use():
    # 1 ft = 0.3048 m exactly (international foot, NIST Special Publication 811, appendix B.6).
    feet, meters = opened(IP), opened(SI)
    feet.enter(AREA, "1520")
    meters.enter(AREA, "1520")
    assert feet.value_at(AREA).si == pytest.approx(1520 * 0.3048**2, rel=1e-15)
    assert meters.value_at(AREA).si == 1520


def test_that_switching_units_a_hundred_times_changes_no_value():
    editor = opened()
    editor.enter(AREA, "1,520")
    before = editor.job
    for _turn in range(50):
        prefer(editor, SI)
        prefer(editor, IP)
    assert editor.job is before
    assert not editor.undo_label.startswith("Undo units")


def test_that_a_number_typed_without_unit_shows_its_unit_once_another_one_is_meant():
    editor = opened()
    editor.enter(AREA, "1520")
    prefer(editor, SI)
    assert editor.entry_text(AREA) == "1520 ft²"
    assert editor.shown_text(AREA) == "141.2\N{NO-BREAK SPACE}m²"


def test_that_a_number_is_written_anew_once_its_marks_mean_something_else():
    editor = opened()
    editor.enter(AREA, "1,520.5 sq ft")
    prefer(editor, IP, COMMA)
    assert editor.entry_text(AREA) == "1520,5 ft²"


def test_that_a_day_is_written_anew_once_its_order_means_something_else():
    editor = opened()
    editor.enter("site.permit_date", "3/11/2026")
    assert editor.entry_text("site.permit_date") == "3/11/2026"
    prefer(editor, SI, COMMA)
    assert editor.entry_text("site.permit_date") == "2026-03-11"


@pytest.mark.parametrize("field", QUANTITIES, ids=[field.path for field in QUANTITIES])
@pytest.mark.parametrize("system", UnitSystem)
@pytest.mark.parametrize("style", NumberStyle)
def test_that_leaving_a_field_untouched_never_changes_it(field, system, style, filled_job):
    editor = Editor(filled_job, Shelf(), Preferences())
    path = field.path.replace("*", "0")
    editor.enter(path, "7")
    value = editor.value_at(path)
    prefer(editor, system, style)
    editor.enter(path, editor.entry_text(path))
    assert editor.value_at(path) == value
    assert editor.shown_text(path)


@given(
    st.floats(1e-3, 1e6),
    st.sampled_from(["ft2", "m2", "ft²", "sq ft", ""]),
    st.sampled_from(UnitSystem),
    st.sampled_from(NumberStyle),
)
def test_that_the_text_to_edit_always_means_the_value_held(number, unit, system, style):
    editor = opened()
    editor.enter(AREA, f"{number:.10g} {unit}")
    held = editor.value_at(AREA).si
    prefer(editor, system, style)
    again = Editor(Job(), Shelf(), editor.preferences)
    again.enter(AREA, editor.entry_text(AREA))
    assert again.value_at(AREA).si == pytest.approx(held, rel=1e-11)


@pytest.mark.parametrize("typed", ["0.0000015 cfm", "1.5e-7 cfm", "2.5e15 cfm", "1,234,567.5 cfm"])
def test_that_very_small_and_large_numbers_read_back_in_the_other_style(typed: str):
    editor = opened()
    editor.add_row("systems")
    path = "systems.0.fan_flow"
    editor.enter(path, typed)
    held = editor.value_at(path).si
    prefer(editor, SI, COMMA)
    again = opened(SI, COMMA)
    again.add_row("systems")
    again.enter(path, editor.entry_text(path))
    assert again.value_at(path).si == pytest.approx(held, rel=1e-11)


def test_that_a_value_without_unit_or_text_can_still_be_edited():
    job = Job.model_validate({"house": {"floor_area": {"si": 100.0}}})
    editor = Editor(job, Shelf(), Preferences(unit_system=SI))
    assert editor.entry_text(AREA) == "100 m²"
    assert editor.shown_text(AREA) == "100 m²"


def test_that_text_unclear_in_one_style_is_asked_about_again_and_never_taken_in_silence():
    editor = opened(IP, POINT)
    editor.enter(AREA, "1520,5")
    assert editor.finding_at(AREA).code == "number-unclear"
    prefer(editor, IP, COMMA)
    assert editor.value_at(AREA) == Measured(si=None, typed="1520,5")
    assert editor.finding_at(AREA).code == "typed-earlier"
    assert "once more" in editor.finding_at(AREA).mend
    editor.enter(AREA, "1520,5 ft2")
    assert editor.finding_at(AREA) is None


def test_that_typing_the_same_text_again_settles_what_was_asked():
    editor = opened(IP, POINT)
    editor.enter(AREA, "1520,5")
    prefer(editor, IP, COMMA)
    editor.enter(AREA, "1520,5")
    assert editor.value_at(AREA).si is not None


def test_that_unread_text_of_an_opened_job_is_reported_again():
    job = Job.model_validate({"house": {"floor_area": {"si": None, "typed": "150 ft"}}})
    editor = Editor(job, Shelf(), Preferences())
    found = editor.finding_at(AREA)
    assert found.code == "wrong-kind"
    assert "150 ft" in found.what


def test_that_a_year_is_shown_without_a_thousands_mark():
    editor = opened()
    editor.enter("house.year_built", "1998")
    assert editor.shown_text("house.year_built") == "1998"


def test_that_a_barometer_typed_without_a_unit_is_not_taken_for_pascals():
    field = field_at("tests.*.ambient.barometer")
    assert [default_unit(field, system) for system in UnitSystem] == ["inHg", "kPa"]


def test_that_a_field_without_a_quantity_has_no_unit():
    with pytest.raises(ValueError, match="no quantity"):
        default_unit(field_at("number"), IP)


def test_that_a_day_in_numbers_is_told_in_words_or_asked_about():
    """Month first is the order of the United States alone (common practice, no source)."""
    american, canadian = opened(IP), opened(SI)
    for editor in (american, canadian):
        editor.enter("site.permit_date", "3/4/2026")
    assert american.shown_text("site.permit_date") == "Mar\N{NO-BREAK SPACE}4, 2026"
    assert canadian.value_at("site.permit_date").value is None
    [asked] = [one for one in canadian.findings if one.path == "site.permit_date"]
    assert "Apr\N{NO-BREAK SPACE}3, 2026" in asked.mend
    prefer(american, SI)
    assert american.entry_text("site.permit_date") == "2026-03-04"
