"""What the window needs beside the open job: the shelf, the preferences, the use cases."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import replace
from typing import TYPE_CHECKING

from deskapp.i18n import _

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.domain.branding import Branding
    from deskapp.domain.finding import Finding
    from deskapp.domain.job import Job
    from deskapp.domain.sampling import SamplingRule
    from deskapp.session.batch_papers import Batch
    from deskapp.session.branding import BrandingFile
    from deskapp.session.editor import Editor
    from deskapp.session.first_look import RecentFile
    from deskapp.session.job_index import JobIndex
    from deskapp.session.limits_desk import LimitsDesk
    from deskapp.session.opening import Opened, OpenOrder
    from deskapp.session.own_templates import OwnTemplate
    from deskapp.session.recovery import RecoverOrder, RecoveryOffer
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.report_wish import ReportsWish
    from deskapp.session.reports import ReportOrder
    from deskapp.session.resources import Shelf
    from deskapp.session.samples import SampleJob
    from deskapp.session.saving import Saved, SaveOrder
    from deskapp.session.settings import Preferences
    from deskapp.session.template_draft import TemplateDraft
    from deskapp.ui.cabinet import Cabinet


class Desk:
    """Passes on what the person asks for to the use cases, with shelf and preferences.

    Methods that read or write job files raise `JobFileProblem`, which says why in plain words.
    """

    def __init__(
        self,
        shelf: Shelf,
        preferences: Preferences,
        folder: Path,
        remarks: tuple[Finding, ...] = (),
        data_folder: Path | None = None,
        offers: tuple[RecoveryOffer, ...] = (),
    ) -> None:
        """Use what `shelf` holds; keep preferences and branding in `folder`.

        `remarks` is what there is to say about files that could not be read at the start,
        `data_folder` (by default the same folder) takes the program's own data, and `offers` are
        the jobs that were not saved when it last ended.
        """
        self.remarks = remarks
        self.data_folder = data_folder or folder
        self.offers = offers
        self.shelf = shelf
        self.preferences = preferences
        self.folder = folder
        self.usual_findings: tuple[Finding, ...] = ()
        self._cabinet: Cabinet | None = None

    @property
    def cabinet(self) -> Cabinet:
        """The company's own gauges and fans."""
        from deskapp.ui.cabinet import Cabinet

        if self._cabinet is None:
            self._cabinet = Cabinet(self.folder)
        return self._cabinet

    def new_job(self) -> Editor:
        """Return a new job."""
        from deskapp.session import usual
        from deskapp.session.opening import new_job

        held, self.usual_findings = usual.load(self.folder)
        return new_job(self.shelf, self.preferences, held)

    def usual_entries(self) -> Editor:
        """Return what new jobs start with, to be edited."""
        from deskapp.session import usual

        held, self.usual_findings = usual.load(self.folder)
        return usual.editor_of(held, self.shelf, self.preferences)

    def keep_usual(self, job: Job) -> Finding | None:
        """Let new jobs start with the usual entries of `job`; return why not if that fails."""
        from deskapp.session import usual

        return usual.keep(self.folder, job)

    def order_open(
        self, path: Path, before: Editor | None = None, *, take_over: bool = False
    ) -> OpenOrder:
        """Take down which job file is to be opened in place of `before`, in another thread."""
        from deskapp.session.opening import OpenOrder

        mine = before.hold if before else None
        return OpenOrder(path, self.shelf, self.preferences, mine, take_over)

    def take_opened(self, opened: Opened, before: Editor | None) -> Editor:
        """Let a job that was read take the place of `before`; its file is the one used last.

        Raises InUse if somebody else has it by now.
        """
        from deskapp.session.opening import take_opened

        editor = take_opened(opened, before)
        if opened.path is not None:
            self.prefer(self.preferences.with_recent(opened.path))
        return editor

    def open_to_read(self, path: Path) -> Editor:
        """Open a copy of a job that has no file of its own."""
        from deskapp.session.opening import open_to_read

        return open_to_read(path, self.shelf, self.preferences)

    def open_found(self, job: Job) -> Editor:
        """Open a job that was found in a report; it has no file of its own."""
        from deskapp.session.editor import Editor

        return Editor(job, self.shelf, self.preferences)

    def place_for_jobs(self) -> Path:
        """Return the folder for jobs, made if that can be done."""
        folder = self.preferences.jobs_path
        with suppress(OSError):
            folder.mkdir(parents=True, exist_ok=True)
        return folder

    def job_index(self) -> JobIndex:
        """Return what lists the jobs; it is used in another thread."""
        from deskapp.session.job_index import CACHE_NAME, JobIndex

        return JobIndex(self.data_folder / CACHE_NAME, self.preferences, self.shelf)

    @property
    def recovery_folder(self) -> Path:
        """Where recovery copies are kept."""
        return self.data_folder / "recovery"

    def offers_of(self, path: Path | None) -> tuple[RecoveryOffer, ...]:
        """Return the changes that were not saved of the job in the file `path`; of all for None."""
        return tuple(one for one in self.offers if path is None or one.path == path)

    def order_recovery(self, offer: RecoveryOffer, before: Editor | None = None) -> RecoverOrder:
        """Take down which recovery copy is to be opened in place of `before`."""
        from deskapp.session.recovery import RecoverOrder

        mine = before.hold if before else None
        return RecoverOrder(offer, self.shelf, self.preferences, mine)

    def keep_both(self, offer: RecoveryOffer) -> Opened:
        """Write a recovery copy into a file beside the saved one, and open that; in any thread."""
        from deskapp.session import recovery
        from deskapp.session.opening import Opened

        editor = recovery.keep_both(offer, self.shelf, self.preferences)
        return Opened(editor, is_new=True, path=editor.path)

    def samples(self) -> tuple[SampleJob, ...]:
        """Return the sample jobs, the default one first."""
        from deskapp.session.samples import list_samples

        return list_samples(self.shelf)

    def open_sample(self, sample_id: str = "") -> Editor:
        """Open a copy of a sample job."""
        from deskapp.session.samples import open_sample

        return open_sample(sample_id, self.shelf, self.preferences)

    def save(self, editor: Editor, path: Path | None = None, *, over: bool = False) -> Path:
        """Write the job into its file, or into the file at `path`; return the path used.

        With `over` also over what something else changed in that file.
        """
        from deskapp.session.saving import order_save

        return self.take_saved(editor, order_save(editor, path, over=over).run())

    def order_save(
        self, editor: Editor, path: Path | None = None, *, over: bool = False
    ) -> SaveOrder:
        """Take down what saving has to write, to be run in another thread."""
        from deskapp.session.saving import order_save

        return order_save(editor, path, over=over)

    def take_saved(self, editor: Editor, saved: Saved) -> Path:
        """Let a job know that it was written, and remember it as the one used last."""
        from deskapp.session.saving import take_saved

        used = take_saved(editor, saved)
        self.prefer(self.preferences.with_recent(used))
        return used

    def prefer(self, preferences: Preferences) -> Finding | None:
        """Use other preferences from now on and keep them; return why not if that fails."""
        from deskapp.session import settings

        self.preferences = preferences
        return settings.save(self.folder, preferences)

    @property
    def opening_words(self) -> str:
        """What there is to say at the start: files that could not be read, what is due."""
        from datetime import date

        told = [finding.text for finding in self.remarks]
        due = self.cabinet.due_words(self.preferences, date.today())
        if due:
            told.append(_("Calibration: {instruments}.").format(instruments=due))
        return " ".join([*told, *(finding.text for finding in self.cabinet.findings)])

    def tell_anew(self) -> None:
        """Have findings about the files of the program told in the language in use now."""
        before = self.shelf.problems
        if before:
            from deskapp.domain.data_files import resources_folder, templates_folder
            from deskapp.session.resources import load_shelf

            now = load_shelf(resources_folder(), templates_folder(), self.folder / "limits")
            others = (remark for remark in self.remarks if remark not in before)
            self.remarks = (*others, *now.problems)
            self.shelf = replace(self.shelf, problems=now.problems)

    def recent(self) -> tuple[RecentFile, ...]:
        """Return the jobs used last, newest first."""
        from deskapp.session.first_look import recent_files

        return recent_files(self.preferences.recent)

    @property
    def limits(self) -> LimitsDesk:
        """The limits of one's own, kept beside preferences and branding."""
        from deskapp.domain.data_files import resources_folder
        from deskapp.session.limits_desk import LimitsDesk

        return LimitsDesk(resources_folder(), self.folder / "limits")

    def sampling_rules(self) -> tuple[tuple[SamplingRule, ...], tuple[Finding, ...]]:
        """Return the rules for checking some units instead of all, and what is wrong with files."""
        from deskapp.domain.data_files import resources_folder
        from deskapp.session import sampling_desk

        return sampling_desk.rules(resources_folder())

    def read_limits_anew(self) -> None:
        """Have jobs opened from now on know the limits as they stand in their files."""
        self.shelf = self.limits.refreshed(self.shelf)

    @property
    def branding_path(self) -> Path:
        """The branding file."""
        from deskapp.session import branding

        return self.folder / branding.FILE_NAME

    def branding(self) -> BrandingFile:
        """Read how the company's papers look."""
        from deskapp.session import branding

        return branding.load(self.branding_path)

    def save_branding(self, look: Branding, new_logo: Path | None) -> tuple[Finding, ...]:
        """Keep how the company's papers look; return what keeps it from being kept."""
        from deskapp.session import branding

        return branding.save(self.branding_path, look, new_logo)

    def order_reports(self, editor: Editor) -> ReportOrder:
        """Take down what the reports of the job are made from, as it stands."""
        from datetime import date

        from deskapp.session import own_templates, reports

        own = own_templates.chosen(self.folder, self.preferences.own_templates)
        return reports.order_reports(editor, self.branding(), date.today(), own=own)

    def batch(self, wish: ReportsWish) -> Batch:
        """Return what the reports of several jobs are made by; in any thread.

        Raises SealProblem for a wrong passphrase.
        """
        from datetime import UTC, date, datetime

        from deskapp.i18n import language
        from deskapp.session import own_templates
        from deskapp.session.batch_papers import Batch, Handing
        from deskapp.session.papers_there import IfThere
        from deskapp.session.settings import Language
        from deskapp.session.signing_key import open_kept

        spoken = {"report_language": Language(wish.language)}
        preferences = self.preferences.model_copy(update=spoken)
        handing = None
        if wish.issued:
            key = None if wish.passphrase is None else open_kept(self.folder, wish.passphrase)
            handing = Handing(datetime.now(UTC), wish.by, wish.reason, key)
        return Batch(
            shelf=self.shelf,
            preferences=preferences,
            look=self.branding(),
            issued_on=date.today(),
            kinds=wish.kinds,
            own=own_templates.chosen(self.folder, preferences.own_templates),
            spoken=language(),
            naming=wish.naming,
            handing=handing,
            if_there=IfThere.REPLACE if wish.over else IfThere.NUMBER,
        )

    def key_owner(self) -> str:
        """Return whom the signing key names; empty if there is none to sign with."""
        from datetime import UTC, datetime

        from deskapp.session import signing_key

        try:
            key = signing_key.kept_to_sign(self.folder, datetime.now(UTC))
        except signing_key.SealProblem:
            return ""
        return "" if key is None else key.owner

    def templates(self, kind: ReportKind) -> tuple[OwnTemplate, ...]:
        """Return the company's own templates for a report."""
        from deskapp.session import own_templates

        found = own_templates.own_templates(self.folder)
        return tuple(one for one in found if one.kind is kind)

    def about_templates(self) -> str:
        """Return what is to be said of the company's own templates; empty if nothing is."""
        from deskapp.session import own_templates

        return " ".join(own_templates.template_remarks(self.folder, self.preferences.own_templates))

    def template_draft(self, kind: ReportKind) -> TemplateDraft:
        """Return a draft of the template in use for a report, of ours if it cannot be used."""
        from deskapp.session.template_desk import draft_in_use

        return draft_in_use(self.folder, self.preferences, self.shelf, kind)

    def keep_template(self, draft: TemplateDraft) -> Finding | None:
        """Keep a template and use it from now on; return why not if that does not work."""
        from deskapp.domain.finding import Finding
        from deskapp.session.template_desk import keep

        kept = keep(self.folder, self.preferences, draft)
        if isinstance(kept, Finding):
            return kept
        return self.prefer(kept)
