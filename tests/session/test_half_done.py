"""A job can be saved at any time, whatever stands in it, and comes back as it was typed."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.holding import let_go
from deskapp.session.opening import open_job
from deskapp.session.resources import Shelf
from deskapp.session.saving import save_as
from deskapp.session.settings import Preferences

TYPED = [
    spec.path.replace("*", "0") for spec in FIELDS if spec.form not in (Form.CHOICE, Form.REFERENCE)
]
ODD = ("", "soon", "12", "150 ft", "1.234", "-1e9 Pa", "2026-13-45", "25:61", "a\nb", "\x00", "¾")


@given(typed=st.dictionaries(st.sampled_from(TYPED), st.sampled_from(ODD), max_size=25))
@settings(
    max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)
def test_that_a_half_done_job_is_saved_and_opens_as_it_was(
    typed: dict[str, str], filled_job: Job, tmp_path: Path
) -> None:
    editor = Editor(filled_job, Shelf(), Preferences())
    for path, text in typed.items():
        editor.enter(path, text)
    file = save_as(editor, tmp_path / "half.ductjob")
    assert not editor.is_dirty
    let_go(editor)
    again = open_job(file, Shelf(), Preferences())
    let_go(again)
    assert again.job == editor.job
    for path in typed:
        assert again.entry_text(path) == editor.entry_text(path)


def test_that_every_field_can_hold_what_stops_a_report_and_the_job_is_saved(
    filled_job: Job, tmp_path: Path
) -> None:
    editor = Editor(filled_job, Shelf(), Preferences())
    for path in TYPED:
        editor.enter(path, "soon")
    stopped = {finding.path for finding in editor.findings if finding.level is Level.STOP}
    assert len(stopped) > 40
    file = save_as(editor, tmp_path / "stopped.ductjob")
    let_go(editor)
    assert open_job(file, Shelf(), Preferences()).entry_text("house.floor_area") == "soon"


QUANTITIES = [spec for spec in FIELDS if spec.form is Form.QUANTITY]


@pytest.mark.parametrize("number", [12.5, 1234.5, 0.125, 7])
def test_that_a_job_typed_in_either_number_style_is_the_same_job(
    number: float, filled_job: Job
) -> None:
    jobs: list[dict[str, float | None]] = []
    for style in ("point", "comma"):
        preferences = Preferences.model_validate({"number_style": style})
        editor = Editor(filled_job, Shelf(), preferences)
        held: dict[str, float | None] = {}
        for spec in QUANTITIES:
            path = spec.path.replace("*", "0")
            text = f"{number:,}" if style == "point" else f"{number:,}".translate(OTHER)
            editor.enter(path, text)
            held[path] = editor.value_at(path).si
        jobs.append(held)
    assert jobs[0] == jobs[1]
    assert sum(si is not None for si in jobs[0].values()) > 60 or number == 0.125


OTHER = str.maketrans({",": ".", ".": ","})
