"""What the reports of a job are made from, taken down so that any thread can draw them."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING

from deskapp.i18n import language
from deskapp.units.numbers import usual_style

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.domain.job import Job
    from deskapp.domain.result import Assessment
    from deskapp.report.build.report_input import ReportInput
    from deskapp.session.branding import BrandingFile
    from deskapp.session.editor import Editor
    from deskapp.session.resources import Shelf
    from deskapp.units.display import Formatter


@dataclass(slots=True)
class _Once:
    """What is worked out once for all reports of a job, when the first of them asks for it."""

    spoken: dict[str, ReportInput] = field(default_factory=dict[str, "ReportInput"])
    job_text: tuple[Job, bytes] | None = None


@dataclass(frozen=True, slots=True)
class ReportOrder:
    """All that the reports of a job are made from, as it stood when they were ordered.

    It holds frozen records only, so it may be handed to another thread while the job is edited on.
    `language` is that of the reports where it differs from the program's, otherwise empty. `anew`
    says that the results must be put in words again, since the window writes numbers in another
    way than papers in its language. `own`
    are the company's templates by kind, which go before those of the program.
    """

    source: ReportInput
    templates: Mapping[str, Path]
    findings: tuple[Finding, ...]
    language: str = ""
    anew: bool = False
    own: Mapping[str, Path] | None = None
    _once: _Once = field(default_factory=_Once, compare=False, repr=False)

    def in_its_language(self) -> ReportInput:
        """Return the source, with the results put in the words of the language spoken here."""
        if not self.language and not self.anew:
            return self.source
        known = self._once.spoken.get(language())
        if known is None or known.job is not self.source.job:
            from deskapp.assess.evaluate import evaluate

            known = replace(self.source, assessment=evaluate(self.source.job))
            self._once.spoken[language()] = known
        return replace(self.source, assessment=known.assessment)

    def job_text(self) -> bytes:
        """Return the job as the reports carry it inside them."""
        job, known = self.source.job, self._once.job_text
        if known is None or known[0] is not job:
            from deskapp.archive.envelope import text_of

            known = self._once.job_text = (job, text_of(job))
        return known[1]


def order_reports(
    editor: Editor,
    branding: BrandingFile,
    issued_on: date,
    spoken: str = "",
    own: Mapping[str, Path] | None = None,
) -> ReportOrder:
    """Take down what the reports of the open job are made from.

    Args:
        editor: the open job; its preferences choose units and paper. Numbers are written the way
            usual in the language of the report, as they are inside its sentences: two ways on
            one page would make 1,560 of 1.56.
        branding: the company's look; a logo that cannot be opened is left out.
        issued_on: the day printed on the reports.
        spoken: the language of the reports; empty for the one preferred.
        own: the company's own templates by kind of report.
    """
    preferences = editor.preferences
    asked = spoken or preferences.report_language
    other = "" if asked == language() else asked
    formatter = replace(preferences.formatter, style=usual_style(other or language()))
    source = report_source(editor.job, editor.assessment, editor.shelf, formatter, issued_on)
    source = replace(
        source,
        branding=branding.branding,
        photo_slate=preferences.photo_slate,
        photos=editor.photos,
        logo=branding.logo_bytes,
        paper=preferences.paper,
    )
    anew = preferences.number_style is not formatter.style
    return ReportOrder(source, editor.shelf.templates, editor.findings, other, anew, own)


def report_source(
    job: Job, assessment: Assessment, shelf: Shelf, formatter: Formatter, issued_on: date
) -> ReportInput:
    """Return what a report of `job` is made from, without the company's look and pictures."""
    from deskapp.domain.branding import Branding
    from deskapp.report.build.report_input import ReportInput

    return ReportInput(
        job=job,
        assessment=assessment,
        branding=Branding(),
        formatter=formatter,
        issued_on=issued_on,
        leak_locations=shelf.leak_locations,
        materials=shelf.materials,
        cautions=shelf.cautions,
        stops=shelf.stops,
        pan_bands=shelf.pan_bands,
        guidance=shelf.guidance,
        photo_subjects=shelf.photo_subjects,
    )
