"""Whether a file that is there already may be written over by a paper."""

from __future__ import annotations

import json
from contextlib import suppress
from dataclasses import dataclass
from enum import Enum, auto
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.session.carried import JOB_FILE, PRINT_FILE

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.domain.job import Job

EXISTS, ISSUED = "exists", "issued-there"
"""Why a file stays as it is: it is not a draft of the same job, or a paper that was issued."""


class IfThere(Enum):
    """What becomes of a file of the same name; an issued paper is never written over."""

    NUMBER = auto()
    REPLACE = auto()
    REPLACE_DRAFTS = auto()


@dataclass(frozen=True, slots=True)
class PaperThere:
    """A report found in a file: what its job is called, and whether it was issued."""

    called: tuple[str, ...]
    is_issued: bool


def called(job: Job) -> tuple[str, ...]:
    """Return what tells a job from others: number, name and place; empty if it has none."""
    words = (job.number, job.title, job.site.address, job.site.lot, job.site.city)
    return words if any(words) else ()


def paper_in(path: Path) -> PaperThere | None:
    """Return the report in a file; None where it holds none."""
    from deskapp.archive.envelope import job_from_text
    from deskapp.archive.problems import JobFileProblem
    from deskapp.report.sealing.examine import examine
    from deskapp.report.sealing.problems import SealProblem

    with suppress(OSError, SealProblem, JobFileProblem, KeyError, ValueError):
        files = examine(path.read_bytes()).files
        printed = json.loads(files[PRINT_FILE])
        return PaperThere(called(job_from_text(files[JOB_FILE], JOB_FILE)), printed["is_issued"])
    return None


def why_kept(path: Path, name: tuple[str, ...] | None = None) -> tuple[str, str] | None:
    """Return code and words for why a file is not written over; None if it may be.

    A paper that was issued never is. With the `name` of a job nothing is but drafts of that job.
    """
    if not path.exists():
        return None
    there = paper_in(path)
    if there is not None and there.is_issued:
        words = _("{path} holds a report that was issued. It is never written over.")
        return ISSUED, words.format(path=path)
    if name is None or (there is not None and name and there.called == name):
        return None
    words = _("{path} is there already, and is no draft of this job. It was left as it is.")
    return EXISTS, words.format(path=path)
