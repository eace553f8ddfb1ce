"""What the window and the command line may ask for: new, open, samples, save.

Files that cannot be read or written raise `JobFileProblem`, which tells a person why.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from deskapp.archive.container import EXTENSION
from deskapp.archive.file_hold import InUse as InUse
from deskapp.archive.problems import JobFileProblem as JobFileProblem
from deskapp.i18n import _
from deskapp.session.editor import Editor
from deskapp.session.long_work import LongWork

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from deskapp.archive.file_hold import Hold
    from deskapp.domain.job import Job
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


def new_job(shelf: Shelf, preferences: Preferences, usual: Job | None = None) -> Editor:
    """Open a new job with one row in each list that every job needs, and the `usual` entries."""
    from deskapp.domain.job import Job

    sketch = Editor(Job(), shelf, preferences)
    for list_path in ("systems", "gauges", "fans", "fans.0.rings", "tests", "tests.0.readings"):
        sketch.add_row(list_path)
    if usual is not None:
        from deskapp.session.usual import start_with

        start_with(sketch, usual)
    return Editor(sketch.job, shelf, preferences)


def open_job(path: Path, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open the job at `path`. Raises JobFileProblem.

    A folder or a bare ``.json`` opens as a copy without a file of its own, so that saving it asks
    for a name and never writes over something made by hand.
    """
    from deskapp.archive import job_file

    stamp = job_file.digest_of(path)
    read = job_file.read(path)
    own = path if path.suffix.lower() == EXTENSION and path.is_file() else None
    editor = Editor(read.job, shelf, preferences, read.photos, own, read.notices)
    editor.stamp = stamp
    return editor


def open_to_edit(
    path: Path,
    shelf: Shelf,
    preferences: Preferences,
    before: Editor | None = None,
    *,
    take_over: bool = False,
) -> Editor:
    """Open the job at `path` and hold its file, so that others learn it is in use.

    Args:
        path: the file.
        shelf: what it is judged and described by.
        preferences: units and styles.
        before: the job this one takes the place of; it hands over its hold on the same file.
        take_over: open it also where another computer seems to hold it.

    Raises JobFileProblem, and InUse if it is open elsewhere. Where no lock file can be written,
    as in a read-only folder, the job opens without one: nobody can save it there anyway.
    """
    mine = before.hold if before else None
    order = OpenOrder(path, shelf, preferences, mine, take_over)
    return take_opened(order.run(LongWork()), before)


@dataclass(frozen=True, slots=True)
class OpenOrder:
    """A job file to be opened in place of the job at hand; `mine` is what that one is held by."""

    path: Path
    shelf: Shelf
    preferences: Preferences
    mine: Hold | None = None
    take_over: bool = False

    def run(self, work: LongWork) -> Opened:
        """Read and check the job, in any thread.

        Raises JobFileProblem, InUse if it is open elsewhere, and GivenUp; nothing is held then
        that was not before.
        """
        held, is_new = None, False
        work.step(1, 1, _("Reading the job {file}").format(file=self.path.name))
        if self.path.suffix.lower() == EXTENSION:
            held, is_new = _held(self.path, self.mine, take_over=self.take_over)
        try:
            editor = open_job(self.path, self.shelf, self.preferences)
            check(editor, work)
        except BaseException:
            if held is not None and is_new:
                held.release()
            raise
        editor.hold = held
        return Opened(editor, is_new, self.path)


@dataclass(frozen=True, slots=True)
class Opened:
    """A job that was read: whether what holds its file does so only now, and the file it is."""

    editor: Editor
    is_new: bool = False
    path: Path | None = None

    def discard(self) -> None:
        """Let go of the job: nobody wants it any more."""
        if self.is_new:
            let_go(self.editor)


def check(editor: Editor, work: LongWork) -> None:
    """Work out the results of a job that was read, so that showing it need not wait for them.

    Raises GivenUp where nobody waits for the job; from its end on, the job will be wanted.
    """
    work.step(1, 1, _("Checking the job {name}").format(name=editor.job.number))
    assert editor.findings is not None
    work.settle()


def take_opened(opened: Opened, before: Editor | None) -> Editor:
    """Let a job that was read take the place of `before`, and its hold on the same file.

    Raises InUse where `before` let go of that file meanwhile and somebody else was faster.
    """
    editor = opened.editor
    if editor.hold is not None and not opened.is_new:
        if before is not None and before.hold is editor.hold:
            before.hold = None
        elif editor.path is not None:
            editor.hold, _is_new = _held(editor.path, None, take_over=False)
    return editor


def open_to_read(path: Path, shelf: Shelf, preferences: Preferences) -> Editor:
    """Open a copy of the job at `path` that has no file of its own. Raises JobFileProblem."""
    editor = open_job(path, shelf, preferences)
    editor.path = None
    return editor


def let_go(editor: Editor) -> None:
    """Tell others that the job is no longer open here."""
    held, editor.hold = editor.hold, None
    if held is not None:
        held.release()


