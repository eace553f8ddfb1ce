"""The command `report`: job files, or a sample job, to PDF files."""

from __future__ import annotations

from argparse import Namespace
from collections.abc import Callable, Iterator
from datetime import date
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_issue import (
    NotUsableError,
    batch_for,
    handing_for,
    how_to_go_on,
    tell_issue,
)
from deskapp.app.cli_start import (
    branding_file,
    open_shelf,
    preferences_for,
    settings_folder,
    tell,
    tell_findings,
)
from deskapp.i18n import _
from deskapp.session import branding, own_templates
from deskapp.session.batch_papers import draw_papers, write_papers
from deskapp.session.opening import JobFileProblem, open_job
from deskapp.session.papers_there import EXISTS, ISSUED, called, why_kept
from deskapp.session.report_kinds import Naming
from deskapp.session.report_names import free_file, report_file
from deskapp.session.reports import (
    ReportKind,
    ReportProblem,
    make_report,
    offered,
    order_reports,
)
from deskapp.session.samples import list_samples, open_sample

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.session.batch_papers import Handing
    from deskapp.session.branding import BrandingFile
    from deskapp.session.editor import Editor
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

KINDS = {
    "homeowner": (ReportKind.HOMEOWNER,),
    "compliance": (ReportKind.COMPLIANCE,),
    "technical": (ReportKind.TECHNICAL,),
    "retest": (ReportKind.RETEST,),
    "both": (ReportKind.HOMEOWNER, ReportKind.COMPLIANCE),
}
EXITS = {
    "stops": Exit.STOPPED,
    "no-retest": Exit.STOPPED,
    "issued": Exit.STOPPED,
    "by": Exit.STOPPED,
    "reason": Exit.STOPPED,
    "no-file": Exit.STOPPED,
    "in-use": Exit.STOPPED,
    "changed": Exit.STOPPED,
    "template": Exit.UNREADABLE,
    "write": Exit.UNWRITABLE,
    EXISTS: Exit.UNWRITABLE,
    ISSUED: Exit.UNWRITABLE,
    "not-recorded": Exit.UNWRITABLE,
}


def run(options: Namespace) -> Exit:
    """Make the reports asked for and print the path of each."""
    if not options.jobs and options.sample is None:
        tell(_("Name a job file, or add --sample. Try: ductfolio report --help"))
        return Exit.USAGE
    wishes = wishes_of(options)
    if wishes is None:
        return Exit.USAGE
    look, handing = wishes
    folder: Path = options.out
    if not make_folder(folder):
        return Exit.UNWRITABLE
    if handing is not None:
        return _issue(options, look, handing)
    shelf, preferences = open_shelf(), preferences_for(options)
    worst = Exit.DONE
    taken: set[Path] = set()
    for opened in _opened(options, shelf, preferences):
        if isinstance(opened, JobFileProblem):
            tell(opened.text)
            worst = max(worst, Exit.UNREADABLE)
        else:
            kinds = _kinds(options.kind, opened)
            named = partial(report_file, naming=Naming(options.names))
            made = _make(opened, kinds, folder, look, named, taken, replace=options.replace)
            worst = max(worst, made)
    return worst


def _issue(options: Namespace, look: BrandingFile, handing: Handing) -> Exit:
    """Hand out the reports of each job and record them in it."""
    if options.sample is not None:
        tell(_("--issue: a sample has no job file that could hold the record. Save it first."))
        return Exit.USAGE
    batch = batch_for(options, look, KINDS.get(options.kind), handing)
    worst, taken = Exit.DONE, set[Path]()
    for path in options.jobs:
        try:
            outcome = write_papers(path, draw_papers(path, batch), options.out, batch, taken)
        except JobFileProblem as problem:
            tell(problem.text)
            worst = max(worst, Exit.UNREADABLE)
            continue
        for made in outcome.made:
            tell_findings(made.findings)
            tell_issue(made)
            print(made.path)
        for trouble in outcome.troubles:
            tell(" ".join((trouble.text, how_to_go_on(trouble.code))).strip())
            worst = max(worst, EXITS.get(trouble.code, Exit.UNWRITABLE))
    return worst


