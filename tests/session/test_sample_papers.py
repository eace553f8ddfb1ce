"""The sample opens as a copy, passes every check, and makes the papers whose words are kept here.

To write the kept words anew after a wanted change, run once with WRITE_GOLDEN_REPORTS=1 in the
environment and look at the difference before keeping it. Such a run never passes.
"""

from __future__ import annotations

import os
from datetime import date
from io import BytesIO
from pathlib import Path
from textwrap import wrap

import pytest
from pypdf import PdfReader

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.finding import Level
from deskapp.session.branding import BrandingFile
from deskapp.session.editor import Editor
from deskapp.session.reports import ReportKind, drawn_report, offered, order_reports
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

GOLDEN = Path(__file__).parent / "golden"
SWITCH = "WRITE_GOLDEN_REPORTS"
DAY = date(2026, 3, 12)


@pytest.fixture(scope="module")
def sample() -> Editor:
    return open_sample("", load_shelf(resources_folder(), templates_folder()), Preferences())


def test_that_the_sample_passes_every_check(sample: Editor) -> None:
    assert sample.path is None
    assert not sample.is_dirty
    weighty = [one.text for one in sample.findings if one.level is not Level.NOTE]
    assert weighty == []
    assert sample.assessment.systems


@pytest.mark.parametrize("kind", list(ReportKind))
def test_that_the_sample_makes_the_papers_it_made_before(sample: Editor, kind: ReportKind) -> None:
    assert kind in offered(sample.assessment)
    data = drawn_report(order_reports(sample, BrandingFile(), DAY), kind).data
    pages = [page.extract_text() for page in PdfReader(BytesIO(data)).pages]
    lines = [wrap(" ".join(page.split()), 98, break_long_words=False) for page in pages]
    text = "\n--- next page ---\n".join("\n".join(page) for page in lines) + "\n"
    path = GOLDEN / f"sample_{kind}.txt"
    if os.environ.get(SWITCH):
        GOLDEN.mkdir(exist_ok=True)
        path.write_text(text, encoding="utf-8")
        pytest.fail(f"{path.name} was written anew; run again without {SWITCH}")
    assert text == path.read_text(encoding="utf-8")
