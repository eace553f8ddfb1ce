"""The reports in a made-up language that marks every word of ours.

What is readable in them without a mark must be what the job holds, or a name or a unit.
"""

from __future__ import annotations

import re
from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from deskapp.catalog.files import PSEUDO
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.job import Job
from deskapp.i18n import ENGLISH, language
from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

WORD = re.compile(r"[A-Za-z]{3,}")
UNITS_AND_NAMES = {"cfm", "kBtu", "mph", "ton", "ppm", "ASTM", "ISO", "SMACNA", "Table"}


def words_of(job: Job) -> set[str]:
    """Words that were typed into the job, and the names of the codes it is judged by."""
    limits = job.compliance.limits
    compliance = job.compliance.model_copy(update={"limits": ()})
    typed = job.model_copy(update={"compliance": compliance}).model_dump_json()
    names = [f"{one.edition.body} {one.edition.name}" for one in limits]
    clauses = [f"{row.clause}" for one in limits for row in one.edition.rows]
    return set(WORD.findall(" ".join((typed, *names, *clauses)))) | UNITS_AND_NAMES


def outside_marks(text: str) -> str:
    depth, outside = 0, ""
    for sign in text:
        depth = max(0, depth + (sign == "⟦") - (sign == "⟧"))
        outside += sign if depth == 0 else " "
    return outside


@pytest.fixture(scope="module")
def shelf():
    return load_shelf(resources_folder(), templates_folder())


@pytest.mark.parametrize("sample", ["larkspur", "maple"])
@pytest.mark.parametrize("kind", list(ReportKind))
def test_that_a_report_holds_no_word_the_translators_never_saw(shelf, sample, kind):
    editor = open_sample(sample, shelf, Preferences())
    order = order_reports(editor, BrandingFile(), date(2026, 3, 11), PSEUDO)
    data = drawn_report(order, kind).data
    text = "\n".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)
    assert text.count("⟦") > 30
    assert set(WORD.findall(outside_marks(text))) - words_of(editor.job) == set()
    assert language() == ENGLISH
