"""Whatever people type into a job: the report is made, keeps to the profiles, and says the same.

Names and sentences are invented.
"""

from __future__ import annotations

import re
from io import BytesIO

import pytest
from pypdf import PdfReader
from report_jobs import BRANDING, report_input, retrofit, rough_in
from report_tags import tags_of
from report_text import body_of, squashed
from report_validator import PDF_A, PDF_UA

from deskapp.domain import paths
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw
from deskapp.report.pdf.faces import load_faces
from deskapp.report.plain_text import printable

KINDS = ["homeowner", "compliance", "technical", "retest"]
NAMES = {
    "Vietnamese": "Nguyễn Thị Đặng Ưởng",
    "Greek and Cyrillic": "Γεώργιος Παπαδόπουλος Їжак Щёлоков",
    "Polish and Turkish": "Łukasz Żółć, Ğüneş İşçi",
    "Chinese": "王小明 臺灣省新竹市",
    "Japanese": "山田はなこ カタカナ 々〆ー",
    "Korean": "김철수 서울특별시 뷁 쀏 ㄱㅏ",
    "all three in a line": "김철수 王小明 山田はなこ No. 7, 서울 東京「北」",
    "Korean decomposed": "\u1100\u1175\u11b7\u110e\u1165\u11af",
    "decomposed": "Nguye\u0302\u0303n N\u0303an\u0303ez A\u030angstro\u0308m",
}
HOSTILE = {
    "markup": "<b>x</b> & <br/> <img src='y'/> ]]> <!-- &lt; %s {owner} **z** \\n",
    "control characters": "a\x00b\x07c\x1bd\x7fe\x9ff",
    "marks of direction": "a\u202eb\u202dc\u2066d\u2069e\u200ff",
    "zero width": "a\u200bb\u200cc\u200dd\ufeffe\u2060f",
    "emoji": "a \U0001f600 \u2764\ufe0f \U0001f468\u200d\U0001f469\u200d\U0001f467 z",
    "stacked marks": "Z" + "\u0301\u0302\u0303\u0328" * 8 + "a x\u0302 y\u0308\u0304",
    "no characters": "a\ue000b\uf8ffc\U000f0000d\uffff e\udc80f",
    "no face": "ሰላም ᏣᎳᎩ",
    "right to left": "שלום עולם مرحبا",
    "joined": "नमस्ते สวัสดี ကမ္ဘာ",
}
_MARKED = re.compile(r"Q(\d+)q")


def filled(job: Job, text: str) -> tuple[Job, dict[int, str]]:
    """The job with `text` in every field of text, each between marks of its own."""
    typed: dict[int, str] = {}
    for field in FIELDS:
        if field.form in (Form.TEXT, Form.PARAGRAPH):
            for path, _old in list(paths.expand(job, field.path)):
                number = len(typed)
                typed[number] = f"Q{number}q{text}Z{number}z"
                job = paths.put(job, path, typed[number])
    assert len(typed) > 40
    return job, typed


def made(template, job, **given):
    document = build(template, report_input(job, **given))
    buffer = BytesIO()
    printed = draw(document, given.get("photos", {}), buffer)
    return document, buffer.getvalue(), printed


def expected(text: str, folder) -> str:
    """What stands on paper: what prints nothing left out, a question mark for what cannot."""
    face = load_faces(folder).text
    return squashed("".join(run.text for run in face.line(printable(text))))


@pytest.fixture(scope="module")
def fonts():
    from deskapp.domain.data_files import resources_folder

    return resources_folder() / "fonts"


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", [*NAMES, *HOSTILE])
def test_that_every_field_of_text_prints_what_was_typed(kind, name, fonts, validator, request):
    job, typed = filled(retrofit()[0], (NAMES | HOSTILE)[name])
    branding = BRANDING.model_copy(update={"company": (NAMES | HOSTILE)[name]})
    _document, pdf, _printed = made(request.getfixturevalue(kind), job, branding=branding)
    validator.accepts(pdf, PDF_A, PDF_UA)
    body = squashed(tags_of(pdf).text)
    shown = {int(number) for number in _MARKED.findall(body)}
    assert len(shown) > 8
    for number in shown:
        assert expected(typed[number], fonts) in body, typed[number]


