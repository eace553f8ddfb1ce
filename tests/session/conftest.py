"""A job with one row in every list, and an editor that holds it. All of it is invented."""

from __future__ import annotations

import pytest

from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from tests.job_lists import LISTS


@pytest.fixture(scope="session")
def filled_job() -> Job:
    """A job in which every list has a row, and every reference something to point at."""
    editor = Editor(Job(), Shelf(), Preferences())
    for list_path in LISTS:
        editor.add_row(list_path.replace("*", "0"))
    editor.enter("fans.0.rings.0.flow_low", "50 cfm")
    editor.enter("fans.0.rings.0.flow_high", "180 cfm")
    return editor.job


@pytest.fixture
def editor(filled_job: Job) -> Editor:
    return Editor(filled_job, Shelf(), Preferences())
