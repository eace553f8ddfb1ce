"""A picture of a signature stands above the line to sign on, and is told in words."""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdf import PdfReader
from report_jobs import report_input, rough_in, signed
from report_tags import tags_of
from report_text import drawn

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.build.document import build

INK = (16, 24, 40)
PICTURE = (300, 90)


def lines_in(document: b.Document) -> list[b.SignatureLine]:
    inner = (x for one in document.blocks for x in getattr(one, "blocks", (one,)))
    return [line for block in inner if isinstance(block, b.Signature) for line in block.lines]


def figures_of(compliance, job: Job, photos: dict[str, bytes]):
    pdf = drawn(build(compliance, report_input(job, photos=photos)), photos)
    return pdf, [tag for tag in tags_of(pdf).all("Figure") if "Signature" in tag.alternative]


def test_that_the_picture_goes_with_the_line_that_nothing_is_printed_on(compliance):
    job, photos = signed(PICTURE, INK, signed_by="Signer A")
    lines = lines_in(build(compliance, report_input(job, photos=photos)))
    assert [line.label for line in lines if line.picture] == ["Signature"]
    [picture] = [line.picture for line in lines if line.picture]
    assert [picture.digest] == list(photos)
    assert picture.description == "Signature of Signer A, a picture"


def test_that_the_tester_is_named_where_nobody_else_signs_and_none_where_none_is_known(compliance):
    for names, told in (
        ({"signed_by": "", "name": "Tester A"}, "Signature of Tester A, a picture"),
        ({"signed_by": "", "name": ""}, "Signature, a picture"),
    ):
        job, photos = signed(PICTURE, INK, **names)
        lines = lines_in(build(compliance, report_input(job, photos=photos)))
        assert [line.picture.description for line in lines if line.picture] == [told]


def test_that_a_job_without_one_leaves_the_line_to_the_pen(compliance):
    assert not any(one.picture for one in lines_in(build(compliance, report_input(rough_in()))))


@pytest.mark.parametrize("size", [(300, 90), (1600, 60), (60, 400)])
def test_that_it_is_printed_in_proportion_and_no_taller_than_the_room(compliance, size):
    pdf, figures = figures_of(compliance, *signed(size, INK))
    [figure] = figures
    numbers = re.findall(r"-?\d+(?:\.\d+)?", figure.attributes["/BBox"])
    left, low, right, top = (float(number) for number in numbers)
    assert top - low <= 34.01
    assert (right - left) / (top - low) == pytest.approx(size[0] / size[1], rel=0.01)
    images = [image.image for page in PdfReader(BytesIO(pdf)).pages for image in page.images]
    assert (size, INK) in [(one.size, one.convert("RGB").getpixel((5, 5))) for one in images if one]


def test_that_a_picture_that_is_gone_leaves_the_line_to_the_pen(compliance):
    job, _photos = signed(PICTURE, INK)
    _pdf, figures = figures_of(compliance, job, {})
    assert figures == []
