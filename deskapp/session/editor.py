"""The one open job: takes typed text for a named field, keeps history, asks for the result."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from deskapp.assess.memo import Memo
from deskapp.domain import leaving, paths, stops
from deskapp.domain.field_spec import FieldSpec
from deskapp.domain.fields import label_of
from deskapp.domain.limit import ChosenLimit
from deskapp.i18n import _, in_sentence, said
from deskapp.session import rows
from deskapp.session.field_entries import FieldEntries
from deskapp.session.history import History
from deskapp.session.messages import (
    missing_pictures,
    picture_notices,
    safety_findings,
    together,
    unread_findings,
)
from deskapp.session.options import Option, options_of
from deskapp.session.turned import turned
from deskapp.session.typed import read, spec_at
from deskapp.units.display import words_key, writing

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Mapping
    from pathlib import Path

    from deskapp.archive.file_hold import Hold
    from deskapp.domain.finding import Finding
    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job
    from deskapp.domain.result import Assessment
    from deskapp.i18n import Said
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences
    from deskapp.session.turned import Turned


class Editor(FieldEntries):
    """One open job.

    Every change swaps in a new frozen job and can be undone. `assessment` and `findings` always
    belong to the job as it stands; they are worked out when first asked for after a change.
    `stamp` is the digest of its file as last read or written, `hold` what tells others that the
    file is in use. Methods that take a path raise KeyError for a place the job does not have.
    """

    def __init__(
        self,
        job: Job,
        shelf: Shelf,
        preferences: Preferences,
        photos: Mapping[str, bytes] | None = None,
        path: Path | None = None,
        notices: Iterable[Finding] = (),
    ) -> None:
        """Open a job.

        Args:
            job: the job.
            shelf: what it is judged and described by.
            preferences: units and styles to read and show texts in.
            photos: its pictures by digest.
            path: the file it came from, if any.
            notices: what was remarked about its pictures when it was read.
        """
        super().__init__(preferences)
        self.shelf = shelf
        self.path = path
        self.stamp = ""
        self.hold: Hold | None = None
        self._notices = picture_notices(job, notices)
        self._photos = dict(photos or {})
        self._history = History(job)
        self._memo = Memo()
        self._assessed: tuple[Job, str, Assessment] | None = None
        self._found: tuple[Assessment, Preferences, tuple[Finding, ...]] | None = None
        self._shared: Callable[[Job, Path | None], tuple[Finding, ...]] | None = None

    # What stands in the job

    @property
    def job(self) -> Job:
        """The job as it stands."""
        return self._history.state

    @property
    def photos(self) -> dict[str, bytes]:
        """The pictures the job refers to, by digest."""
        wanted = self.job.photo_digests
        return {digest: data for digest, data in self._photos.items() if digest in wanted}

    @property
    def assessment(self) -> Assessment:
        """The result of the job as it stands."""
        with writing(self._preferences.number_style):
            kept, words = self._assessed, words_key()
            if kept is None or kept[0] is not self.job or kept[1] != words:
                from deskapp.assess.evaluate import evaluate

                kept = self._assessed = (self.job, words, evaluate(self.job, self._memo))
            return kept[2]

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the job, stops first."""
        job, preferences = self.job, self._preferences
        kept, assessment = self._found, self.assessment
        if kept is None or kept[0] is not assessment or kept[1] is not preferences:
            with writing(preferences.number_style):
                unread = unread_findings(job, preferences)
                pictures = missing_pictures(job, self._photos, self._notices)
                safety = safety_findings(job, self.shelf)
                others = (*assessment.findings, *safety, *pictures, *self._shared_photos())
            kept = self._found = (assessment, preferences, together(unread, others))
        return kept[2]

    def spec_at(self, path: str) -> FieldSpec:
        """Return the field of a job at `path`."""
        return spec_at(path)

    def value_at(self, path: str) -> Any:
        """Return what the job holds at `path`."""
        return paths.get(self.job, path)

    def row_count(self, list_path: str) -> int:
        """Return how many rows the list at `list_path` has."""
        return len(paths.rows_at(self.job, list_path))

    def options_at(self, path: str) -> tuple[Option, ...]:
        """Return the answers a choice or reference field offers."""
        formatter = self._preferences.formatter
        return options_of(spec_at(path), path, self.job, self.shelf, formatter)

    # Changes

    def enter_block(
        self, list_path: str, first: int, block: Iterable[Mapping[str, str]], words: Said = ""
    ) -> None:
        """Take rows of texts by field name into a list, from its row `first` on.

        Rows are added where the list ends; a field that a row of the block does not name is left
        as it is. The whole block is one step to undo, named by `words`.
        """
        job = self.job
        paths.rows_at(job, list_path)
        for position, texts in enumerate(block, first):
            if position >= len(paths.rows_at(job, list_path)):
                job = paths.insert(job, list_path, position, rows.new_row(job, list_path))
            for field, text in texts.items():
                cell = f"{list_path}.{position}.{field}"
                job = paths.put(job, cell, read(spec_at(cell), text, self._preferences))
        self.take(job, words or (lambda: _entries_from(f"{list_path}.{first}")))

    def add_row(self, list_path: str, merge: str = "") -> str:
        """Add a row at the end of a list and return its path.

        With `merge`, the path of a field, it is one step with what is entered there next.
        """
        position = self.row_count(list_path)
        row = rows.new_row(self.job, list_path)
        row_path = f"{list_path}.{position}"
        self._record(
            paths.insert(self.job, list_path, position, row),
            lambda: _("add {row}").format(row=in_sentence(label_of(row_path))),
            merge,
        )
        return row_path

    def remove_row(self, row_path: str) -> None:
        """Take out a row; fields that held its key are emptied in the same step."""
        self._record(
            rows.without_row(self.job, row_path),
            lambda: _("remove {row}").format(row=in_sentence(label_of(row_path))),
        )

    def choose_limit(self, edition_id: str, row_id: str = "") -> str:
        """Judge the job by an edition of the shelf, and return the key of the choice.

        The whole edition is copied into the job. With `row_id` that row is fixed; otherwise the
        facts of each system choose it. An edition chosen before is replaced.
        Raises KeyError for an edition or a row the shelf does not have.
        """
        edition = self.shelf.edition(edition_id)
        if edition is None or (row_id and row_id not in {row.id for row in edition.rows}):
            raise KeyError(f"there is no limit {edition_id} {row_id}".strip())
        chosen = self.job.compliance.limits
        before = next((limit for limit in chosen if limit.edition.id == edition_id), None)
        key = before.key if before else rows.first_free("k", (limit.key for limit in chosen))
        limit = ChosenLimit(key=key, edition=edition, row=row_id)
        if before is None:
            limits = (*chosen, limit)
        else:
            limits = tuple(limit if old is before else old for old in chosen)
        self._record(
            paths.put(self.job, "compliance.limits", limits),
            lambda: _("judge by {edition}").format(edition=edition.name),
        )
        return key

    def drop_limit(self, key: str) -> None:
        """No longer judge the job by the limit with this key. Raises KeyError if there is none."""
        chosen = self.job.compliance.limits
        gone = next((limit for limit in chosen if limit.key == key), None)
        if gone is None:
            raise KeyError(f"no limit has the key {key}")
        limits = tuple(limit for limit in chosen if limit is not gone)
        self._record(
            paths.put(self.job, "compliance.limits", limits),
            lambda: _("no longer judge by {edition}").format(edition=gone.edition.name),
        )

    def keep_files(self, files: Mapping[str, bytes]) -> None:
        """Hold the files of pictures, by digest, for records that are about to refer to them."""
        self._photos.update(files)

    def take(self, job: Job, words: Said, merge: str = "") -> None:
        """Take `job`, made elsewhere out of this one, as one step to undo; `words` name it.

        Words of ours are given as what says them, since the language may change meanwhile.

        Consecutive changes with the same `merge` become one step.
        """
        if job != self.job:
            self._record(job, words, merge)

    def take_issue(self, issue: Issue) -> None:
        """Record a report that was handed out. No undo takes that back."""

        def with_it(job: Job) -> Job:
            return job.model_copy(update={"issued": (*job.issued, issue)})

        self._history.change_all(with_it)
        self._tell()

    def compare_photos(self, shared: Callable[[Job, Path | None], tuple[Finding, ...]]) -> None:
        """Hold the photos against those of other jobs from now on.

        `shared` tells of the photos of a job and its file that other jobs have.
        """
        before, self._shared = self._shared_photos(), shared
        if self._shared_photos() != before:
            self._found = None
            self._tell()

    # History

    @property
    def is_dirty(self) -> bool:
        """Whether the job differs from the one last saved or opened."""
        return not self._history.is_saved

    @property
    def undo_label(self) -> str:
        """Words for the undo command, such as "Undo floor area served (system 1)"; or empty."""
        return self._history.undo_label

    @property
    def redo_label(self) -> str:
        """Words for the redo command; empty if there is nothing to bring back."""
        return self._history.redo_label

    def undo(self) -> Turned | None:
        """Take back the last step, and return what that changed; None if there is none."""
        before, words = self.job, self._history.undo_words
        return self._turned(before, words, is_back=True) if self._history.undo() else None

    def redo(self) -> Turned | None:
        """Bring back the step undone last, and return what that changed; None if there is none."""
        before, words = self.job, self._history.redo_words
        return self._turned(before, words, is_back=False) if self._history.redo() else None

    def _turned(self, before: Job, words: str, *, is_back: bool) -> Turned:
        self._tell()
        return turned(before, self.job, words, self.shelf, is_back=is_back)

    def end_step(self) -> None:
        """Make the next change a step of its own, so that undo can come back to what is here."""
        self._history.end_step()

    def mark_saved(self, path: Path, stamp: str = "", job: Job | None = None) -> None:
        """Take the job as saved in the file at `path`, whose content has the digest `stamp`.

        `job` is the job as it was written, where it may have changed since.
        """
        self.path = path
        self.stamp = stamp
        self._history.mark_saved(job)
        self._tell()

    def _shared_photos(self) -> tuple[Finding, ...]:
        return () if self._shared is None else self._shared(self.job, self.path)

    def _put(self, path: str, value: object) -> None:
        if value != self.value_at(path):
            job = paths.put(self.job, path, value)
            self._record(job, lambda: _words_for(spec_at(path), path), path)

    def _record(self, job: Job, words: Said, merge: str = "") -> None:
        if job.tests is not self.job.tests:
            job = rows.without_carried(self.job, job)
        kept = leaving.consistent(self.job, stops.without_stale(job, self.shelf.stops))
        self._history.record(kept, lambda: in_sentence(said(words)), merge)
        self._tell()


def _words_for(spec: FieldSpec, path: str) -> str:
    """Return the words for a field; one beside the field table goes before the words of its row."""
    words, label = label_of(path), _(spec.label)
    return words if words.startswith(label) else f"{label}, {in_sentence(words)}"


def _entries_from(row_path: str) -> str:
    return _("entries from {row} on").format(row=in_sentence(label_of(row_path)))