@pytest.mark.parametrize("name", list(NAMES))
def test_that_names_print_whole_and_nothing_is_said_to_be_missing(name, homeowner, fonts):
    _document, _pdf, printed = made(homeowner, filled(rough_in(), NAMES[name])[0])
    assert printed.findings == ()
    assert "?" not in expected(NAMES[name], fonts)


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("no face", "has these characters"),
        ("right to left", "wrong order or shape"),
        ("joined", "wrong order or shape"),
    ],
)
def test_that_scripts_that_cannot_be_set_are_told_and_boxed(name, words, homeowner, fonts):
    _document, _pdf, printed = made(homeowner, filled(rough_in(), HOSTILE[name])[0])
    [finding] = printed.findings
    assert finding.code == "character-missing"
    assert words in finding.what
    assert set(expected(HOSTILE[name], fonts)) == {"?"}


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize(
    "text", ["x" * 10_000, "long words " * 910, "山田" * 5_000, "山田 " * 3_333 + "z"]
)
def test_that_ten_thousand_characters_break_no_layout(kind, text, validator, request):
    job = rough_in()
    system = job.systems[0].model_copy(update={"name": text, "visual_notes": text})
    job = job.model_copy(
        update={
            "comments": text,
            "client": job.client.model_copy(update={"name": text}),
            "site": job.site.model_copy(update={"address": text}),
            "systems": (system, *job.systems[1:]),
        }
    )
    _document, pdf, _printed = made(request.getfixturevalue(kind), job)
    validator.accepts(pdf, PDF_A, PDF_UA)
    assert squashed(text) in squashed(tags_of(pdf).text)


@pytest.mark.parametrize(
    ("text", "needed"),
    [("plain", ""), ("山田", "Droid"), ("김철수", "Hangul"), ("김철수 山田", "Droid Hangul")],
)
def test_that_a_large_face_is_in_a_file_only_where_it_is_needed(homeowner, text, needed):
    reader = PdfReader(BytesIO(made(homeowner, filled(rough_in(), text)[0])[1]))
    fonts = [font for page in reader.pages for font in page["/Resources"]["/Font"].values()]
    faces = {font.get_object()["/BaseFont"].partition("+")[2] for font in fonts}
    assert [name for name in ("Droid", "Hangul") if any(name in face for face in faces)] == (
        needed.split()
    )


def test_that_words_of_one_script_and_the_spaces_between_them_are_one_stretch(fonts):
    # Each stretch is laid out by itself; one for every word took minutes for a long text.
    runs = load_faces(fonts).text.line("No. 7 김철수 서울 山田 東京 end")
    assert [run.text for run in runs] == ["No. 7 ", "김철수 서울 ", "山田 東京 ", "end"]


@pytest.mark.parametrize("name", ["Korean", "all three in a line"])
def test_that_names_are_copied_as_they_were_typed(homeowner, name):
    document, pdf, _printed = made(homeowner, filled(rough_in(), NAMES[name])[0])
    assert squashed(NAMES[name]) in squashed(body_of(pdf, document))


def test_that_a_report_with_foreign_names_stays_small(homeowner):
    _document, pdf, _printed = made(homeowner, filled(rough_in(), NAMES["all three in a line"])[0])
    assert len(pdf) < 300_000


@pytest.mark.parametrize("text", ["\U0001d53b", "\U0001f600"])
def test_that_letters_beyond_the_first_plane_are_read_back(homeowner, text):
    document, pdf, printed = made(homeowner, filled(rough_in(), text)[0])
    assert printed.findings == ()
    assert text in body_of(pdf, document)
