"""The PDF holds what the blocks hold, in embedded faces, and the same bytes for the same input."""

from __future__ import annotations

import hashlib
import re
from dataclasses import replace
from datetime import date
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader
from report_jobs import (
    BRANDING,
    SI,
    long_names,
    report_input,
    retrofit,
    rough_in,
    with_leaks,
)
from report_retrofit import picture
from report_text import body_of, drawn, numbers_in, pages_of, squashed, texts_in

from deskapp.domain.job import Job
from deskapp.domain.leak import Photo
from deskapp.report import blocks as b
from deskapp.report.blocks import Paper
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw

KINDS = ["homeowner", "compliance", "technical", "retest"]
JOBS = {
    "rough-in": rough_in,
    "retested": lambda: rough_in(retested=True),
    "retrofit": lambda: retrofit()[0],
    "empty": Job,
    "sixty leaks": lambda: with_leaks(60),
}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(JOBS))
@pytest.mark.parametrize("paper", list(Paper))
def test_that_every_text_of_the_blocks_stands_on_paper(kind, name, paper, request):
    template = request.getfixturevalue(kind)
    document = build(template, report_input(JOBS[name](), paper=paper))
    printed = body_of(drawn(document), document)
    for text in texts_in(document.blocks):
        assert squashed(text) in printed, text


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(JOBS))
def test_that_no_number_stands_on_paper_that_the_blocks_do_not_hold(kind, name, request):
    template = request.getfixturevalue(kind)
    document = build(template, report_input(JOBS[name]()))
    pages = pages_of(drawn(document))
    known = {number for text in texts_in(document.blocks) for number in numbers_in(text)}
    known |= {number for text in texts_in(document.running) for number in numbers_in(text)}
    known |= {str(number) for number in range(max(len(pages), 12) + 1)}
    # Lines break after hyphens and inside long words, so only whole numbers are compared.
    assert {number for page in pages for number in numbers_in(page)} <= known


@pytest.mark.parametrize("kind", KINDS)
def test_that_every_face_is_embedded(kind, request):
    document = build(request.getfixturevalue(kind), report_input(rough_in()))
    reader = PdfReader(BytesIO(drawn(document)))
    fonts = {
        font.get_object()["/BaseFont"]: font.get_object()
        for page in reader.pages
        for font in page["/Resources"]["/Font"].get_object().values()
    }
    assert fonts
    for name, font in fonts.items():
        descriptor = font["/FontDescriptor"].get_object()
        assert "/FontFile2" in descriptor, name
        assert re.fullmatch(r"/[A-Z]{6}\+(SourceSans3|DejaVuSans)-?\w*", name), name


@pytest.mark.parametrize("kind", KINDS)
def test_that_each_page_says_which_of_how_many_it_is(kind, request):
    document = build(request.getfixturevalue(kind), report_input(rough_in()))
    pages = pages_of(drawn(document))
    assert len(pages) > 1 or kind == "retest"
    for number, page in enumerate(pages, 1):
        assert f"Page {number} of {len(pages)}" in page
        assert "Job J-0001" in page
        assert "Mar 12, 2026" in page.replace("\N{NO-BREAK SPACE}", " ")
    assert all("14 Larkspur Lane" in page for page in pages[1:])


@pytest.mark.parametrize("kind", KINDS)
def test_that_the_same_input_gives_the_same_bytes(kind, request):
    template = request.getfixturevalue(kind)
    job, photos = retrofit()
    first = drawn(build(template, report_input(job, photos=photos)), photos)
    second = drawn(build(template, report_input(retrofit()[0], photos=photos)), photos)
    assert hashlib.sha256(first).digest() == hashlib.sha256(second).digest()


def test_that_the_file_is_dated_by_the_day_of_issue(homeowner):
    document = build(homeowner, report_input(rough_in(), issued_on=date(2026, 7, 4)))
    info = PdfReader(BytesIO(drawn(document))).metadata
    assert info["/CreationDate"] == info["/ModDate"] == "D:20260704000000+00'00"
    assert info["/Title"] == "Your duct leakage test"
    assert info["/Author"] == "Example Duct Works"
    assert info["/Creator"] == "Ductfolio"


def test_that_the_paper_is_the_one_asked_for(homeowner):
    sizes = {}
    for paper in Paper:
        document = build(homeowner, report_input(rough_in(), paper=paper))
        box = PdfReader(BytesIO(drawn(document))).pages[0].mediabox
        sizes[paper] = (round(float(box.width) / 72 * 25.4), round(float(box.height) / 72 * 25.4))
    # ANSI/ASME Y14.1 size A, 8.5 by 11 in.; ISO 216, 210 by 297 mm (both from memory).
    assert sizes == {Paper.LETTER: (216, 279), Paper.A4: (210, 297)}


def test_that_the_sample_jobs_keep_to_four_pages_with_the_answer_on_the_first(homeowner):
    job, photos = retrofit()
    for one in (rough_in(), rough_in(retested=True), job):
        for paper in Paper:
            document = build(homeowner, report_input(one, photos=photos, paper=paper))
            pages = pages_of(drawn(document, photos))
            assert len(pages) <= 4
            assert "This test does not check air quality" in pages[0]
            assert "What to do next" in pages[0]


