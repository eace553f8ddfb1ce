"""Reports that were handed out: what each one said, and by what it is known again."""

from __future__ import annotations

from datetime import date

from deskapp.domain.base import Frozen

_SHOWN = 16
_GROUP = 4


class Issue(Frozen):
    """One issue of a report; the record is never changed or taken back.

    `kind` is the id of the report, `revision` counts its issues from 1. `mark` is the SHA-256 of
    the job as it was then, `frozen` that job itself, packed. `changes` name what is different from
    the issue before. `file_mark` is the SHA-256 of the file handed out; the report inside that file
    cannot know it. `language` is that of the paper, and `sealed` says that it was signed.

    A further paper of an issue, in another language or signed later, is a record of its own with
    the number, day and mark of the issue; `made_on` is the day of that paper, None for the first.
    """

    kind: str
    revision: int
    number: str
    issued_on: date
    by: str = ""
    reason: str = ""
    changes: tuple[str, ...] = ()
    mark: str
    frozen: str = ""
    file_mark: str = ""
    language: str = ""
    sealed: bool = False
    made_on: date | None = None

    @property
    def short_mark(self) -> str:
        """The beginning of the mark in groups, as it stands on paper."""
        start = self.mark[:_SHOWN]
        return " ".join(start[at : at + _GROUP] for at in range(0, len(start), _GROUP))
