"""Words kept beside jobs follow the language in use. All jobs here are invented."""

from __future__ import annotations

from pathlib import Path

from deskapp.i18n import speaking
from deskapp.session.job_index import CACHE_NAME, JobIndex
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences


def problem_of(folder: Path) -> str:
    """List the folder anew, with the cache beside it; return what is wrong with its only file."""
    index = JobIndex(folder.parent / CACHE_NAME, Preferences(), Shelf())
    index.look((folder,))
    while index.read_some(1.0):
        pass
    [line] = index.lines
    return line.problem


def test_that_words_about_a_file_that_cannot_be_read_follow_the_language(tmp_path: Path) -> None:
    folder = tmp_path / "jobs"
    folder.mkdir()
    (folder / "broken.ductjob").write_bytes(b"not a job")
    english = problem_of(folder)
    assert english
    with speaking("es"):
        assert problem_of(folder) not in ("", english)
    assert problem_of(folder) == english
