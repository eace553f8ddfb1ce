"""Unsigned reports of which something beside the words was changed; the jobs are invented samples.

The changes are made with a general library for PDFs, as anybody could.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from datetime import UTC, date, datetime
from io import BytesIO

import pikepdf
import pytest
from PIL import Image

from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.report.sealing.keys import make_key, open_key
from deskapp.report.sealing.seal import seal
from deskapp.session.answers import AnswerLevel
from deskapp.session.branding import BrandingFile
from deskapp.session.carried import JOB_FILE, PRINT_FILE
from deskapp.session.checking import Checked, check_report
from deskapp.session.reports import ReportKind, drawn_report, order_reports
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

DAY = date(2026, 3, 12)
USUAL = Preferences()
COMPANY = Branding(company="Duct Testers 24", license="L-77")
GENUINE = "What the file says of itself, its attached files and its pictures"


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture(scope="module")
def report(shelf: Shelf) -> bytes:
    """The report for the owner of the maple sample, which shows photos."""
    order = order_reports(open_sample("maple", shelf, USUAL), BrandingFile(COMPANY), DAY)
    return drawn_report(order, ReportKind.HOMEOWNER).data


def checked(data: bytes, shelf: Shelf) -> Checked:
    return check_report(data, shelf, USUAL.formatter)


def words(found: Checked, standing: AnswerLevel = AnswerLevel.BAD) -> list[str]:
    return [one.text for one in found.answers if one.standing is standing]


def changed(report: bytes, change: Callable[[pikepdf.Pdf], object]) -> bytes:
    buffer = BytesIO()
    with pikepdf.open(BytesIO(report)) as pdf:
        change(pdf)
        pdf.save(buffer)
    return buffer.getvalue()


def pictures(pdf: pikepdf.Pdf) -> list[pikepdf.Object]:
    """All JPEG files of the pages, each once."""
    found: dict[tuple[int, int], pikepdf.Object] = {}
    for page in pdf.pages:
        for drawn in page.Resources.get("/XObject", {}).values():
            if "/DCTDecode" in str(drawn.get("/Filter")):
                found[drawn.objgen] = drawn
    return list(found.values())


def with_title(pdf: pikepdf.Pdf) -> None:
    pdf.docinfo["/Title"] = "All limits met"


def with_metadata(pdf: pikepdf.Pdf) -> None:
    with pdf.open_metadata(set_pikepdf_as_editor=False, update_docinfo=False) as about:
        about["dc:description"] = "All limits met"


def with_print_file(pdf: pikepdf.Pdf) -> None:
    told = json.loads(pdf.attachments[PRINT_FILE].get_file().read_bytes())
    replace(pdf, PRINT_FILE, json.dumps({**told, "note": "checked"}).encode())


def with_spaces_in_job(pdf: pikepdf.Pdf) -> None:
    replace(pdf, JOB_FILE, pdf.attachments[JOB_FILE].get_file().read_bytes() + b"\n")


def replace(pdf: pikepdf.Pdf, name: str, data: bytes) -> None:
    """Put other bytes into an attached file; all that tells of it stays."""
    for spec in pdf.Root.AF:
        if str(spec.UF) == name:
            spec.EF.F.write(data)


def with_another_file(pdf: pikepdf.Pdf) -> None:
    pdf.attachments["waiver.txt"] = pikepdf.AttachedFileSpec(pdf, b"No test needed.")


def with_another_picture(pdf: pikepdf.Pdf) -> None:
    last = pictures(pdf)[-1]
    buffer = BytesIO()
    Image.new("RGB", (int(last.Width), int(last.Height)), "gray").save(buffer, "JPEG")
    last.write(buffer.getvalue(), filter=pikepdf.Name.DCTDecode)


def with_a_stamp(pdf: pikepdf.Pdf) -> None:
    stamp = pikepdf.Dictionary(
        Type=pikepdf.Name.Annot,
        Subtype=pikepdf.Name.FreeText,
        Rect=[60, 60, 300, 90],
        Contents="PASSED",
        DA="/Helv 12 Tf",
    )
    pdf.pages[0].Annots = pdf.make_indirect(pikepdf.Array([pdf.make_indirect(stamp)]))


def with_a_cover(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"q 1 1 1 rg 50 500 300 200 re f Q")


def with_another_color(pdf: pikepdf.Pdf) -> None:
    first = pdf.pages[0].Contents
    data = first.read_bytes()
    assert b" rg" in data
    first.write(data.replace(b" rg", b" RG", 1))


def untouched(_pdf: pikepdf.Pdf) -> None:
    """Change nothing: the file is only written anew by another program."""


def test_that_a_report_as_it_was_made_is_told_to_be_byte_for_byte(
    shelf: Shelf, report: bytes
) -> None:
    found = checked(report, shelf)
    assert words(found) == []
    assert any("byte for byte" in text for text in words(found, AnswerLevel.GOOD))


def test_that_a_file_another_program_saved_again_is_not_told_to_be_the_same(
    shelf: Shelf, report: bytes
) -> None:
    found = checked(changed(report, untouched), shelf)
    assert words(found) == []
    assert not any("byte for byte" in text for text in words(found, AnswerLevel.GOOD))
    assert any(text.startswith(GENUINE) for text in words(found, AnswerLevel.GOOD))
    assert any("saved once more" in text for text in words(found, AnswerLevel.KNOW))


@pytest.mark.parametrize(
    ("change", "told"),
    [
        (with_title, "“Title: All limits met”"),
        (with_metadata, "XMP"),
        (with_print_file, f"The attached file {PRINT_FILE} "),
        (with_spaces_in_job, f"The attached file {JOB_FILE} "),
        (with_another_file, "“waiver.txt”"),
        (with_another_picture, "1 picture on the pages is none that the job names."),
        (with_a_stamp, "1 note, stamp or field lies on the pages"),
        (with_a_cover, "What draws page 1 is not what the job inside makes"),
        (with_another_color, "What draws page 1 is not what the job inside makes"),
    ],
)
def test_that_each_change_of_an_unsigned_report_is_told_by_itself(
    shelf: Shelf, report: bytes, change: Callable[[pikepdf.Pdf], object], told: str
) -> None:
    found = checked(changed(report, change), shelf)
    assert any(told in text for text in words(found)), words(found)
    others = [text for text in words(found) if told not in text]
    lost = "1 picture of the job does not stand on the pages as it is kept."
    assert others == ([lost] if change is with_another_picture else [])
    assert not any(text.startswith(GENUINE) for text in words(found, AnswerLevel.GOOD))


def test_that_a_signed_report_is_the_same_up_to_its_signature(shelf: Shelf, report: bytes) -> None:
    now = datetime(2026, 3, 12, 9, 0, tzinfo=UTC)
    key = open_key(make_key("Sam Example", "four words of mine", now), "four words of mine")
    found = checked(seal(report, key, now), shelf)
    assert words(found) == []
    assert any("byte for byte" in text for text in words(found, AnswerLevel.GOOD))


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_that_a_logo_is_told_to_be_unknown_and_nothing_else_passes_for_it(
    shelf: Shelf, form: str, tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("look") / f"logo.{form.lower()}"
    Image.new("RGB", (40, 20), "teal").save(path, form)
    look = BrandingFile(COMPANY.model_copy(update={"logo": path.name}), path)
    order = order_reports(open_sample("maple", shelf, USUAL), look, DAY)
    report = drawn_report(order, ReportKind.HOMEOWNER).data
    found = checked(report, shelf)
    assert words(found) == []
    assert any("logo" in text for text in words(found, AnswerLevel.KNOW))
    swapped = words(checked(changed(report, with_another_picture), shelf))
    assert any("picture of the job does not stand" in text for text in swapped)
