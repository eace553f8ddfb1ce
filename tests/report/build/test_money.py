"""A sum of money is written with the sign of its currency where the language puts it.

English and Spanish of the Americas put it before the number, French of Canada behind it with a
space (Unicode locale data, CLDR 48: patterns ``¤#,##0`` and ``#,##0 ¤``).
"""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pytest
from pypdf import PdfReader

from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.branding import BrandingFile
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.resources import load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences


@pytest.mark.parametrize(
    ("spoken", "written"), [("en", "$60 to $160"), ("es", "$60 a $160"), ("fr_CA", "60 $ à 160 $")]
)
def test_that_money_is_written_as_the_language_does(spoken: str, written: str) -> None:

    shelf = load_shelf(resources_folder(), templates_folder())
    editor = open_sample("maple", shelf, Preferences())
    order = order_reports(editor, BrandingFile(Branding()), date(2026, 4, 9), spoken)
    data = drawn_report(order, ReportKind.HOMEOWNER).data
    text = " ".join(page.extract_text() for page in PdfReader(BytesIO(data)).pages)
    assert written in " ".join(text.split())
