"""Marks on photographs and the sketch, read back from the PDF as vectors and text."""

from __future__ import annotations

from io import BytesIO

import pytest
from pypdf import PdfReader
from report_jobs import report_input, retrofit
from report_text import drawn, pages_of

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.drawing import Item, Shape
from deskapp.domain.job import Job
from deskapp.domain.leak import Photo
from deskapp.domain.measured import Measured
from deskapp.domain.screening import Register
from deskapp.domain.sketch import Sketch
from deskapp.report.blocks import LeakEntries, Pictures
from deskapp.report.blocks import Sketch as SketchBlock
from deskapp.report.build.document import build
from deskapp.session.resources import load_shelf

ARROW = Item(shape=Shape.ARROW, x=0.2, y=0.2, to_x=0.8, to_y=0.8)
CIRCLE = Item(shape=Shape.CIRCLE, x=0.2, y=0.3, to_x=0.6, to_y=0.7, text="wide gap")


def marked(*marks: Item) -> tuple[Job, dict[str, bytes]]:
    """The invented retrofit with marks on the first photo of its first leak."""
    job, photos = retrofit()
    first, *others = job.leaks
    photo = first.photos[0].model_copy(update={"marks": marks, "taken": "2026-03-05T09:31:12"})
    leak = first.model_copy(update={"photos": (photo,)})
    return job.model_copy(update={"leaks": (leak, *others)}), photos


def operators(pdf: bytes) -> dict[bytes, int]:
    """How often each drawing operator stands in the pages of a PDF."""
    counts: dict[bytes, int] = {}
    for page in PdfReader(BytesIO(pdf)).pages:
        content = page.get_contents()
        assert content is not None
        for _operands, operator in content.operations:
            counts[operator] = counts.get(operator, 0) + 1
    return counts


def places_of(pdf: bytes, words: str) -> list[tuple[int, float, float]]:
    """Page and place of each piece of text that is exactly `words`."""
    found: list[tuple[int, float, float]] = []
    for number, page in enumerate(PdfReader(BytesIO(pdf)).pages):

        def visit(text, matrix, text_matrix, _font, _size, number=number):
            if text.strip() == words:
                found.append((number, matrix[4] + text_matrix[4], matrix[5] + text_matrix[5]))

        page.extract_text(visitor_text=visit)
    return found


def test_that_marks_are_lines_over_the_picture_with_the_number_of_the_leak(homeowner):
    plain_job, photos = marked()
    job, _photos = marked(ARROW, CIRCLE)
    plain = drawn(build(homeowner, report_input(plain_job, photos=photos)), photos)
    document = build(homeowner, report_input(job, photos=photos))
    pdf = drawn(document, photos)
    entries = next(block for block in document.blocks if isinstance(block, LeakEntries))
    assert [mark.label for mark in entries.entries[0].pictures[0].marks] == ["1", "wide gap"]
    before, after = operators(plain), operators(pdf)
    # PDF 1.7 (ISO 32000-1, 8.5.2): c appends a curve, l a straight line, Do paints a picture.
    assert after[b"Do"] == before[b"Do"]
    assert after[b"c"] >= before[b"c"] + 16
    assert after[b"l"] > before[b"l"]
    assert len(places_of(pdf, "1")) == len(places_of(plain, "1")) + 1
    assert "wide gap" in " ".join(pages_of(pdf))
    assert "wide gap" not in " ".join(pages_of(plain))


def test_that_a_slate_ties_a_photo_to_its_job_only_where_asked_for(homeowner):
    job, photos = marked()
    for wanted in (False, True):
        source = report_input(job, photos=photos, photo_slate=wanted)
        text = " ".join(pages_of(drawn(build(homeowner, source), photos)))
        text = text.replace("\N{NO-BREAK SPACE}", " ")
        line = f"Job {job.number} · Mar 5, 2026, 09:31 · {job.systems[0].name}"
        assert (line in " ".join(text.split())) is wanted


def test_that_a_photo_without_a_caption_is_told_by_what_it_shows(homeowner):
    subjects = load_shelf(resources_folder(), templates_folder()).photo_subjects
    job = Job(photos=(Photo(digest="d1", shows="set_up"), Photo(digest="d2", caption="Mine")))
    document = build(homeowner, report_input(job, photo_subjects=subjects))
    block = next(block for block in document.blocks if isinstance(block, Pictures))
    assert [one.caption for one in block.pictures] == ["Set-up with fan and hose", "Mine"]


def sketched() -> Job:
    job, _photos = retrofit()
    readings = (("p1", "Kitchen", 0.4), ("p2", "Laundry", 14.0))
    registers = tuple(
        Register(key=key, name=name, pan_before=Measured(si=size, unit="Pa", typed=f"{size} Pa"))
        for key, name, size in readings
    )
    items = (
        Item(shape=Shape.ROOM, x=0.1, y=0.1, to_x=0.9, to_y=0.9, text="Attic room"),
        *(
            Item(shape=Shape.REGISTER, x=0.3, y=y, refers=key)
            for key, y in (("p1", 0.3), ("p2", 0.6))
        ),
        Item(shape=Shape.LEAK, x=0.6, y=0.5, refers=job.leaks[2].key),
    )
    return job.model_copy(update={"sketch": Sketch(items=items), "registers": registers})


@pytest.mark.parametrize("name", ["homeowner", "compliance", "technical"])
def test_that_the_sketch_is_drawn_with_the_numbers_of_the_lists_and_told_in_words(
    name, request, parts
):
    template = request.getfixturevalue(name)
    document = build(template, report_input(sketched(), **parts))
    block = next(block for block in document.blocks if isinstance(block, SketchBlock))
    assert [one.label for one in block.items] == ["Attic room", "1", "2", "3"]
    assert [one.heavy for one in block.items] == [False, False, True, False]
    assert "1 Kitchen, 2 Laundry" in block.key
    assert "Leaks marked: 3." in block.description
    pdf = drawn(document)
    text = " ".join(" ".join(pages_of(pdf)).split())
    assert "Attic room" in text
    assert "not to scale" in text.lower()
    without = drawn(build(template, report_input(retrofit()[0], **parts)))
    assert operators(pdf)[b"c"] > operators(without)[b"c"]


def test_that_a_job_without_a_sketch_has_no_section_for_one(homeowner):
    document = build(homeowner, report_input(retrofit()[0]))
    assert not [block for block in document.blocks if isinstance(block, SketchBlock)]
    assert "Where the leaks are" not in " ".join(pages_of(drawn(document)))


def test_that_a_plan_that_is_lost_or_no_picture_is_said(homeowner):
    job = sketched()
    plan = Photo(digest="d9", width=200, height=100)
    job = job.model_copy(update={"sketch": job.sketch.model_copy(update={"plan": plan})})
    document = build(homeowner, report_input(job))
    for photos in ({}, {"d9": b"no picture"}):
        text = " ".join(" ".join(pages_of(drawn(document, photos))).split())
        assert "The floor plan is not in the job file." in text