def _held(path: Path, mine: Hold | None, *, take_over: bool) -> tuple[Hold | None, bool]:
    """Return what holds the file at `path`, if anything can, and whether it does so only now.

    `mine` is what this window holds already.
    """
    from deskapp.archive.file_hold import hold, lock_path_of

    lock_path = lock_path_of(path)
    if mine is not None and mine.lock_path == lock_path:
        return mine, False
    try:
        return hold(lock_path, take_over=take_over), True
    except OSError:
        return None, True


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


@dataclass(frozen=True, slots=True)
class SaveOrder:
    """A job to be written as it stands now, whatever becomes of it meanwhile.

    `stamp` is the digest its file must still have; empty where anything is written over. `hold` is
    what holds the file of the job at hand.
    """

    job: Job
    photos: Mapping[str, bytes]
    target: Path
    stamp: str
    hold: Hold | None

    def run(self) -> Saved:
        """Write the file, in any thread. Raises JobFileProblem; then nothing has changed.

        The code of the problem is ``changed-outside`` for a file that something else changed, and
        ``in-use`` for one that is open elsewhere.
        """
        from deskapp.archive import job_file

        if self.stamp:
            _see_whether_changed(self.target, self.stamp)
        try:
            held, is_new = _held(self.target, self.hold, take_over=False)
        except InUse as taken:
            why = partial(in_use_words, self.target, taken)
            raise JobFileProblem("in-use", why) from taken
        try:
            stamp = job_file.write(self.target, self.job, self.photos)
        except BaseException:
            if held is not None and is_new:
                held.release()
            raise
        return Saved(self.job, self.target, stamp, held, is_new)


@dataclass(frozen=True, slots=True)
class Saved:
    """A job that was written: as it was then, where, the digest of the file, and what holds it."""

    job: Job
    path: Path
    stamp: str
    hold: Hold | None
    is_new: bool


def order_save(editor: Editor, path: Path | None = None, *, over: bool = False) -> SaveOrder:
    """Take down what is to be written into the file at `path`, or the one the job came from.

    The ending of job files is added if it is missing. A job may be saved however unfinished it is.
    A file that was changed by something else since it was opened is written over only with `over`.
    Raises JobFileProblem where there is no file yet.
    """
    if path is None:
        path = editor.path
    if path is None:
        raise JobFileProblem("no-name", _("This job has no file yet. Choose a name for it first."))
    target = path if path.suffix.lower() == EXTENSION else path.with_name(path.name + EXTENSION)
    editor.end_step()
    stamp = "" if over or target != editor.path else editor.stamp
    return SaveOrder(editor.job, editor.photos, target, stamp, editor.hold)


def take_saved(editor: Editor, saved: Saved) -> Path:
    """Let a job know that it was written; what changed since counts as unsaved. Return the path."""
    if saved.is_new:
        let_go(editor)
    editor.hold = saved.hold
    editor.mark_saved(saved.path, saved.stamp, saved.job)
    return saved.path


def save(editor: Editor, *, over: bool = False) -> Path:
    """Write the job into the file it came from, and wait for it. Raises JobFileProblem."""
    return take_saved(editor, order_save(editor, over=over).run())


def save_as(editor: Editor, path: Path, *, over: bool = False) -> Path:
    """Write the job into the file at `path`, wait for it and return the path used.

    Raises JobFileProblem; the job then counts as unsaved, as before.
    """
    return take_saved(editor, order_save(editor, path, over=over).run())


def in_use_words(path: Path, taken: InUse) -> str:
    """Say who has the job at `path` open, and since when."""
    from deskapp.units.display import in_sentences

    holder = taken.holder
    if holder is None:
        return _("{file} is open in another window.").format(file=path.name)
    words = _("{file} is open on the computer {host}, by {user}, since {time}.")
    return words.format(
        file=path.name,
        host=holder.host or _("unknown"),
        user=holder.user or _("unknown"),
        time=in_sentences().moment(holder.since.isoformat()),
    )


def _see_whether_changed(path: Path, stamp: str) -> None:
    from deskapp.archive import job_file

    now = job_file.digest_of(path)
    if now and now != stamp:
        words = _(
            "{file} was changed by something else after it was opened here. Saving over it "
            "loses that change; saving under another name keeps both."
        )
        raise JobFileProblem("changed-outside", words.format(file=path.name))


def load_reports(shelf: Shelf, preferences: Preferences) -> None:
    """Load what makes reports, and read their templates: the page of the report asks for all."""
    from datetime import date

    from deskapp.session.branding import BrandingFile
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.reports import gaps_for, order_reports

    order = order_reports(new_job(shelf, preferences), BrandingFile(), date.today())
    gaps_for(ReportKind.COMPLIANCE, order)


def warm_up() -> None:
    """Do the loading that the first typed quantity would otherwise wait for."""
    from deskapp.assess.evaluate import evaluate
    from deskapp.domain.job import Job
    from deskapp.units.entry import parse
    from deskapp.units.kinds import Kind
    from deskapp.units.numbers import NumberStyle

    parse("1 cfm", Kind.FLOW, "cfm", NumberStyle.POINT)
    evaluate(Job())


def _entries(folder: Path | None) -> tuple[Path, ...]:
    return tuple(sorted(folder.iterdir())) if folder is not None and folder.is_dir() else ()
