"""What the files of reports are called."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.session.report_kinds import Naming, ReportKind

if TYPE_CHECKING:
    from collections.abc import Container
    from pathlib import Path

    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job

_UNFIT_IN_NAMES = re.compile(r'[<>:"/\\|?*\x00-\x1f\x7f]+')
_LONGEST_NAME = 80


def report_file_name(job: Job, kind: ReportKind) -> str:
    """Return the usual file name of a report: number or name of the job, and the kind."""
    return f"{name_in_files(job)} {kind.value}.pdf".lstrip()


def name_in_files(job: Job) -> str:
    """Return the number of a job, else its name or address, as all systems take it in file names.

    Marks that some of them do not take become spaces; it is empty where nothing else is left.
    """
    return fit_for_files(job.number or job.title or job.site.address)


def fit_for_files(text: str) -> str:
    """Return a text as all systems take it in file names."""
    words = _UNFIT_IN_NAMES.sub(" ", text)
    return " ".join(words.split())[:_LONGEST_NAME].strip(" .")


def report_file(
    job: Job, path: Path, kind: ReportKind, naming: Naming = Naming.JOB, issue: Issue | None = None
) -> str:
    """Return the name of a report's file; `issue` is what is handed out, None where nothing is.

    Where the job has nothing of what is wished for, its number or name is taken, or its file's.
    """
    usual = name_in_files(job)
    address = fit_for_files(job.site.address or job.site.lot)
    wished = {
        Naming.JOB: usual,
        Naming.ADDRESS: address or usual,
        Naming.BOTH: fit_for_files(" ".join(dict.fromkeys((usual, address)))),
        Naming.FILE: fit_for_files(path.stem),
    }
    stem = f"{wished[naming] or usual or fit_for_files(path.stem)} {kind.value}".strip()
    return f"{stem if issue is None else issued_name(stem, issue)}.pdf"


def issued_name(stem: str, issue: Issue) -> str:
    """Return the name of an issue; a further paper also says its language, and if signed."""
    name = _("{name} issue {n}").format(name=stem, n=issue.revision)
    if issue.made_on is None:
        return name
    return " ".join((name, issue.language, *((_("signed"),) if issue.sealed else ())))


def free_file(path: Path, taken: Container[Path], *, over: bool) -> Path:
    """Return `path`, numbered where this run took that name; without `over`, where it is there."""
    number, free = 2, path
    while free in taken or (not over and free.exists()):
        free = path.with_stem(f"{path.stem} {number}")
        number += 1
    return free
