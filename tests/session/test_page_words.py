"""Reports whose pages were changed after they were printed; the jobs are the invented samples.

That a page was changed is made with general libraries for PDFs, as anybody could.
"""

from __future__ import annotations

import json
from datetime import date
from io import BytesIO

import pikepdf
import pytest
from reportlab.pdfgen.canvas import Canvas

from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session.branding import BrandingFile
from deskapp.session.carried import PRINT_FILE
from deskapp.session.checking import AnswerLevel, Checked, check_report
from deskapp.session.editor import Editor
from deskapp.session.reports import ReportKind, drawn_report, kinds_possible, order_reports
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

DAY = date(2026, 3, 12)
USUAL = Preferences()
COMPANY = BrandingFile(
    Branding(company="Duct Testers 24", license="L-77", phone="555-0199", address="9 Mill Road")
)
CERTIFICATE = ReportKind.COMPLIANCE


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


def certificate(editor: Editor) -> bytes:
    return drawn_report(order_reports(editor, COMPANY, DAY), CERTIFICATE).data


def checked(report: bytes, shelf: Shelf) -> Checked:
    return check_report(report, shelf, USUAL.formatter)


def bad_words(found: Checked) -> str:
    return "\n".join(one.text for one in found.answers if one.standing is AnswerLevel.BAD)


def saved(pdf: pikepdf.Pdf) -> bytes:
    buffer = BytesIO()
    pdf.save(buffer)
    return buffer.getvalue()


@pytest.mark.parametrize("name", ["larkspur", "maple", "crossover", "clinic"])
@pytest.mark.parametrize("spoken", ["", "fr_CA"])
def test_that_every_line_of_a_report_is_found_again(shelf: Shelf, name: str, spoken: str) -> None:
    editor = open_sample(name, shelf, USUAL)
    order = order_reports(editor, COMPANY, DAY, spoken)
    for kind in kinds_possible(order):
        found = checked(drawn_report(order, kind).data, shelf)
        assert bad_words(found) == ""
        assert "Each line of the pages" in found.answers[-2].text
        assert "byte for byte" in found.answers[-1].text


def test_that_a_line_written_onto_a_page_is_noticed(shelf: Shelf) -> None:
    over = BytesIO()
    canvas = Canvas(over)
    canvas.drawString(60, 60, "Measured 21.0 cfm")
    canvas.save()
    pdf = pikepdf.open(BytesIO(certificate(open_sample("larkspur", shelf, USUAL))))
    written = pikepdf.open(over)
    pdf.pages.append(written.pages[0])
    page = pdf.pages[0]
    page.add_overlay(pdf.pages[-1], pikepdf.Rectangle(page.mediabox))
    del pdf.pages[-1]
    assert "“Measured 21.0 cfm”" in bad_words(checked(saved(pdf), shelf))


def test_that_a_page_of_another_report_is_noticed(shelf: Shelf) -> None:
    editor = open_sample("larkspur", shelf, USUAL)
    before = certificate(editor)
    editor.enter("tests.2.readings.0.fan_signal", "75")
    pdf, other = pikepdf.open(BytesIO(certificate(editor))), pikepdf.open(BytesIO(before))
    pdf.pages.insert(0, other.pages[0])
    assert "29.7 cfm" in bad_words(checked(saved(pdf), shelf))
    del pdf.pages[1]
    assert "29.7 cfm" in bad_words(checked(saved(pdf), shelf))


def test_that_a_page_taken_out_is_noticed(shelf: Shelf) -> None:
    pdf = pikepdf.open(BytesIO(certificate(open_sample("larkspur", shelf, USUAL))))
    del pdf.pages[1]
    assert "not on the pages" in bad_words(checked(saved(pdf), shelf))


def test_that_words_of_another_version_are_not_held_against_a_report(shelf: Shelf) -> None:
    pdf = pikepdf.open(BytesIO(certificate(open_sample("larkspur", shelf, USUAL))))
    printed = json.loads(pdf.attachments[PRINT_FILE].get_file().read_bytes())
    printed["program"] = "0.0.1"
    pdf.attachments[PRINT_FILE] = pikepdf.AttachedFileSpec(
        pdf, json.dumps(printed).encode(), filename=PRINT_FILE
    )
    found = checked(saved(pdf), shelf)
    assert bad_words(found) == ""
    assert found.answers[-1].standing is AnswerLevel.KNOW
    assert "Another version" in found.answers[-1].text


@pytest.mark.parametrize("shift", range(0, 400, 50))
def test_that_a_damaged_page_or_job_inside_is_told_in_words(shelf: Shelf, shift: int) -> None:
    """One byte is changed in the packed words of a page, and in the packed job."""
    report = certificate(open_sample("larkspur", shelf, USUAL))
    with pikepdf.open(BytesIO(report)) as pdf:
        page = pdf.pages[0].obj.Contents.read_raw_bytes()
        job = pdf.Root.AF[0].EF.F.read_raw_bytes()
    for packed in (page, job):
        at = report.index(packed) + 40 + shift
        damaged = report[:at] + bytes([report[at] ^ 0x40]) + report[at + 1 :]
        assert bad_words(checked(damaged, shelf))
