"""Pages break between things that belong together, and nothing runs off the paper."""

from __future__ import annotations

import re
from dataclasses import replace
from io import BytesIO

import pytest
from PIL import Image
from pypdf import PdfReader
from report_jobs import ROOT, long_names, report_input, retrofit, rough_in, sample, with_leaks
from report_text import body_of, drawn, pages_of, squashed

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.blocks import Paper
from deskapp.report.build.document import build
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.look import look_of
from deskapp.report.template import Template

SLACK = 1.0


def pages_with(homeowner: Template, *blocks: b.Block) -> list[str]:
    document = replace(build(homeowner, report_input(Job())), blocks=blocks)
    return pages_of(drawn(document))


def filler(lines: int) -> b.Block:
    return b.Lines(tuple(f"filler {number}" for number in range(lines)))


def table(rows: int, cell: str = "value") -> b.Table:
    columns = (b.Column("Column one"), b.Column("Column two", b.Align.RIGHT))
    return b.Table(columns, tuple((f"{cell} {number}", "x") for number in range(rows)))


def test_that_headings_of_a_table_stand_on_every_page_of_it(homeowner: Template):
    pages = pages_with(homeowner, table(120))
    assert len(pages) > 2
    assert all("Column one" in page and "Column two" in page for page in pages)
    assert re.search(r"value 0\s", pages[0])
    assert "value 119" in pages[-1]


def test_that_no_row_is_lost_or_doubled_over_pages(homeowner: Template):
    text = "\n".join(pages_with(homeowner, table(200)))
    found = [len(re.findall(rf"value {number}\s", text)) for number in range(200)]
    assert found == [1] * 200


@pytest.mark.parametrize("lines", range(20, 40))
def test_that_a_heading_never_stands_alone_at_the_foot_of_a_page(homeowner: Template, lines: int):
    for following in (
        b.Paragraph((b.TextSpan("What follows. " * 30),)),
        table(3, "What follows"),
        table(80, "What follows"),
        b.Notices((b.Notice(b.Sign.NOTE, "What follows", (b.TextSpan("text " * 60),)),)),
        b.Facts(tuple(b.Fact(f"What follows {n}", "x") for n in range(30)), columns=1),
    ):
        pages = pages_with(
            homeowner, filler(lines), b.Heading("Part", 1), b.Heading("Lonely heading"), following
        )
        page, *more = [page for page in pages if "Lonely heading" in page]
        assert all("Lonely heading (continued)" in later for later in more)
        assert "(continued)" not in page
        assert "What follows" in page
        assert "Part" in page


def test_that_a_row_taller_than_a_page_is_cut_and_whole(homeowner: Template):
    words = " ".join(f"w{number}" for number in range(3000))
    columns = (b.Column("One"), b.Column("Two"))
    pages = pages_with(homeowner, b.Table(columns, (("a", words), ("z", "last"))))
    assert len(pages) > 3
    text = squashed("".join(pages))
    assert all(f"w{number}" in text for number in range(3000))
    assert "last" in pages[-1]


@pytest.mark.parametrize("words", range(560, 640, 4))
def test_that_a_row_about_as_tall_as_a_page_is_drawn(homeowner: Template, words: int):
    text = " ".join(f"w{number}" for number in range(words))
    pages = pages_with(homeowner, b.Facts((b.Fact("Label", text),), columns=1), filler(3))
    assert "filler 2" in "".join(pages)


def test_that_a_short_table_is_not_parted(homeowner: Template):
    for lines in range(20, 36):
        pages = pages_with(homeowner, filler(lines), table(5, "row"))
        assert len([page for page in pages if "row " in page]) == 1


@pytest.mark.parametrize("lines", range(14, 34, 2))
def test_that_no_row_stands_alone_and_a_caption_stays_with_the_last_rows(
    homeowner: Template, lines: int
):
    for rows in (12, 15, 18):
        told = replace(table(rows, "row"), caption="What the rows show.")
        pages = pages_with(homeowner, filler(lines), told)
        counts = [len(re.findall(r"^row \d+\s", page, re.MULTILINE)) for page in pages]
        assert sum(counts) == rows
        assert 1 not in counts
        [page] = [page for page in pages if "What the rows show." in page]
        assert f"row {rows - 1} " in page
        assert f"row {rows - 2} " in page


def test_that_a_row_moves_to_the_next_page_rather_than_being_cut(homeowner: Template):
    cell = "many words " * 80
    columns = (b.Column("One"), b.Column("Two"))
    rows = tuple((f"start{n} {cell} end{n}", "x") for n in range(12))
    pages = pages_with(homeowner, b.Table(columns, rows))
    for number in range(12):
        [page] = [page for page in pages if f"start{number} " in page]
        assert f"end{number}" in page


