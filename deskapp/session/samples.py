"""The jobs that show what the program does."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.archive.container import EXTENSION
from deskapp.archive.problems import JobFileProblem
from deskapp.i18n import _
from deskapp.session.editor import Editor

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

DEFAULT_SAMPLE = "larkspur"
_READABLE = (EXTENSION, ".json")


@dataclass(frozen=True, slots=True)
class SampleJob:
    """A sample job: its id, what it shows, and the file or folder it is kept in."""

    id: str
    title: str
    path: Path


def list_samples(shelf: Shelf) -> tuple[SampleJob, ...]:
    """Return the sample jobs: the default one first, the others by job number.

    A sample that cannot be read is left out.
    """
    from deskapp.archive import job_file

    samples: list[tuple[bool, str, SampleJob]] = []
    for path in _entries(shelf.sample_jobs):
        if path.suffix not in _READABLE and not (path / "job.json").is_file():
            continue
        try:
            job = job_file.read(path).job
        except JobFileProblem:
            continue
        sample = SampleJob(path.stem, job.title or path.stem, path)
        samples.append((sample.id != DEFAULT_SAMPLE, job.number, sample))
    return tuple(sample for _first, _number, sample in sorted(samples, key=lambda item: item[:2]))


def open_sample(sample_id: str, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open a copy of a sample job that has no file yet; the default one for an empty id.

    Raises JobFileProblem for an id that is not there.
    """
    from deskapp.archive import job_file

    samples = list_samples(shelf)
    wanted = sample_id or DEFAULT_SAMPLE
    found = next((sample for sample in samples if sample.id == wanted), None)
    if found is None:
        known = ", ".join(sample.id for sample in samples)
        text = _("There is no sample job “{id}”. There are: {known}.")
        raise JobFileProblem("no-sample", text.format(id=wanted, known=known or "–"))
    read = job_file.read(found.path)
    return Editor(read.job, shelf, preferences, read.photos, notices=read.notices)


def _entries(folder: Path | None) -> tuple[Path, ...]:
    return tuple(sorted(folder.iterdir())) if folder is not None and folder.is_dir() else ()
