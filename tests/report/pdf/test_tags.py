"""A screen reader follows a report in its order: every block is tagged, nothing said twice."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from io import BytesIO
from itertools import pairwise

import pikepdf
import pytest
from report_jobs import report_input, retrofit, rough_in, with_leaks
from report_tags import tags_of
from report_text import drawn, squashed, texts_in

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.archival.structure import Outline, Role
from deskapp.report.build.document import build

KINDS = ["homeowner", "compliance"]
JOBS = {"rough-in": rough_in, "retrofit": lambda: retrofit()[0], "many": lambda: with_leaks(40)}
HEADINGS = ("H1", "H2", "H3", "H4", "H5", "H6")
PHOTO = b.Picture("none", "caption", "what it shows", "not there")


def tags_with(homeowner, *blocks: b.Block):
    document = replace(build(homeowner, report_input(Job())), blocks=blocks)
    return tags_of(drawn(document))


def headings_in(blocks) -> list[str]:
    inner = (block.blocks if isinstance(block, b.KeepTogether) else (block,) for block in blocks)
    return [
        block.text if isinstance(block, b.Heading) else block.title
        for group in inner
        for block in group
        if isinstance(block, b.Heading | b.Letterhead | b.PartStart)
    ]


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(JOBS))
def test_that_headings_stand_in_order_and_leave_out_no_level(kind, name, request):
    document = build(request.getfixturevalue(kind), report_input(JOBS[name]()))
    found = tags_of(drawn(document)).all(*HEADINGS)
    assert [squashed(tag.text) for tag in found] == [
        squashed(text) for text in headings_in(document.blocks)
    ]
    levels = [int(tag.role[1]) for tag in found]
    assert levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    assert levels.count(1) == 1


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(JOBS))
def test_that_every_text_of_the_blocks_is_read_out(kind, name, request):
    document = build(request.getfixturevalue(kind), report_input(JOBS[name]()))
    read = squashed(tags_of(drawn(document)).text)
    for text in texts_in(document.blocks):
        assert squashed(text) in read, text


@pytest.mark.parametrize("kind", KINDS)
def test_that_running_header_and_foot_are_not_read_out(kind, request):
    document = build(request.getfixturevalue(kind), report_input(rough_in()))
    marked = replace(
        document, running=b.Running("Headleft", "Headright", "Footleft", "Sheet {page} {pages}")
    )
    pdf = drawn(marked)
    assert "Sheet" not in tags_of(pdf).text
    assert "Footleft" not in tags_of(pdf).text


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("name", list(JOBS))
def test_that_every_figure_says_in_words_what_it_shows(kind, name, request):
    document = build(request.getfixturevalue(kind), report_input(JOBS[name]()))
    figures = tags_of(drawn(document)).all("Figure")
    assert all(figure.alternative and "/BBox" in figure.attributes for figure in figures)
    told = {
        block.description
        for block in document.blocks
        if isinstance(block, b.Scale | b.Plot | b.Bars)
    }
    assert told <= {figure.alternative for figure in figures}


def test_that_photographs_have_words_and_their_caption_inside(homeowner):
    job, photos = retrofit()
    document = build(homeowner, report_input(job, photos=photos))
    figures = [figure for figure in tags_of(drawn(document, photos)).all("Figure") if figure.inside]
    captions = [photo.caption for leak in job.leaks for photo in leak.photos]
    assert [figure.all("Caption")[0].text for figure in figures] == captions


def test_that_a_photograph_without_caption_says_of_what_it_is(homeowner):
    job, photos = retrofit()
    leak = job.leaks[0]
    bare = tuple(photo.model_copy(update={"caption": ""}) for photo in leak.photos)
    leaks = (leak.model_copy(update={"photos": bare}), *job.leaks[1:])
    changed = job.model_copy(update={"leaks": leaks})
    document = build(homeowner, report_input(changed, photos=photos))
    told = [figure.alternative for figure in tags_of(drawn(document, photos)).all("Figure")]
    assert any(leak.place in words for words in told)


def test_that_a_photograph_that_is_not_there_is_no_figure(homeowner):
    read = tags_with(homeowner, b.Pictures((PHOTO,)))
    assert read.all("Figure") == []
    assert [tag.text for tag in read.all("P")] == ["not there", "caption"]


def test_that_a_table_over_several_pages_is_one_table_with_its_headings_once(homeowner):
    columns = (b.Column("Column one"), b.Column("Column two", b.Align.RIGHT))
    rows = tuple((f"value {number}", "x") for number in range(120))
    [table] = tags_with(homeowner, b.Table(columns, rows, "All of it")).all("Table")
    lines = table.all("TR")
    assert [cell.text for cell in lines[0].all("TH")] == ["Column one", "Column two"]
    assert all(cell.attributes["/Scope"] == "/Column" for cell in lines[0].all("TH"))
    assert [[cell.text for cell in line.all("TD")] for line in lines[1:]] == [
        list(row) for row in rows
    ]
    assert table.text.count("Column one") == 1
    assert table.inside[-1].role == "Caption"


def test_that_a_row_cut_by_a_page_break_is_one_row(homeowner):
    words = " ".join(f"w{number}" for number in range(3000))
    columns = (b.Column("One"), b.Column("Two"))
    [table] = tags_with(homeowner, b.Table(columns, (("a", words), ("z", "last")))).all("Table")
    assert len(table.all("TR")) == 3
    assert squashed(table.all("TD")[1].text) == squashed(words)


@pytest.mark.parametrize("columns", [1, 2, 3])
def test_that_facts_are_read_label_by_label_in_their_order(homeowner, columns):
    facts = tuple(b.Fact(f"label {n}", f"value {n} " * (1 + 9 * (n % 5 == 4))) for n in range(11))
    read = tags_with(homeowner, b.Facts(facts, columns))
    assert all(cell.attributes["/Scope"] == "/Row" for cell in read.all("TH"))
    pairs = [(row.all("TH")[0].text, squashed(row.all("TD")[0].text)) for row in read.all("TR")]
    assert sorted(pairs) == sorted((fact.label, squashed(fact.value)) for fact in facts)
    short = [label for label, value in pairs if len(value) < 20]
    assert short == [fact.label for fact in facts if len(fact.value) < 20]


def test_that_lists_are_lists_and_their_numbers_labels(homeowner):
    items = tuple((b.TextSpan(f"do {number}"),) for number in range(3))
    [found] = tags_with(homeowner, b.Numbered(items)).all("L")
    assert found.attributes["/ListNumbering"] == "/Decimal"
    assert [item.all("Lbl")[0].text for item in found.all("LI")] == ["1", "2", "3"]
    assert [item.all("LBody")[0].text for item in found.all("LI")] == ["do 0", "do 1", "do 2"]


def test_that_signs_and_rules_are_decoration(homeowner):
    banner = b.Banner(b.Sign.PASS, "Passed", ((b.TextSpan("text"),),))
    assert [tag.role for tag in tags_with(homeowner, banner).inside] == ["P", "P"]


def test_that_an_empty_cell_keeps_its_place(homeowner):
    columns = (b.Column("One"), b.Column("Two"))
    [table] = tags_with(homeowner, b.Table(columns, (("", "x"),))).all("Table")
    assert [cell.text for cell in table.all("TD")] == ["", "x"]


@pytest.mark.parametrize("language", ["en", "es", "fr-CA"])
def test_that_the_file_names_its_language_and_shows_its_title(homeowner, language):
    document = replace(build(homeowner, report_input(rough_in())), language=language)
    with pikepdf.open(BytesIO(drawn(document))) as pdf:
        assert pdf.Root.Lang == language
        assert pdf.Root.MarkInfo.Marked is True
        assert pdf.Root.ViewerPreferences.DisplayDocTitle is True
        assert {str(page.Tabs) for page in pdf.pages} == {"/S"}


def test_that_the_outline_closes_gaps_between_levels():
    outline = Outline()
    given = (0, 2, 3, 2, 1, 3, 9, 0)
    levels = [Role.H1, Role.H2, Role.H3, Role.H2, Role.H2, Role.H3, Role.H4, Role.H1]
    assert [outline.role(level) for level in given] == levels


def test_that_reports_can_be_made_at_the_same_time(compliance):
    """The preview draws in one thread while a report is saved in another."""
    document = build(compliance, report_input(with_leaks(12)))
    with ThreadPoolExecutor(4) as threads:
        made = list(threads.map(lambda _number: drawn(document), range(8)))
    assert set(made) == {drawn(document)}