def test_that_photographs_and_logo_are_in_the_file(homeowner):
    job, photos = retrofit()
    logo = BytesIO()
    Image.new("RGBA", (60, 20), (200, 120, 20, 128)).save(logo, "PNG")
    document = build(homeowner, report_input(job, photos=photos, logo=logo.getvalue()))
    reader = PdfReader(BytesIO(drawn(document, photos)))
    shown = [image for page in reader.pages for image in page.images]
    assert len(shown) == sum(len(leak.photos) for leak in job.leaks) + 1
    originals = {hashlib.sha256(data).hexdigest() for data in photos.values()}
    embedded = {
        hashlib.sha256(obj.get_object()._data).hexdigest()
        for page in reader.pages
        for obj in page["/Resources"].get("/XObject", {}).values()
    }
    assert originals <= embedded


def test_that_a_photograph_that_is_not_there_is_said(homeowner):
    job, _photos = retrofit()
    document = build(homeowner, report_input(job))
    assert "This photo is not in the job file." in " ".join(pages_of(drawn(document)))


@pytest.mark.parametrize("data", [b"", b"not a picture", picture(1, "before")[:40]])
def test_that_bytes_that_are_no_picture_are_told_and_framed(homeowner, data):
    job, _photos = retrofit()
    photo = Photo(digest="d1", caption="Before sealing")
    leak = job.leaks[0].model_copy(update={"photos": (photo,)})
    document = build(homeowner, report_input(job.model_copy(update={"leaks": (leak,)})))
    buffer = BytesIO()
    printed = draw(document, {"d1": data}, buffer)
    told = [finding for finding in printed.findings if finding.code == "picture-unreadable"]
    assert bool(told) is bool(data)
    assert "not in the job file" in " ".join(pages_of(buffer.getvalue()))


def test_that_a_png_cut_short_is_told_and_framed(homeowner):
    whole = BytesIO()
    Image.effect_noise((200, 200), 80).save(whole, "PNG")
    job, _photos = retrofit()
    leak = job.leaks[0].model_copy(update={"photos": (Photo(digest="d1"),)})
    document = build(homeowner, report_input(job.model_copy(update={"leaks": (leak,)})))
    buffer = BytesIO()
    printed = draw(document, {"d1": whole.getvalue()[:3000]}, buffer)
    assert [finding.code for finding in printed.findings] == ["picture-unreadable"]


def test_that_a_logo_that_is_no_picture_is_told_and_left_out(homeowner):
    document = build(homeowner, report_input(rough_in(), logo=b"no logo"))
    printed = draw(document, {}, BytesIO())
    assert [finding.code for finding in printed.findings] == ["picture-unreadable"]


def test_that_a_pale_accent_is_darkened_before_it_is_drawn(homeowner):
    pale = BRANDING.model_copy(update={"accent": "#ffee00"})
    document = build(homeowner, report_input(rough_in(), branding=pale))
    assert document.accent != "#ffee00"


def test_that_an_empty_document_is_still_a_page(homeowner):
    document = replace(build(homeowner, report_input(Job())), blocks=())
    assert len(pages_of(drawn(document))) == 1


def test_that_metric_reports_write_metric_numbers(technical):
    document = build(technical, report_input(rough_in(), formatter=SI, paper=Paper.A4))
    text = " ".join(pages_of(drawn(document))).replace("\N{NO-BREAK SPACE}", " ")
    assert "25,6 L/s" in text
    assert "11 Mar 2026" in text


def test_that_characters_no_face_has_are_told(homeowner):
    job = long_names()
    assert draw(build(homeowner, report_input(job)), {}, BytesIO()).findings == ()
    client = job.client.model_copy(update={"name": "ሰላ שלום"})
    other = build(homeowner, report_input(job.model_copy(update={"client": client})))
    findings = draw(other, {}, BytesIO()).findings
    assert {finding.code for finding in findings} == {"character-missing"}
    told = " ".join(finding.what for finding in findings)
    assert all(character in told for character in "ሰላשלום")


def test_that_a_zone_too_narrow_for_its_name_is_named_below_the_bar(homeowner):
    zones = (b.Zone(0.0, 2.0, "meets", True), b.Zone(2.0, 100.0, "does not", False))
    measured, limit = b.ScaleMark(90.0, "Your system: 90"), b.ScaleMark(2.0, "Limit 2")
    scale = b.Scale("Title", "", b.Sign.FAIL, 100.0, measured, limit, zones)
    document = replace(build(homeowner, report_input(Job())), blocks=(scale,))
    text = pages_of(drawn(document))[0]
    assert "meets" in text.split("Limit 2")[1]
    assert "does not" in text.split("Limit 2")[0]


def test_that_a_scale_of_nothing_but_zeros_is_drawn(homeowner):
    scale = b.Scale("Title", "", b.Sign.NONE, 0.0, b.ScaleMark(0.0, "Your system: 0"), None, ())
    document = replace(build(homeowner, report_input(Job())), blocks=(scale,))
    assert "Your system: 0" in pages_of(drawn(document))[0]
