"""Each field of text alone, with what people paste into it: a report of each kind comes of it.

Only the blocks that a field changes are drawn; the rest is drawn by other tests. Texts are
invented.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import pytest
from report_jobs import ROOT, report_input, retrofit
from report_tags import tags_of
from report_text import drawn, squashed, texts_in

from deskapp.assess.evaluate import evaluate
from deskapp.domain import paths
from deskapp.domain.arrival import ArrivalItem
from deskapp.domain.choices import YesNo
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.screening import Register
from deskapp.report.blocks import Document
from deskapp.report.build.document import build
from deskapp.report.pdf.faces import load_faces
from deskapp.report.plain_text import printable
from deskapp.report.template import read_template

KINDS = ("homeowner", "compliance", "technical", "retest")
FIELDS_OF_TEXT = [field.path for field in FIELDS if field.form in (Form.TEXT, Form.PARAGRAPH)]
NOT_HERE = {
    "title",
    "client.phone",
    "compliance.calibration_override",
    "house.currency",
    "leaks.*.severity_reason",
}
"""What no report of this job prints: it has a number, for one, which goes before the title."""
TEXTS = {
    "10,000 characters": "long words " * 909 + "z",
    "hostile": "Q <b>x</b> & <br/> ]]> <!-- %s {owner} **z** \\n a\x00b\x07c\x1bd\x7fe\x9ff "
    "a\u202eb\u202dc\u2066d\u2069e\u200ff a\u200bb\ufeffc\u2060d Z\u0301\u0302\u0303 \udc80 Z",
}


@cache
def whole_job() -> tuple[Job, dict[str, bytes]]:
    """A job with a row in every list that has text."""
    job, photos = retrofit()
    read = Measured(typed="2 Pa", si=2.0, unit="Pa")
    register = Register(key="r1", name="Hall", system=job.systems[0].key, pan_before=read)
    item = ArrivalItem(key="a1", what="Damper", changed=YesNo.YES, undone=YesNo.NO)
    job = job.model_copy(update={"registers": (register,), "arrival": (item,)})
    return job, photos


def document_of(kind: str, job: Job, assessment: object) -> Document:
    template = read_template(ROOT / "report_templates" / f"{kind}.toml")
    return build(template, report_input(job, assessment=assessment, photos=whole_job()[1]))


@cache
def untouched(kind: str) -> Document:
    job = whole_job()[0]
    return document_of(kind, job, evaluate(job))


def changed_only(document: Document, before: Document) -> Document:
    """The report with its first block and those that are not as they were before."""
    first, *others = document.blocks
    new = [block for block in others if block not in before.blocks]
    return replace(document, blocks=(first, *new))


def on_paper(text: str) -> str:
    """What stands on paper: what prints nothing left out."""
    face = load_faces(ROOT / "resources" / "fonts").text
    return squashed("".join(run.text for run in face.line(printable(text))))


def test_that_every_field_of_text_has_a_place_in_the_job():
    job = whole_job()[0]
    assert [path for path in FIELDS_OF_TEXT if not list(paths.expand(job, path))] == []


@pytest.mark.parametrize("field", FIELDS_OF_TEXT)
@pytest.mark.parametrize("name", TEXTS)
def test_that_any_text_in_any_one_field_prints_whole(name: str, field: str):
    job, text = whole_job()[0], TEXTS[name]
    place = next(path for path, _old in paths.expand(job, field))
    job = paths.put(job, place, text)
    assessment = evaluate(job)
    printed: list[str] = []
    for kind in KINDS:
        document = document_of(kind, job, assessment)
        before = untouched(kind)
        if document == before:
            continue
        shown = changed_only(document, before)
        body = squashed(tags_of(drawn(shown, whole_job()[1])).text)
        if any(squashed(printable(text)) in squashed(one) for one in texts_in(shown.blocks)):
            printed.append(kind)
            assert on_paper(text) in body
    assert bool(printed) is (field not in NOT_HERE)