def test_that_the_signature_stays_with_its_statement(homeowner: Template):
    for lines in range(18, 36):
        block = b.Signature("I made this test.", (b.SignatureLine("Sign here"),) * 4)
        pages = pages_with(homeowner, filler(lines), b.Heading("Signing"), block)
        [page] = [page for page in pages if "I made this test." in page]
        assert page.count("Sign here") == 4
        assert "Signing" in page


def test_that_a_scale_is_never_parted(homeowner: Template):
    scale = b.Scale(
        "The scale",
        "unit",
        b.Sign.PASS,
        10.0,
        b.ScaleMark(4.0, "Measured 4"),
        b.ScaleMark(5.0, "Limit 5"),
        (),
    )
    for lines in range(18, 36):
        pages = pages_with(homeowner, filler(lines), scale)
        [page] = [page for page in pages if "The scale" in page]
        assert "Measured 4" in page
        assert "Limit 5" in page


def test_that_sixty_leaks_are_all_there_and_none_is_parted(homeowner: Template):
    blocks = [
        one.model_copy(update={"most": 0}) if one.kind == "leaks" else one
        for one in homeowner.block
    ]
    template = homeowner.model_copy(update={"block": tuple(blocks)})
    pages = pages_of(drawn(build(template, report_input(with_leaks(60)))))
    for number in range(1, 61):
        [page] = [page for page in pages if re.search(rf"Place number {number}\s", page)]
        assert re.search(rf"^{number}\s+Place number {number}$", page, re.MULTILINE)


def test_that_page_breaks_at_either_end_print_no_empty_page(homeowner: Template):
    pages = pages_with(homeowner, b.PageBreak(), b.Paragraph((b.TextSpan("only"),)), b.PageBreak())
    assert len(pages) == 1


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("kind", ["homeowner", "compliance", "technical", "retest"])
def test_that_nothing_runs_off_the_text_area(
    kind: str, paper: Paper, request: pytest.FixtureRequest
):
    template = request.getfixturevalue(kind)
    job, photos = retrofit()
    for one in (job, long_names(), with_leaks(60)):
        document = build(template, report_input(one, photos=photos, paper=paper))
        look = look_of(document, {}, load_faces(ROOT / "resources" / "fonts"))
        for line, x, y, size in placed_lines(drawn(document, photos)):
            right = x + look.faces.text.width(line, size)
            assert x >= look.side - SLACK, line
            assert right <= look.page_width - look.side + SLACK + 0.06 * (right - x), line
            assert 0 < y < look.page_height, line


def placed_lines(pdf: bytes) -> list[tuple[str, float, float, float]]:
    """Each printed line with its place in points and its size."""
    found: list[tuple[str, float, float, float]] = []

    def visit(text: str, cm: list[float], tm: list[float], _font: object, size: float) -> None:
        if text.strip():
            found.append((text.strip("\n"), cm[4] + tm[4], cm[5] + tm[5], size))

    for page in PdfReader(BytesIO(pdf)).pages:
        page.extract_text(visitor_text=visit)
    assert found
    return found


def test_that_very_long_texts_are_printed_to_their_end(technical: Template):
    job = rough_in()
    system = job.systems[0].model_copy(update={"visual_notes": "note " * 2500})
    long = job.model_copy(
        update={"systems": (system, job.systems[1]), "comments": "A long comment. " * 400}
    )
    document = build(technical, report_input(long))
    printed = body_of(drawn(document), document)
    assert printed.count("note" * 10) >= 240
    assert printed.count("Alongcomment.") == 400


def test_that_the_annex_says_at_the_top_of_each_page_what_it_is(compliance: Template):
    document = build(compliance, report_input(sample("maple")))
    first, *others = pages_of(drawn(document))
    [start] = [n for n, page in enumerate(others) if "Annex to the certificate" in page]
    header = "Annex to the duct leakage test certificate"
    assert header not in first
    assert [header in page for page in others] == [n >= start for n in range(len(others))]
    assert len(others) > start + 1


@pytest.mark.parametrize("lines", range(18, 40, 2))
def test_that_an_introduction_stays_with_what_it_introduces(homeowner: Template, lines: int):
    told = [b.Paragraph((b.TextSpan(f"Sentence {n}."),)) for n in range(3)]
    for blocks in ((told[0], table(80, "row")), told):
        pages = pages_with(homeowner, filler(lines), b.Heading("Section"), *blocks)
        page, *more = [page for page in pages if "Section" in page]
        assert all("Section (continued)" in later for later in more)
        assert "Sentence 0." in page
        assert ("row 0" if len(blocks) == 2 else "Sentence 2.") in page


