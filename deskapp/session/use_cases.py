"""What the window and the command line may ask for: new, open, samples, save.

Files that cannot be read or written raise `JobFileProblem`, which tells a person why.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.archive.problems import JobFileProblem as JobFileProblem
from deskapp.i18n import _
from deskapp.session.editor import Editor

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

EXTENSION = ".ductjob"
DEFAULT_SAMPLE = "larkspur"
_READABLE = (EXTENSION, ".json")


@dataclass(frozen=True, slots=True)
class Sample:
    """A sample job: its id, what it shows, and the file or folder it is kept in."""

    id: str
    title: str
    path: Path


def new_job(shelf: Shelf, preferences: Preferences) -> Editor:
    """Open a new job with one row in each list that every job needs."""
    from deskapp.domain.job import Job

    sketch = Editor(Job(), shelf, preferences)
    for list_path in ("systems", "gauges", "fans", "fans.0.rings", "tests", "tests.0.readings"):
        sketch.add_row(list_path)
    return Editor(sketch.job, shelf, preferences)


def open_job(path: Path, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open the job at `path`. Raises JobFileProblem.

    A folder or a bare ``.json`` opens as a copy without a file of its own, so that saving it asks
    for a name and never writes over something made by hand.
    """
    from deskapp.archive import job_file

    read = job_file.read(path)
    own = path if path.suffix.lower() == EXTENSION and path.is_file() else None
    return Editor(read.job, shelf, preferences, read.photos, own, read.notices)


def list_samples(shelf: Shelf) -> tuple[Sample, ...]:
    """Return the sample jobs: the default one first, the others by job number.

    A sample that cannot be read is left out.
    """
    from deskapp.archive import job_file

    samples: list[tuple[bool, str, Sample]] = []
    for path in _entries(shelf.sample_jobs):
        if path.suffix not in _READABLE and not (path / "job.json").is_file():
            continue
        try:
            job = job_file.read(path).job
        except JobFileProblem:
            continue
        sample = Sample(path.stem, job.title or path.stem, path)
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


def save(editor: Editor) -> Path:
    """Write the job into the file it came from. Raises JobFileProblem, also if it has none."""
    if editor.path is None:
        raise JobFileProblem("no-name", _("This job has no file yet. Choose a name for it first."))
    return save_as(editor, editor.path)


def save_as(editor: Editor, path: Path) -> Path:
    """Write the job into the file at `path` and return the path used.

    The ending of job files is added if it is missing. A job may be saved however unfinished it is.
    Raises JobFileProblem; the job then counts as unsaved, as before.
    """
    from deskapp.archive import job_file

    target = path if path.suffix.lower() == EXTENSION else path.with_name(path.name + EXTENSION)
    job_file.write(target, editor.job, editor.photos)
    editor.mark_saved(target)
    return target


def warm_up() -> None:
    """Do the loading that the first typed quantity would otherwise wait for.

    What is loaded by then stays loaded, so it is also taken out of the search for unused memory:
    that search, made over everything, is the longest wait there is between two keystrokes.
    """
    import gc

    from deskapp.assess.evaluate import evaluate
    from deskapp.domain.job import Job
    from deskapp.units.entry import parse
    from deskapp.units.kinds import Kind
    from deskapp.units.numbers import NumberStyle

    parse("1 cfm", Kind.FLOW, "cfm", NumberStyle.POINT)
    evaluate(Job())
    gc.collect()
    gc.freeze()


def _entries(folder: Path | None) -> tuple[Path, ...]:
    return tuple(sorted(folder.iterdir())) if folder is not None and folder.is_dir() else ()
