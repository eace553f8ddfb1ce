"""What a person typed prints as typed, in a face that has it, and never as markup."""

from __future__ import annotations

from dataclasses import replace
from io import BytesIO

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader
from report_jobs import ROOT, report_input
from report_text import body_of, drawn, pages_of, squashed

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.pdf.draw import draw
from deskapp.report.pdf.faces import load_faces
from deskapp.report.plain_text import printable

FONTS = ROOT / "resources" / "fonts"


def page_with(homeowner, *blocks: b.Block) -> b.Document:
    return replace(build(homeowner, report_input(Job())), blocks=blocks)


def every_block(text: str) -> tuple[b.Block, ...]:
    """Each kind of block that prints text, filled with the same one."""
    span = (b.TextSpan(text), b.TextSpan(text, strong=True))
    photo = b.Picture("d", text, text, text)
    return (
        b.Letterhead(text, (text,), text, (text,)),
        b.Heading(text),
        b.Paragraph(span),
        b.Banner(b.Sign.PASS, text, (span,), large=True),
        b.SignedLines((b.SignedLine(b.Sign.FAIL, text, span),)),
        b.VerdictCard(b.Sign.NONE, text, text, (b.Figure(text, text),), span, text),
        b.Facts((b.Fact(text, text), b.Fact(text, text, missing=True))),
        b.Table((b.Column("One"), b.Column("Two", b.Align.RIGHT)), ((text, text),), text),
        b.Steps((b.ArithmeticStep(text, text, text, text, text),)),
        b.Lines((text,)),
        b.Numbered((span,)),
        b.Pictures((photo,)),
        b.LeakEntries((b.LeakEntry("1", text, text, b.Sign.PASS, text, text, (photo,)),)),
        b.Notices((b.Notice(b.Sign.DANGER, text, span, text),)),
        b.Signature(text, (b.SignatureLine(text, text),)),
        b.KeepTogether((b.Heading(text), b.Paragraph(span))),
    )


@pytest.mark.parametrize(
    "text",
    [
        "<b>bold</b> & <br/> <img src='x'/>",
        "&lt;para&gt; &#65; &nbsp;",
        "</para><para>",
        "<font name='Nowhere' size='900'>",
        "{owner} %s $x `y` **z** \\n",
        "]]> <![CDATA[ <!-- -->",
        "O’Brien & Søns, ½ × 3 ≤ 4 → 5",
    ],
)
def test_that_markup_prints_as_typed_in_every_block(homeowner, text):
    document = page_with(homeowner, *every_block(text))
    printed = body_of(drawn(document), document)
    assert printed.count(squashed(text)) > 40


@settings(max_examples=25, deadline=None)
@given(st.text(max_size=60))
def test_that_no_text_keeps_a_report_from_being_drawn(homeowner, text):
    assert pages_of(drawn(page_with(homeowner, *every_block(text))))


@pytest.mark.parametrize("text", ["x" * 1_500, "word " * 300, "é<&> " * 300, " " * 1_500])
def test_that_long_texts_fit_into_every_block(homeowner, text):
    document = page_with(homeowner, *every_block(text))
    printed = body_of(drawn(document), document)
    assert printed.count(squashed(text)[:10]) > 40 or not text.strip()


@pytest.mark.parametrize("text", ["x" * 10_000, "é<&>" * 2_500, "xЖ☀" * 3_300])
def test_that_ten_thousand_characters_are_printed_to_the_last(homeowner, text):
    fact = b.Facts((b.Fact("Label", text),))
    document = page_with(homeowner, fact, b.Paragraph((b.TextSpan(text),)))
    printed = body_of(drawn(document), document)
    for char in set(text):
        assert printed.count(char) >= 2 * text.count(char)


@pytest.mark.parametrize(
    "name",
    [
        "Łukasz Müller-Ñuñez",
        "Nguyễn Thị Đặng",
        "Γεώργιος Παπαδόπουλος",
        "Олександр Шевченко",
        "Ğüneş İşçi",
    ],
)
def test_that_names_of_many_languages_print(homeowner, name):
    document = page_with(homeowner, b.Paragraph((b.TextSpan(name),)))
    assert name in pages_of(drawn(document))[0]


def test_that_decomposed_letters_print_composed(homeowner):
    document = page_with(homeowner, b.Paragraph((b.TextSpan("Nu\u0303n\u0303ez"),)))
    assert "Nũñez" in pages_of(drawn(document))[0]


def test_that_a_sign_the_text_face_lacks_comes_from_the_other_face(homeowner):
    sun = "\N{BLACK SUN WITH RAYS}"
    document = page_with(homeowner, b.Paragraph((b.TextSpan(f"fair {sun} today"),)))
    pdf = drawn(document)
    assert f"fair {sun} today" in pages_of(pdf)[0]
    fonts = PdfReader(BytesIO(pdf)).pages[0]["/Resources"]["/Font"].get_object().values()
    assert any("DejaVuSans" in font.get_object()["/BaseFont"] for font in fonts)


def test_that_a_character_no_face_has_is_boxed_and_told(homeowner):
    document = page_with(
        homeowner,
        b.Paragraph((b.TextSpan("name ሰላ end"),)),
        b.Scale("t", "", b.Sign.PASS, 2.0, b.ScaleMark(1.0, "mark ሰ"), None, ()),
    )
    buffer = BytesIO()
    printed = draw(document, {}, buffer)
    [finding] = printed.findings
    assert finding.code == "character-missing"
    assert "ላ" in finding.what
    assert "ሰ" in finding.what
    text = pages_of(buffer.getvalue())[0]
    assert "name ?? end" in text
    assert "mark?" in squashed(text)


def test_that_letters_written_from_right_to_left_are_told_rather_than_printed_wrong(homeowner):
    document = page_with(homeowner, b.Paragraph((b.TextSpan("سلام שלום"),)))
    printed = draw(document, {}, BytesIO())
    assert [finding.code for finding in printed.findings] == ["character-missing"]


def test_that_runs_put_together_give_the_text_again():
    face = load_faces(FONTS).text
    text = "Grüße ☀ Олег ✓ 5 ≤ 6"
    runs = list(face.line(text))
    assert "".join(run.text for run in runs) == text
    assert len({run.font for run in runs}) == 2
    assert face.width(text, 10.0) == pytest.approx(sum(face.width(run.text, 10.0) for run in runs))


@given(st.text())
def test_that_runs_never_lose_a_character(text):
    face = load_faces(FONTS).strong
    kept = printable(text)
    runs = list(face.line(kept))
    assert sum(len(run.text) for run in runs) == len(kept)
    missing = face.missing(kept)
    expected = "".join("?" if char in missing else char for char in kept)
    assert "".join(run.text for run in runs) == expected


def test_that_a_missing_font_file_is_named(tmp_path):
    with pytest.raises(FileNotFoundError, match=r"SourceSans3-Regular\.ttf"):
        load_faces(tmp_path)
