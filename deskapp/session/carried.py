"""The files a report carries inside it: enough to work out its numbers again, years later."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.session.own_version import own_version

if TYPE_CHECKING:
    from collections.abc import Mapping

    from deskapp.domain.sampling import SamplingPlan
    from deskapp.report.archival.attachment import Attachment
    from deskapp.report.build.report_input import ReportInput

JOB_FILE = "job.json"
PRINT_FILE = "report.json"
PLAN_FILE = "plan.ductsample"

_JSON = "application/json"
_FORMAT, _VERSION = "ductfolio-report", 1


def carried_with_report(
    source: ReportInput,
    job_text: bytes,
    kind: str,
    language: str,
    *,
    own_words: bool,
    sides: Mapping[str, tuple[int, int]] | None = None,
) -> tuple[Attachment, ...]:
    """Return the job, and all that is needed to print its words again.

    `job_text` is the ``job.json`` of a job file, which opens by itself; the pictures are those on
    the pages, of which the proportions are noted: `sides`, or else those of their files.
    `own_words` says that the company's own template was used, which is not carried.
    """
    from deskapp.report.archival.attachment import Attachment, Relationship

    if sides is None:
        sides = {key: _sides(data) for key, data in source.photos.items()}
    printed = {
        "format": _FORMAT,
        "version": _VERSION,
        "kind": kind,
        "language": language,
        "issued_on": source.issued_on.isoformat(),
        "units": source.formatter.system.value,
        "numbers": source.formatter.style.value,
        "paper": source.paper.value,
        "program": own_version(),
        "own_words": own_words,
        "is_issued": source.issue is not None,
        "photo_strip": source.photo_slate,
        "company": source.branding.model_dump(mode="json", exclude_defaults=True),
        "photos": dict(sorted(sides.items())),
    }
    return (
        Attachment(JOB_FILE, job_text, _("The job this report was made from."), _JSON),
        Attachment(
            PRINT_FILE,
            f"{json.dumps(printed, indent=1)}\n".encode(),
            _("How the job was printed: kind, language, day, units, paper, company."),
            _JSON,
            Relationship.SUPPLEMENT,
        ),
    )


def _sides(data: bytes) -> tuple[int, int]:
    from deskapp.report.pdf.picture_file import open_picture

    reader = open_picture(data)
    return (0, 0) if reader is None else reader.getSize()


def carried_with_log(plan: SamplingPlan) -> tuple[Attachment, ...]:
    """Return the sampling plan as the file that opens again in the program."""
    from deskapp.report.archival.attachment import Attachment
    from deskapp.session.sampling_desk import plan_text

    what = _("The sampling plan this log was made from.")
    return (Attachment(PLAN_FILE, plan_text(plan), what, _JSON),)
