"""The files of issued papers: found again by their marks, and attached unchanged."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.session.issue_desk import IssueStanding, standing
from deskapp.session.report_names import report_file_name

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job
    from deskapp.session.report_kinds import ReportKind

_MOST_FILES = 500
_LARGEST = 200_000_000
"""Bytes of a file beyond which it is taken for no paper of ours."""


@dataclass(frozen=True, slots=True)
class IssuedPaper:
    """The last issue of a report: whether it tells of the job as it is, and its file if found."""

    kind: ReportKind
    issue: Issue
    is_current: bool
    path: Path | None = None

    @property
    def is_unchanged(self) -> bool:
        """Whether the file still is the one that was handed out; reads it."""
        return self.path is not None and _mark(self.path) == self.issue.file_mark


def last_issued(job: Job, kinds: Iterable[ReportKind]) -> tuple[IssuedPaper, ...]:
    """Return the last issue of each kind that was ever issued, without its file."""
    return tuple(
        IssuedPaper(
            kind, job.issues_of(kind.value)[-1], standing(job, kind) is IssueStanding.CURRENT
        )
        for kind in kinds
        if job.issues_of(kind.value)
    )


def with_files(job: Job, papers: Iterable[IssuedPaper], folder: Path) -> tuple[IssuedPaper, ...]:
    """Look in `folder` for the unchanged files of issues that tell of the job as it is.

    A further paper of an issue will do as well; the newest is taken. May run in any thread.
    """
    marks: dict[str, Path] | None = None
    found: list[IssuedPaper] = []
    for paper in papers:
        if paper.is_current:
            marks = _marks_in(folder, report_file_name(job, paper.kind)) if marks is None else marks
        found.append(_with_file(job, paper, marks or {}))
    return tuple(found)


def _with_file(job: Job, paper: IssuedPaper, marks: dict[str, Path]) -> IssuedPaper:
    for one in reversed(job.papers_of(paper.kind.value)):
        if paper.is_current and one.revision == paper.issue.revision and one.file_mark in marks:
            return IssuedPaper(paper.kind, one, True, marks[one.file_mark])
    return paper


def _marks_in(folder: Path, usual: str) -> dict[str, Path]:
    """Return the papers in a folder by their marks; those of the usual name are looked at first."""
    start = usual.split(" ", 1)[0]
    try:
        paths = [one for one in folder.iterdir() if one.suffix.lower() == ".pdf"]
    except OSError:
        return {}
    paths.sort(key=lambda one: (not one.name.startswith(start), one.name))
    return {mark: one for one in paths[:_MOST_FILES] if (mark := _mark(one))}


def _mark(path: Path) -> str:
    """Return the SHA-256 of a file; empty where it cannot be read or is too large."""
    try:
        if path.stat().st_size > _LARGEST:
            return ""
        with path.open("rb") as file:
            return hashlib.file_digest(file, "sha256").hexdigest()
    except OSError:
        return ""


def changed_words(path: Path) -> str:
    """Say that a file is no longer the one that was issued."""
    words = _(
        "{path} is no longer the file that was issued. Take its tick away, or put the file back."
    )
    return words.format(path=path)
