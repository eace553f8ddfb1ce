"""Offering what was not saved when the program last ended, and bringing it back if wanted."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.archive.problems import JobFileProblem
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.session.differences import difference_words
from deskapp.session.editor import Editor
from deskapp.session.long_work import LongWork
from deskapp.session.recovery_words import age_words, counts, counts_words

if TYPE_CHECKING:
    from deskapp.archive.file_hold import Hold
    from deskapp.archive.recovery import RecoveryCopy as RecoveryCopy
    from deskapp.session.opening import Opened
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


@dataclass(frozen=True, slots=True)
class RecoveryOffer:
    """A copy that can be brought back: of which job, written when, and what is new in it.

    `path` is the job's own file, None for one that never had any. `is_saved_there` tells whether
    that file can be opened, `saved_on` when it was written; `remark` says what else to know about
    it. `counts` says where the copy holds more rows or fewer, `may_hide` whether the file may hold
    something that the copy does not.
    """

    copy: RecoveryCopy
    name: str
    path: Path | None
    written: datetime
    differs: str
    is_saved_there: bool
    remark: str = ""
    saved_on: datetime | None = None
    counts: str = ""
    may_hide: bool = False

    @property
    def age(self) -> str:
        """Whether the copy is newer than the saved file, in words; empty where there is none."""
        return age_words(self.written, self.saved_on) if self.saved_on else ""


def find_offers(root: Path) -> tuple[tuple[RecoveryOffer, ...], tuple[Finding, ...]]:
    """Look for copies left below `root`; nothing is restored.

    A copy that could not be brought back twice is set aside, so that it cannot keep the program
    from starting; that earns a finding.
    """
    from deskapp.archive.recovery import MOST_TRIES, left_behind

    offers: list[RecoveryOffer] = []
    findings: list[Finding] = []
    for copy in left_behind(root):
        about = copy.about
        try:
            if about.tries >= MOST_TRIES:
                raise JobFileProblem("tried", _("Bringing it back did not succeed twice."))
            copy.note_tries(about.tries + 1)
            offer = _offer(copy)
            copy.note_tries(about.tries)
        except JobFileProblem as problem:
            findings.append(_not_offered(copy, problem, about.tries + 1 >= MOST_TRIES))
        else:
            if offer is not None:
                offers.append(offer)
    return tuple(offers), tuple(findings)


def recover(
    offer: RecoveryOffer, shelf: Shelf, preferences: Preferences, before: Editor | None = None
) -> Editor:
    """Open the job as it was when the copy was written, and wait for it; see `RecoverOrder`."""
    from deskapp.session.opening import take_opened

    mine = before.hold if before else None
    order = RecoverOrder(offer, shelf, preferences, mine)
    return take_opened(order.run(LongWork()), before)


@dataclass(frozen=True, slots=True)
class RecoverOrder:
    """A job to be opened as its copy holds it, over what is saved, in place of the job at hand.

    It will count as unsaved, and the one step to undo leads to what is saved. `mine` is what the
    job at hand is held by.
    """

    offer: RecoveryOffer
    shelf: Shelf
    preferences: Preferences
    mine: Hold | None = None

    def run(self, work: LongWork) -> Opened:
        """Read both, in any thread.

        Raises JobFileProblem, InUse if the job's file is open elsewhere, and GivenUp.
        """
        from deskapp.session.opening import Opened, OpenOrder, new_job

        offer, shelf, preferences = self.offer, self.shelf, self.preferences
        found = offer.copy.read()
        if offer.path is not None and offer.is_saved_there:
            order = OpenOrder(offer.path, shelf, preferences, self.mine)
            opened = order.run(work)
        else:
            opened = Opened(new_job(shelf, preferences))
        saved = opened.editor
        photos = {**saved.photos, **found.photos}
        try:
            offer.copy.note_tries(offer.copy.about.tries + 1)
        except BaseException:
            opened.discard()
            raise
        editor = Editor(saved.job, shelf, preferences, photos, saved.path, found.notices)
        editor.stamp, editor.hold = saved.stamp, saved.hold
        editor.take(found.job, lambda: _("recovered changes"))
        return Opened(editor, opened.is_new)


def keep_both(offer: RecoveryOffer, shelf: Shelf, preferences: Preferences) -> Editor:
    """Write what was recovered into a file of its own beside the saved one, and open that.

    Raises JobFileProblem.
    """
    from deskapp.session.saving import save_as

    if offer.path is None:
        raise JobFileProblem("no-name", _("This job has no file yet. Choose a name for it first."))
    found = offer.copy.read()
    editor = Editor(found.job, shelf, preferences, found.photos, notices=found.notices)
    save_as(editor, _free_name(offer.path, offer.written))
    offer.copy.remove()
    return editor


def _free_name(path: Path, written: datetime) -> Path:
    stem = _("{name} recovered {time}").format(
        name=path.stem, time=written.strftime("%Y-%m-%d %H%M")
    )
    target = path.with_name(stem + path.suffix)
    number = 2
    while target.exists():
        target = path.with_name(f"{stem} {number}{path.suffix}")
        number += 1
    return target


def _offer(copy: RecoveryCopy) -> RecoveryOffer | None:
    """Read a copy, and the saved file beside it; None if there is nothing in it that is not saved.

    Raises JobFileProblem.
    """
    from deskapp.archive import job_file

    about, job = copy.about, copy.read().job
    path = Path(about.path) if about.path else None
    name = about.name or _("A new job without a name")
    if path is None:
        differs = _("It was never saved in a file.")
        return RecoveryOffer(copy, name, None, about.written, differs, is_saved_there=False)
    try:
        saved = job_file.read(path).job
    except JobFileProblem as problem:
        return RecoveryOffer(copy, name, path, about.written, problem.text, is_saved_there=False)
    if saved == job:
        copy.remove()
        return None
    remark = ""
    if about.digest and job_file.digest_of(path) != about.digest:
        remark = _("The saved file was changed after this copy was begun.")
    saved_on = _written_on(path)
    is_older = saved_on is not None and saved_on > about.written
    has_less = any(n < other for n, other in zip(counts(job), counts(saved), strict=True))
    return RecoveryOffer(
        copy,
        name,
        path,
        about.written,
        difference_words(saved, job),
        is_saved_there=True,
        remark=remark,
        saved_on=saved_on,
        counts=counts_words(job, saved),
        may_hide=bool(remark) or is_older or has_less,
    )


def _written_on(path: Path) -> datetime | None:
    try:
        return datetime.fromtimestamp(path.stat().st_mtime).replace(microsecond=0)
    except OSError:
        return None


def _not_offered(copy: RecoveryCopy, problem: JobFileProblem, is_last: bool) -> Finding:
    name = copy.about.name or _("a job without a name")
    if is_last:
        copy.set_aside()
        mend = _("The copy was set aside and is kept for 30 days in {folder}.")
    else:
        copy.let_go()
        mend = _("It is tried once more at the next start; it lies in {folder}.")
    return Finding(
        level=Level.NOTE,
        code="not-recovered",
        what=_("A recovery copy of {name} could not be brought back. {why}").format(
            name=name, why=problem.text
        ),
        mend=mend.format(folder=copy.folder.parent),
    )
