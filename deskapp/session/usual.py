"""What new jobs start with: a job with only the entries a company makes alike each time."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.archive import job_file
from deskapp.archive.problems import JobFileProblem
from deskapp.domain import fields_job
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.i18n import N_, _
from deskapp.session.carry import SET_UP, carried
from deskapp.session.editor import Editor
from deskapp.session.pages import Section

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

FILE_NAME = "new_jobs.ductjob"

_OF_ONE_JOB = {"tester.signed_by", "tester.signed_on", "comments"}
_OF_ONE_HOUSE = {"tests.*.setup.supplies_sealed", "tests.*.setup.returns_sealed"}

USUAL_SECTIONS: tuple[Section, ...] = (
    Section(
        N_("Tester"),
        "",
        tuple(spec.path for spec in fields_job.TESTER if spec.path not in _OF_ONE_JOB),
    ),
    Section(N_("Site"), "", ("site.region", "site.climate_zone", "site.jurisdiction")),
    Section(
        N_("Duct system"),
        "systems",
        (
            "systems.*.work",
            "systems.*.air_handler_installed",
            "systems.*.air_handler_inside",
            "systems.*.duct_location",
        ),
    ),
    Section(N_("Test set-up"), "tests", tuple(p for p in SET_UP if p not in _OF_ONE_HOUSE)),
)
"""The fields that may be the same in every job of a company."""

_FIELDS = tuple(path for section in USUAL_SECTIONS for path in section.fields)


def usual_of(job: Job) -> Job:
    """Return a job with nothing but the usual entries of `job`: its first system and test count."""
    bare = Job(systems=job.systems[:1], tests=job.tests[:1])
    bare = bare.model_copy(
        update={
            "systems": tuple(type(one)(key=one.key) for one in bare.systems),
            "tests": tuple(type(one)(key=one.key) for one in bare.tests),
        }
    )
    usual, _filled = carried(job, bare, _FIELDS)
    return usual.model_copy(
        update={"compliance": bare.compliance.model_copy(update={"limits": job.compliance.limits})}
    )


def start_with(editor: Editor, usual: Job) -> None:
    """Put the usual entries into the open job; limits come from the shelf, as they stand now."""
    job, _filled = carried(usual, editor.job, _FIELDS)
    editor.take(job, lambda: _("usual entries"))
    for limit in usual.compliance.limits:
        edition = editor.shelf.edition(limit.edition.id)
        if edition is None or edition.is_invented:
            continue
        is_there = limit.row in {row.id for row in edition.rows}
        editor.choose_limit(edition.id, limit.row if is_there else "")


def editor_of(usual: Job, shelf: Shelf, preferences: Preferences) -> Editor:
    """Return an editor of the usual entries, with one system and one test to enter them in."""
    sketch = Editor(usual_of(usual), shelf, preferences)
    for list_path in ("systems", "tests"):
        if not sketch.row_count(list_path):
            sketch.add_row(list_path)
    return Editor(sketch.job, shelf, preferences)


def unkept(editor: Editor) -> Finding | None:
    """Return why usual entries cannot be kept: an entry that would keep back every new job."""
    fields = set(_FIELDS)
    for finding in editor.findings:
        general = finding.path.replace(".0.", ".*.")  # of each list the first row alone is kept
        if general in fields and finding.level is Level.STOP and editor.entry_text(finding.path):
            return finding
    return None


def load(folder: Path) -> tuple[Job, tuple[Finding, ...]]:
    """Return the usual entries kept in `folder`; an empty job, and why, if they cannot be read."""
    path = folder / FILE_NAME
    if not path.exists():
        return Job(), ()
    try:
        return job_file.read(path).job, ()
    except JobFileProblem as problem:
        what = _("What new jobs start with cannot be read. {why}").format(why=problem.text)
        return Job(), (_finding(what, _("Enter it once more; that writes the file anew.")),)


def keep(folder: Path, usual: Job) -> Finding | None:
    """Keep the usual entries of `usual` in `folder`; return why not if that does not work."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
        job_file.write(folder / FILE_NAME, usual_of(usual), {})
    except (JobFileProblem, OSError) as problem:
        what = _("What new jobs start with was not kept. {why}").format(why=str(problem))
        return _finding(what, _("Give the program a folder it may write to."))
    return None


def _finding(what: str, mend: str) -> Finding:
    return Finding(level=Level.CHECK, code="usual", what=what, mend=mend)
