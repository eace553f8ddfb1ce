"""The log of a sampling plan as a PDF to print, sign and file."""

from __future__ import annotations

from io import BytesIO
from typing import TYPE_CHECKING

from deskapp.session.carried import carried_with_log
from deskapp.session.sampling_desk import SamplingProblem, log, next_step

if TYPE_CHECKING:
    from datetime import date
    from pathlib import Path

    from deskapp.domain.sampling import SamplingPlan
    from deskapp.session.branding import BrandingFile
    from deskapp.session.settings import Preferences

PDF = ".pdf"


def log_pdf(
    plan: SamplingPlan, branding: BrandingFile, preferences: Preferences, issued_on: date
) -> bytes:
    """Return the log as a PDF with the plan inside; equal plan, look and day give equal bytes."""
    from deskapp.report.build.sampling import LogInput, sampling_document
    from deskapp.report.pdf.draw import draw

    document = sampling_document(
        LogInput(
            log=log(plan),
            branding=branding.branding,
            formatter=preferences.formatter,
            issued_on=issued_on,
            next_units=_next_units(plan),
            logo=branding.logo_bytes,
            paper=preferences.paper,
        )
    )
    buffer = BytesIO()
    draw(document, {}, buffer, attachments=carried_with_log(plan))
    return buffer.getvalue()


def save_log_pdf(
    plan: SamplingPlan,
    path: Path,
    branding: BrandingFile,
    preferences: Preferences,
    issued_on: date,
) -> Path:
    """Write the log as a PDF and return its file; a half-written file never stands there.

    The ending is added if missing. Raises SamplingProblem where nothing can be written.
    """
    from deskapp.archive.problems import JobFileProblem
    from deskapp.archive.safe_write import write_whole

    target = path if path.suffix.lower() == PDF else path.with_name(path.name + PDF)
    try:
        write_whole(target, log_pdf(plan, branding, preferences, issued_on))
    except JobFileProblem as problem:
        raise SamplingProblem(problem.code, problem.text) from problem
    return target


def _next_units(plan: SamplingPlan) -> tuple[str, ...]:
    units = (plan.unit_list.unit(key) for key in next_step(plan).units)
    return tuple(unit.name for unit in units if unit is not None)