def test_that_the_last_lines_of_a_budget_stay_together(homeowner: Template):
    columns = (b.Column("One"), b.Column("Two"))
    rows = tuple((f"row {number}", "x") for number in range(30))
    for lines in range(4, 16):
        budget = b.Table(columns, rows, total=True, kept=3)
        pages = pages_with(homeowner, filler(lines), b.Lines(("more",) * 8), budget)
        [page] = [page for page in pages if "row 29" in page]
        assert "row 28" in page
        assert "row 27" in page


def test_that_a_job_without_leaks_says_so_on_one_page(homeowner: Template):
    pages = pages_of(drawn(build(homeowner, report_input(with_leaks(0)))))
    [page] = [page for page in pages if "The leaks we found" in page]
    assert "No leak was written down one by one" in page


@pytest.mark.parametrize(
    ("lines", "pages", "at_usual_size"), [(10, 1, 1), (22, 1, 1), (31, 1, 2), (40, 2, 2)]
)
def test_that_photographs_are_smaller_only_where_that_spares_a_page(
    homeowner: Template, lines: int, pages: int, at_usual_size: int
):
    data = BytesIO()
    Image.new("RGB", (400, 300), (90, 120, 150)).save(data, "JPEG")
    pair = tuple(b.Picture("photo", f"Caption {number}", "drawing", "none") for number in (1, 2))
    document = build(homeowner, report_input(Job()))

    def paper(least: float) -> bytes:
        blocks = (filler(lines), b.Pictures(pair, height=0.75, least=least))
        return drawn(replace(document, blocks=blocks), {"photo": data.getvalue()})

    usual, may_shrink, one_size = paper(0.75), paper(0.45), paper(0.0)
    assert usual == one_size
    assert (len(pages_of(may_shrink)), len(pages_of(usual))) == (pages, at_usual_size)
    assert (may_shrink == usual) == (pages == at_usual_size)


def test_that_rows_parted_from_their_heading_stand_under_it_again_on_each_page(
    homeowner: Template,
):
    rows = tuple(b.ArithmeticStep(f"step {n}", "a + b", f"a = {n}", "x") for n in range(90))
    for parted in (b.Steps(rows), table(90, "step")):
        pages = pages_with(homeowner, b.Heading("First test"), parted)
        assert len(pages) > 2
        assert all("First test (continued)" in page for page in pages[1:])
        assert "continued" not in pages[0]
        last = pages[-1]
        assert last.index("(continued)") < last.index("step 8")


# What the lines of arithmetic are called; they have no heads of columns.
ARITHMETIC = r"(Baseline|Induced pressure|Flow (from|at|of)|Leakage (per|as|at)|Spread|Equivalent)"


def test_that_no_page_of_a_record_begins_with_arithmetic_of_nobody_knows_which_test(
    technical: Template,
):
    for name in ("larkspur", "maple", "crossover"):
        pages = pages_of(drawn(build(technical, report_input(sample(name)))))
        assert [page for page in pages if re.match(ARITHMETIC, page)] == []
        assert any("(continued)" in page.splitlines()[0] for page in pages)


def test_that_a_few_lines_are_not_left_on_a_page_of_their_own(homeowner: Template):
    """Text is set a little tighter where that spares a page that would be nearly empty."""
    seen = 0
    for count in range(24, 60, 2):
        told = [b.Paragraph((b.TextSpan(f"line {number}"),)) for number in range(count)]
        pages = pages_with(homeowner, *told)
        lines = [len(re.findall(r"line \d+", page)) for page in pages]
        assert sum(lines) == count
        assert len(lines) == 1 or lines[-1] >= lines[0] / 10
        seen = max(seen, len(lines))
    assert seen == 2


@pytest.mark.parametrize("lines", range(22, 40))
def test_that_a_note_between_two_headings_stays_with_the_second(homeowner: Template, lines: int):
    note = b.Paragraph((b.TextSpan("A note."),), b.TextRole.QUIET)
    heads = (b.Heading("Annex", 1), note, b.Heading("First test", 3))
    pages = pages_with(homeowner, filler(lines), *heads, table(60, "row"))
    [page] = [page for page in pages if "Annex" in page]
    assert "First test" in page
    assert "row 0" in page
