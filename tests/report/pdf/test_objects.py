"""Files are read back by a library of PDF (pikepdf, on qpdf) as they were meant."""

from __future__ import annotations

from datetime import date
from io import BytesIO

import pikepdf
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from report_jobs import report_input, retrofit

from deskapp.report.archival.attachment import Attachment
from deskapp.report.archival.finish import finish
from deskapp.report.archival.metadata import Information
from deskapp.report.archival.objects import DrawnFile, Objects, name, stream, text_string
from deskapp.report.archival.structure import Element, Role
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw

TEXT = st.text(st.characters(exclude_categories=["Cs"]), max_size=60)


def bare_file(title: str, carried: Attachment) -> bytes:
    """A file of one empty page, finished."""
    objects = Objects()
    pages = objects.add(b"<</Type/Pages/Count 1/Kids[2 0 R]>>")
    page = objects.add(
        b"<</Type/Page/Parent 1 0 R/MediaBox[0 0 9 9]/Resources<<>>/Contents 3 0 R>>"
    )
    objects.add(stream(b"", b"0 0 10 10 re f"))
    catalog = objects.add(b"<</Type/Catalog/Pages %d 0 R>>" % pages)
    about = Information(title, "", "", "", "", date(2026, 3, 12))
    return finish(DrawnFile(objects, catalog, [page]), Element(Role.DOCUMENT), about, [carried])


@given(TEXT)
@settings(deadline=None)
def test_that_any_text_is_read_back(text: str):
    assert str(pikepdf.Object.parse(text_string(text))) == text


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1))
@settings(deadline=None)
def test_that_any_name_is_read_back(text: str):
    assert str(pikepdf.Object.parse(name(text))) == f"/{text}"


@given(TEXT, st.binary(max_size=400))
@settings(deadline=None, max_examples=40)
def test_that_title_and_carried_file_are_read_back(words: str, data: bytes):
    file = bare_file(f"Report {words}", Attachment("job.json", data, words, "application/json"))
    with pikepdf.open(BytesIO(file)) as pdf:
        assert not pdf.check_pdf_syntax()
        assert pdf.attachments["job.json"].get_file().read_bytes() == data
        assert str(pdf.Root.AF[0].Desc) == words
        kept = "".join(char for char in words if char >= " " and char not in "\ufffe\uffff")
        shown = "".join(char for char in str(pdf.docinfo.Title) if char >= " ")
        assert shown == f"Report {kept}"


@pytest.mark.parametrize("kind", ["homeowner", "compliance"])
def test_that_a_report_is_read_without_any_warning(kind: str, request: pytest.FixtureRequest):
    job, photos = retrofit()
    buffer = BytesIO()
    draw(build(request.getfixturevalue(kind), report_input(job, photos=photos)), photos, buffer)
    with pikepdf.open(buffer) as pdf:
        assert not pdf.check_pdf_syntax()
        assert not pdf.get_warnings()


def test_that_more_objects_than_two_bytes_can_count_are_found_again():
    objects = Objects()
    for number in range(70_000):
        objects.add(b"<</Number %d>>" % number)
    pages = objects.add(b"<</Type/Pages/Count 0/Kids[]>>")
    catalog = objects.add(b"<</Type/Catalog/Pages %d 0 R>>" % pages)
    file = objects.file(catalog, objects.add(b"<<>>"), b"0" * 16)
    with pikepdf.open(BytesIO(file)) as pdf:
        assert int(pdf.get_object(69_999, 0).Number) == 69_998


def test_that_only_a_dictionary_gets_more_entries():
    objects = Objects()
    with pytest.raises(ValueError, match="not a dictionary"):
        objects.extend(objects.add(b"[1 2]"), b"/A 1")
