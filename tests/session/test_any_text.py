"""Whatever is typed into whichever field: nothing is raised, all is kept, and the message fits."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import FIELDS, label_of
from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.session.typed import storable

_TYPED = [spec for spec in FIELDS if spec.form not in (Form.CHOICE, Form.REFERENCE)]
_CHOSEN = [spec for spec in FIELDS if spec.form in (Form.CHOICE, Form.REFERENCE)]
_ANY = st.one_of(
    st.text(st.characters(codec=None), max_size=60),
    st.text(st.characters(categories=["Cc", "Cf", "Cs", "Nd", "No"]), max_size=20),
    st.from_regex(r"[-+]?\d{1,400}([.,]\d{0,20})?([eE][-+]?\d{1,6})? ?[a-zA-Z%°²/.]{0,12}"),
    st.sampled_from(["nan", "inf", "-inf", "1e999 Pa", "\x00", "\ud800", "1\u202e2", "٣٤", "½"]),
)


def place_of(spec: FieldSpec, editor: Editor) -> str:
    """Return the path of the field in the first row of each list, which is added if need be."""
    parts: list[str] = []
    for part in spec.path.split("."):
        if part == "*":
            list_path = ".".join(parts)
            if not editor.row_count(list_path):
                editor.add_row(list_path)
            parts.append("0")
        else:
            parts.append(part)
    return ".".join(parts)


@pytest.fixture(scope="module")
def fresh() -> Editor:
    """One job for all texts: each is taken back after it was looked at."""
    return Editor(Job(), Shelf(), Preferences())


@settings(max_examples=6, deadline=None)
@pytest.mark.parametrize("spec", _TYPED, ids=lambda spec: spec.path)
@given(text=_ANY)
def test_that_any_text_is_taken(fresh: Editor, spec: FieldSpec, text: str) -> None:
    path = place_of(spec, fresh)
    fresh.enter(path, text)
    assert fresh.assessment is not None
    value, finding = fresh.value_at(path), fresh.finding_at(path)
    if spec.form is not Form.CLOCK or finding is not None:
        assert fresh.entry_text(path).strip() == storable(text).strip()
    if getattr(value, "si", 0) is None or getattr(value, "value", 0) is None:
        assert finding is not None
        assert label_of(path) in finding.text
    fresh.shown_text(path)
    fresh.undo()


@settings(max_examples=3, deadline=None)
@pytest.mark.parametrize("spec", _CHOSEN, ids=lambda spec: spec.path)
@given(text=_ANY)
def test_that_an_answer_that_is_none_is_refused_in_good_order(
    fresh: Editor, spec: FieldSpec, text: str
) -> None:
    path = place_of(spec, fresh)
    before = fresh.job
    known = {option.value for option in fresh.options_at(path)}
    if text in known or not text:
        return
    try:
        fresh.choose(path, text)
    except ValueError:
        assert fresh.job is before
    assert fresh.assessment is not None
    assert all(finding.text for finding in fresh.findings)
