"""Every field of the field table, entered with something good and with nonsense."""

from __future__ import annotations

import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.archive import job_file
from deskapp.domain import paths
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.session.editor import Editor
from deskapp.session.messages import unread_findings
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.units.convert import from_unit
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

NONSENSE = ["twelve-ish", "1,2,3.4.5", "-", "NaN", "0x10", "1e999", "?" * 300]
TYPED = [field for field in FIELDS if field.form not in (Form.CHOICE, Form.REFERENCE)]
CHOSEN = [field for field in FIELDS if field.form is Form.CHOICE]
REFERRING = [field for field in FIELDS if field.form is Form.REFERENCE]
BESIDE_ROWS = ("leak_locations", "materials")
READ = [field for field in TYPED if field.form in (Form.QUANTITY, Form.DAY)]


def named(fields: list[FieldSpec]) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("field", fields, ids=[field.path for field in fields])


def place(field: FieldSpec) -> str:
    return field.path.replace("*", "0")


def good_text(field: FieldSpec) -> str:
    if field.form is Form.DAY:
        return "11 Mar 2026"
    if field.form is Form.CLOCK:
        return "08:40"
    if field.form is not Form.QUANTITY:
        return "Attic, above the hall – 2\N{PRIME}"
    if field.example:
        return field.example
    span = field.usual or field.allowed
    assert span is not None, f"{field.path} has neither an example nor a range"
    assert field.kind is not None
    middle = from_unit(round((span.low + span.high) / 2), span.unit)
    return Formatter(UnitSystem.IP, NumberStyle.POINT).plain(field.kind, middle, span.unit)


def assert_only_this_changed(before: Job, after: Job, path: str) -> None:
    assert after != before
    assert paths.put(after, path, paths.get(before, path)) == before


def assert_undo_and_redo_restore(editor: Editor, before: Job) -> None:
    after = editor.job
    editor.undo()
    assert editor.job == before
    editor.redo()
    assert editor.job == after


def assert_survives_a_file(job: Job) -> None:
    assert Job.model_validate_json(job.model_dump_json()) == job


@named(TYPED)
def test_that_a_good_text_is_taken(field: FieldSpec, editor: Editor):
    path, text, before = place(field), good_text(field), editor.job
    editor.enter(path, text)
    assert editor.entry_text(path) == text
    assert editor.shown_text(path)
    assert unread_findings(editor.job, editor.preferences) == ()
    assert_only_this_changed(before, editor.job, path)
    assert_undo_and_redo_restore(editor, before)
    assert_survives_a_file(editor.job)


@named(READ)
@pytest.mark.parametrize(
    "text", ["twelve-ish", "1,2,3.4.5", "-", "NaN", "0x10", "1e999", "?" * 300]
)
def test_that_nonsense_is_kept_and_reported(field: FieldSpec, text: str, editor: Editor):
    path, before = place(field), editor.job
    editor.enter(path, text)
    assert editor.entry_text(path) == text
    assert editor.shown_text(path) == text
    assert isinstance(editor.value_at(path), Measured | Day)
    found = editor.finding_at(path)
    assert found is not None
    assert found.level is Level.STOP
    assert label_of(path) in found.what
    assert found.allowed
    assert found.mend
    assert [finding.path for finding in editor.findings].count(path) == 1
    assert_only_this_changed(before, editor.job, path)
    assert_undo_and_redo_restore(editor, before)
    assert_survives_a_file(editor.job)


@named([field for field in TYPED if field.form is Form.CLOCK])
def test_that_an_unreadable_time_of_day_is_kept_and_asked_about(field: FieldSpec, editor: Editor):
    path = place(field)
    editor.enter(path, "after lunch")
    assert editor.value_at(path) == "after lunch"
    found = editor.finding_at(path)
    assert found is not None
    assert found.level is Level.STOP
    editor.enter(path, "1:15 pm")
    assert editor.value_at(path) == "13:15"
    assert editor.finding_at(path) is None


