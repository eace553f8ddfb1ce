"""A problem report has what mends the program and nothing that tells who somebody is."""

from __future__ import annotations

import traceback
from collections.abc import Iterator
from pathlib import Path

import pytest
from pydantic import ValidationError

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.domain.paths import expand
from deskapp.session.editor import Editor
from deskapp.session.problem_report import job_lines, problem_report
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences


@pytest.fixture
def sample() -> Editor:
    shelf = load_shelf(resources_folder(), templates_folder())
    return open_sample("", shelf, Preferences())


def test_that_no_text_somebody_wrote_is_in_it(sample: Editor) -> None:
    report = problem_report("Traceback: trouble", ["noted"], sample)
    written = [
        value
        for spec in FIELDS
        if spec.form in (Form.TEXT, Form.PARAGRAPH)
        for _path, value in expand(sample.job, spec.path)
        if isinstance(value, str) and len(value) > 3
    ]
    assert len(written) > 10
    assert [text for text in written if text in report] == []
    for part in ("Traceback: trouble", "noted", "CPython 3.", "systems.0.area_served = 141."):
        assert part in report


def test_that_texts_of_the_job_are_left_out_of_the_error_and_of_what_was_noted(
    sample: Editor,
) -> None:
    sample.path = Path("/jobs/Jordan Example.ductjob")
    sample.enter("systems.0.name", "Attic unit")
    sample.enter("house.floor_area", "Jordan's barn")
    name, caption = sample.job.client.name, sample.job.leaks[0].photos[0].caption
    trace = (
        'Traceback (most recent call last):\n  File "a.py", line 3, in there\n    client = name\n'
        f"ValueError: {name!r} is no answer to client.name; {caption}; Jordan's barn"
    )
    report = problem_report(trace, [f"/jobs/Jordan Example.ductjob: {name}"], sample)
    for text in (name, caption, "Jordan", "Attic unit"):
        assert text
        assert text not in report
    for part in ("    client = name", "is no answer to client.name", f"[text of {len(name)} "):
        assert part in report


def words_in(value: object) -> Iterator[str]:
    """Yield each text in records, whatever it is."""
    if isinstance(value, dict):
        for inside in value.values():
            yield from words_in(inside)
    elif isinstance(value, list | tuple):
        for inside in value:
            yield from words_in(inside)
    elif isinstance(value, str):
        yield value


@pytest.mark.parametrize("sample_id", ["larkspur", "maple", "clinic", "crossover"])
def test_that_no_sentence_of_any_record_is_in_it_however_the_error_quotes_it(
    sample_id: str,
) -> None:
    shelf = load_shelf(resources_folder(), templates_folder())
    editor = open_sample(sample_id, shelf, Preferences())
    editor.enter("comments", 'Ring twice.\nAsk for "Jordan" at the side door.')
    held = editor.job.model_dump(exclude={"compliance"})
    sentences = {text for text in words_in(held) if " " in text.strip() and len(text) > 5}
    assert len(sentences) > 20
    quoted = "\n".join(f"{text}\n  {text}\n  Input {text!r}\n    {text}" for text in sentences)
    trace = f'Traceback:\n  File "a.py", line 3, in there\n    client = name\nValueError: {quoted}'
    report = problem_report(trace, sentences, editor)
    assert {text for text in sentences if text in report} == set()
    assert "side door" not in report
    assert "    client = name" in report


def test_that_a_refused_value_is_not_quoted_though_its_middle_is_cut_out(sample: Editor) -> None:
    text = "Jordan keeps the key to the attic below the third pot on the left of the side door"
    sample.enter("comments", text)
    try:
        Job.model_validate({"number": [text]})
    except ValidationError:
        trace = traceback.format_exc()
    assert "Jordan keeps" in trace
    assert "..." in trace, "as records quote what is long"
    report = problem_report(trace, [], sample)
    for part in ("Jordan", "side door"):
        assert part not in report
    assert "Input should be a valid string" in report


def test_that_folders_of_the_job_are_not_named(sample: Editor) -> None:
    sample.path = Path("/jobs/Family Example/Lot 14.ductjob")
    trace = "OSError: [Errno 28] No space left on device: '/jobs/Family Example/Lot 14 owner.pdf'"
    report = problem_report(trace, [], sample)
    assert "Family Example" not in report
    assert "No space left on device" in report


def test_that_what_could_not_be_read_is_told_by_its_length(editor: Editor) -> None:
    editor.enter("house.floor_area", "Jordan's house")
    editor.enter("site.permit_date", "Jordan's day")
    lines = list(job_lines(editor.job))
    assert "house.floor_area = not read: text of 14 characters" in lines
    assert "site.permit_date = not read: text of 12 characters" in lines


def test_that_the_persons_own_folder_is_not_named() -> None:
    trace = f'File "{Path.home()}/there.py", line 3'
    assert str(Path.home()) not in problem_report(trace, [], None)