def _kinds(asked: str, editor: Editor) -> tuple[ReportKind, ...]:
    """Return the reports asked for; of all only those there are for the job."""
    return offered(editor.assessment) if asked == "all" else KINDS[asked]


def _opened(
    options: Namespace, shelf: Shelf, preferences: Preferences
) -> Iterator[Editor | JobFileProblem]:
    """Yield each job asked for, or why it cannot be opened."""
    jobs, sample = _jobs_and_sample(options, shelf)
    for path in jobs:
        try:
            yield open_job(path, shelf, preferences)
        except JobFileProblem as problem:
            yield problem
    if sample is not None:
        try:
            yield open_sample(sample, shelf, preferences)
        except JobFileProblem as problem:
            yield problem


def _jobs_and_sample(options: Namespace, shelf: Shelf) -> tuple[list[Path], str | None]:
    """Part the words; a job file named right after a bare ``--sample`` is a job, not an id."""
    jobs: list[Path] = list(options.jobs)
    sample: str | None = options.sample
    if sample and sample not in {known.id for known in list_samples(shelf)}:
        path = Path(sample)
        if path.exists():
            return [path, *jobs], ""
    return jobs, sample


def make_folder(folder: Path, option: str = "--out") -> bool:
    """Make the folder an option names for what is written, or say why that does not work."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        why = _("A file stands in its way") if _is_in_the_way(folder) else error.strerror
        words = _(
            "{option}: {path} cannot be used as a folder. {why}. Needed is a folder, or the name of"
            " a new one where you may write. Name another one."
        )
        tell(words.format(option=option, path=folder, why=why))
        return False
    return True


def _is_in_the_way(folder: Path) -> bool:
    try:
        return any(place.is_file() for place in (folder, *folder.parents))
    except OSError:
        return False


def wishes_of(options: Namespace) -> tuple[BrandingFile, Handing | None] | None:
    """Return the company's look and how reports are handed out; None after telling why not.

    The look is that of the file asked for, else the one set up in the program. A file that was
    asked for is used whole or not at all; of the other one, what cannot be used is told.
    """
    asked: Path | None = options.branding
    if asked is not None and not asked.is_file():
        words = _("--branding: there is no file {path}. Name a branding file, or leave it out.")
        tell(words.format(path=asked))
        return None
    look = branding.load(asked or branding_file())
    tell_findings(look.findings)
    if asked is not None and look.findings:
        words = _("--branding: {path} cannot be used as it is. Mend it, or leave the option out.")
        tell(words.format(path=asked))
        return None
    try:
        return look, handing_for(options)
    except NotUsableError as error:
        tell(str(error))
        return None


def _make(
    editor: Editor,
    kinds: tuple[ReportKind, ...],
    folder: Path,
    look: BrandingFile,
    named: Callable[[Job, Path, ReportKind], str],
    taken: set[Path],
    *,
    replace: bool,
) -> Exit:
    own = own_templates.chosen(settings_folder(), editor.preferences.own_templates)
    order = order_reports(editor, look, date.today(), own=own)
    worst = Exit.DONE
    for kind in kinds:
        source = editor.path or Path()
        target = free_file(folder / named(editor.job, source, kind), taken, over=True)
        kept = why_kept(target, None if replace else called(editor.job))
        if kept is not None:
            tell(" ".join((kept[1], how_to_go_on(kept[0]))))
            worst = max(worst, Exit.UNWRITABLE)
            continue
        try:
            made = make_report(order, kind, target)
        except ReportProblem as problem:
            tell(problem.text)
            worst = max(worst, EXITS.get(problem.code, Exit.UNWRITABLE))
            continue
        taken.add(target)
        tell_findings(made.findings)
        print(target)
    return worst
