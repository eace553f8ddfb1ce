"""What the window asks about limits: which may bind, why, and limits of one's own in files."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from deskapp.assess.explain import ExplainLine as ExplainLine
from deskapp.assess.explain import LinePart as LinePart
from deskapp.assess.explain import explain_in
from deskapp.domain.finding import Finding
from deskapp.i18n import _
from deskapp.limits import own
from deskapp.limits.candidates import ASPECT_LABELS as ASPECT_LABELS
from deskapp.limits.candidates import Aspect as Aspect
from deskapp.limits.candidates import Candidate as Candidate
from deskapp.limits.catalogue import load, read_edition
from deskapp.limits.fit import Fit as Fit
from deskapp.limits.guess import why_first
from deskapp.limits.likeliest import CandidateSteps as CandidateSteps
from deskapp.limits.likeliest import candidates, candidates_in_steps
from deskapp.limits.likeliest import in_one_go as in_one_go
from deskapp.limits.own import OwnLimitProblem as OwnLimitProblem
from deskapp.session.resources import LIMITS
from deskapp.units.display import writing

if TYPE_CHECKING:
    from collections.abc import Iterable, Sequence
    from pathlib import Path

    from deskapp.domain.limit import Edition
    from deskapp.domain.result import LimitOutcome
    from deskapp.session.editor import Editor
    from deskapp.session.resources import Shelf
    from deskapp.units.numbers import NumberStyle


def likely_limits(editor: Editor, home: str = "") -> tuple[Candidate, ...]:
    """Return every edition of the shelf beside the open job, the likeliest first.

    `home` is the country the computer is set to, by its two letters.
    """
    with writing(editor.preferences.number_style):
        return candidates(editor.shelf.editions, editor.job, home)


def likely_limits_in_steps(editor: Editor, home: str = "") -> CandidateSteps:
    """Return the same at the end, with a pause after each few editions."""
    steps = candidates_in_steps(editor.shelf.editions, editor.job, home)
    return _written(steps, editor.preferences.number_style)


def _written(steps: CandidateSteps, style: NumberStyle) -> CandidateSteps:
    """Take the steps one by one, each with its numbers written in `style`."""
    while True:
        with writing(style):
            try:
                next(steps)
            except StopIteration as end:
                return end.value
        yield


def why_likely(editor: Editor, likely: Sequence[Candidate], home: str = "") -> str:
    """Return why the first of the likely limits stands there, where that is a guess."""
    with writing(editor.preferences.number_style):
        return why_first(likely, editor.job, home)


def explained(editor: Editor, system_key: str, outcome: LimitOutcome) -> tuple[ExplainLine, ...]:
    """Return the lines that explain one outcome of the open job."""
    with writing(editor.preferences.number_style):
        return explain_in(editor.job, system_key, outcome)


@dataclass(frozen=True, slots=True)
class OwnFile:
    """A limit of one's own and the file it is kept in."""

    path: Path
    edition: Edition


@dataclass(frozen=True, slots=True)
class LimitsDesk:
    """Limits of one's own, kept in `own_folder` beside the published ones of `resources`.

    The folder need not exist. What cannot be done raises OwnLimitProblem, which tells why.
    """

    resources: Path
    own_folder: Path

    def own_limits(self) -> tuple[tuple[OwnFile, ...], tuple[Finding, ...]]:
        """Return the limits of one's own, and what is the matter with files that are none."""
        files: list[OwnFile] = []
        problems: list[Finding] = []
        for path in self._paths():
            read = read_edition(path)
            if isinstance(read, Finding):
                problems.append(read)
            else:
                files.append(OwnFile(path, read))
        return tuple(files), tuple(problems)

    def start(self, edition: Edition, title: str, row_ids: Iterable[str] = ()) -> Edition:
        """Return a copy to change, under an id made from its title; nothing is kept yet."""
        wanted = title or edition.title
        return own.copy_edition(edition, own.free_id(wanted, self._taken()), wanted, row_ids)

    def keep(self, edition: Edition) -> Path:
        """Write a limit of one's own, over the one with the same id, and return its file."""
        own.checked(edition)
        if edition.id in self._published():
            text = _("“{id}” is the id of a published edition. Give yours another id.")
            raise OwnLimitProblem("id-published", text.format(id=edition.id))
        files, _problems = self.own_limits()
        path = next((file.path for file in files if file.edition.id == edition.id), None)
        path = path or self._free_path(own.edition_file_name(edition))
        self._write(path, edition)
        return path

    def drop(self, edition_id: str) -> None:
        """Remove the file of a limit of one's own. Jobs judged by it keep their copy."""
        files, _problems = self.own_limits()
        path = next((file.path for file in files if file.edition.id == edition_id), None)
        if path is None:
            text = _('There is no limit of your own with the id "{id}".')
            raise OwnLimitProblem("no-such-limit", text.format(id=edition_id))
        try:
            path.unlink()
        except OSError as error:
            text = _("{file} cannot be removed ({why}).")
            why = error.strerror or type(error).__name__
            raise OwnLimitProblem("remove", text.format(file=path.name, why=why)) from error

    def export(self, edition: Edition, target: Path) -> Path:
        """Write one edition as a file for others and return it; the ending is added if missing."""
        ending = target.suffix.lower() == own.SUFFIX
        path = target if ending else target.with_name(target.name + own.SUFFIX)
        self._write(path, edition, make_folder=False)
        return path

    def take_over(self, path: Path, *, rename: bool = False) -> Edition:
        """Keep the edition of somebody else's file among one's own and return it.

        Its rows count as entered by the user. An id that is taken is refused, or with `rename`
        another one is given.
        """
        edition = own.taken_over(own.read(path), self._taken(), rename=rename)
        self.keep(edition)
        return edition

    def refreshed(self, shelf: Shelf) -> Shelf:
        """Return the shelf with the limits read anew; give it to the open job's editor."""
        catalogue = load(self.resources / LIMITS, self.own_folder)
        stale = set(shelf.catalogue.problems)
        others = tuple(problem for problem in shelf.problems if problem not in stale)
        return replace(shelf, catalogue=catalogue, problems=(*catalogue.problems, *others))

    def _paths(self) -> list[Path]:
        with suppress(OSError):
            return sorted(self.own_folder.glob(f"*{own.SUFFIX}"))
        return []

    def _published(self) -> set[str]:
        return {edition.id for edition in load(self.resources / LIMITS).editions}

    def _taken(self) -> set[str]:
        files, _problems = self.own_limits()
        return self._published() | {file.edition.id for file in files}

    def _free_path(self, name: str) -> Path:
        path, number = self.own_folder / name, 2
        while path.exists():
            path = self.own_folder / f"{name.removesuffix(own.SUFFIX)}_{number}{own.SUFFIX}"
            number += 1
        return path

    def _write(self, path: Path, edition: Edition, *, make_folder: bool = True) -> None:
        from deskapp.archive.problems import JobFileProblem
        from deskapp.archive.safe_write import write_problem, write_whole

        try:
            if make_folder:
                path.parent.mkdir(parents=True, exist_ok=True)
            write_whole(path, own.as_toml(edition).encode("utf-8", "replace"))
        except JobFileProblem as problem:
            raise OwnLimitProblem(problem.code, problem.text) from problem
        except OSError as error:
            problem = write_problem(path, error)
            raise OwnLimitProblem(problem.code, problem.text) from error