@named(READ)
def test_that_clearing_a_field_clears_its_finding(field: FieldSpec, editor: Editor):
    path, before = place(field), editor.value_at(place(field))
    editor.enter(path, "nonsense")
    editor.enter(path, "   ")
    assert editor.value_at(path) is None
    assert editor.entry_text(path) == ""
    assert editor.shown_text(path) == ""
    assert not [f for f in editor.findings if f.path == path and f.level is Level.STOP]
    editor.undo()
    assert editor.value_at(path) == before


@named(CHOSEN)
def test_that_every_offered_answer_can_be_chosen_and_cleared(field: FieldSpec, editor: Editor):
    path, before = place(field), editor.job
    for value, label in editor.options_at(path):
        editor.choose(path, value)
        assert editor.value_at(path) == value
        assert isinstance(editor.value_at(path), field.choices or str)
        assert editor.shown_text(path) == label
        assert_only_this_changed(before, editor.job, path)
        assert_survives_a_file(editor.job)
    assert_undo_and_redo_restore(editor, before)
    editor.choose(path, None)
    assert editor.job == before


@named(CHOSEN + REFERRING)
def test_that_an_answer_that_is_not_offered_is_refused(field: FieldSpec, editor: Editor):
    before = editor.job
    with pytest.raises(ValueError, match="is no answer"):
        editor.choose(place(field), "perhaps")
    with pytest.raises(ValueError, match="chosen from a list"):
        editor.enter(place(field), "perhaps")
    assert editor.job is before


@named([field for field in REFERRING if field.reference not in BESIDE_ROWS])
def test_that_a_reference_can_be_chosen_and_shows_the_name_of_its_row(
    field: FieldSpec, editor: Editor
):
    path = place(field)
    if field.path == "tests.*.retest_of":
        path = f"{editor.add_row('tests')}.retest_of"
    (option,) = editor.options_at(path)
    editor.choose(path, option.value)
    assert editor.value_at(path) == option.value
    assert editor.shown_text(path) == option.label
    editor.choose(path, None)
    assert editor.value_at(path) == ""


@named(TYPED)
def test_that_a_typed_field_cannot_be_chosen(field: FieldSpec, editor: Editor):
    with pytest.raises(ValueError, match="typed"):
        editor.choose(place(field), None)


@pytest.mark.parametrize(
    "path",
    ["systems.7.name", "systems.x.name", "nowhere", "systems", "tests.0.setup", "number.0", ""],
)
def test_that_a_place_the_job_does_not_have_is_a_mistake_of_the_caller(path: str, editor: Editor):
    before = editor.job
    with pytest.raises(KeyError):
        editor.enter(path, "1")
    assert editor.job is before


EVERY_TEXT = st.one_of(
    st.text(), st.text(st.sampled_from("0123456789 .,-/:ftPacmu²°%"), max_size=12)
)


@settings(max_examples=60, deadline=None)
@given(st.dictionaries(st.sampled_from([place(field) for field in TYPED]), EVERY_TEXT, max_size=8))
def test_that_whatever_is_typed_comes_back_from_a_saved_file(
    filled_job: Job, typed: dict[str, str]
):
    editor = Editor(filled_job, Shelf(), Preferences())
    for path, text in typed.items():
        editor.enter(path, text)
    shown = {path: editor.entry_text(path) for path in typed}
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "job.ductjob"
        job_file.write(file, editor.job, editor.photos)
        again = Editor(job_file.read(file).job, Shelf(), Preferences())
    assert again.job == editor.job
    assert {path: again.entry_text(path) for path in typed} == shown
    assert again.findings == editor.findings


@given(EVERY_TEXT)
def test_that_free_text_is_kept_to_the_letter(text: str):
    editor = Editor(Job(), Shelf(), Preferences())
    editor.enter("comments", text)
    assert editor.entry_text("comments") == (text if text.strip() else "")


def test_that_text_in_halves_of_characters_can_still_be_saved():
    editor = Editor(Job(), Shelf(), Preferences())
    editor.enter("comments", "smoke \ud83d\ude00 and \ud83d lost")
    assert editor.job.comments == "smoke \N{GRINNING FACE} and \N{REPLACEMENT CHARACTER} lost"
    assert_survives_a_file(editor.job)
