"""Each paper keeps its promise of pages, in each language and on each sheet.

The homeowner report has at most four pages, and page 1 is complete in itself. The certificate has
at most two before its annex. No page is nearly empty, and none is half empty but the last ones of a
paper and of a certificate, whose annex begins a sheet so that it can be filed without. No
signature is parted from its statement, and no row or heading stands alone. All of these are rules
of this program; the jobs are invented.
"""

from __future__ import annotations

from datetime import date
from typing import TypeGuard

import pytest
from report_papers import (
    DANGERS,
    JOBS,
    KINDS,
    LANGUAGES,
    MANY,
    all_of,
    document_of,
    laid,
    laid_out,
    lonely_headings,
    lonely_rows,
)
from report_text import squashed

from deskapp.domain.issue import Issue
from deskapp.report import blocks as b
from deskapp.report.archival.structure import Role
from deskapp.report.blocks import Paper

LEAST_FILLED, LEAST_WITHIN = 0.15, 0.5
"""Share of a page that its text reaches down at least: of a last one, and of any other."""
PAGES = {"homeowner": 4, "compliance": 9, "technical": 17, "retest": 3}

each_paper = pytest.mark.parametrize(
    ("job", "spoken", "paper"),
    [(job, spoken, paper) for job in JOBS for spoken in LANGUAGES for paper in Paper],
)


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("spoken", LANGUAGES)
@pytest.mark.parametrize("job", MANY)
def test_that_the_homeowner_gets_four_pages_with_any_number_of_leaks(job, spoken, paper):
    made = laid(job, "homeowner", spoken, paper)
    assert len(made.pages) <= PAGES["homeowner"]
    leaks = MANY[job]()[0].leaks_found
    blocks = made.document.blocks
    [listed] = [block for block in blocks if isinstance(block, b.LeakEntries)]
    assert len(listed.entries) < len(leaks)
    following = blocks[blocks.index(listed) + 1]
    assert isinstance(following, b.Paragraph)
    told = "".join(span.text for span in following.text)
    assert str(len(leaks) - len(listed.entries)) in told


def is_part(block: b.Block) -> TypeGuard[b.PartStart]:
    """Whether a block begins a part with a running header of its own."""
    return isinstance(block, b.PartStart) and bool(block.header)


@pytest.mark.parametrize("kind", KINDS)
@each_paper
def test_that_no_page_is_nearly_empty_and_nothing_stands_alone(kind, job, spoken, paper):
    made = laid(job, kind, spoken, paper)
    assert len(made.pages) <= PAGES[kind]
    assert min(made.filled) >= LEAST_FILLED, made.filled
    headers = {squashed(part.header) for part in made.document.blocks if is_part(part)}
    begun = {
        n for n, page in enumerate(made.pages) if any(one in squashed(page) for one in headers)
    }
    last_ones = {len(made.pages) - 1, min(begun, default=0) - 1}
    within = [share for n, share in enumerate(made.filled) if n not in last_ones]
    assert min(within, default=1.0) >= LEAST_WITHIN, made.filled
    assert lonely_rows(made.structure) == []
    assert lonely_headings(made.structure) == []


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("spoken", LANGUAGES)
@pytest.mark.parametrize("job", [*JOBS, *DANGERS])
def test_that_page_one_of_the_homeowner_is_complete_in_itself(job, spoken, paper):
    document, _photos = document_of(job, "homeowner", spoken, paper)
    end = next(n for n, block in enumerate(document.blocks) if isinstance(block, b.PageBreak))
    following = document.blocks[end + 1]
    assert isinstance(following, b.Heading)
    made = laid(job, "homeowner", spoken, paper)
    assert squashed(made.pages[1]).startswith(squashed(following.text))


@each_paper
def test_that_the_certificate_is_signed_beside_its_statement_on_one_of_two_pages(
    job, spoken, paper
):
    made = laid(job, "compliance", spoken, paper)
    blocks = made.document.blocks
    part = next(block for block in blocks if isinstance(block, b.PartStart))
    signature = next(block for block in blocks if isinstance(block, b.Signature))
    pages = [squashed(page) for page in made.pages]
    annex = next(n for n, page in enumerate(pages) if squashed(part.title) in page)
    assert 1 <= annex <= 2
    [signed] = [n for n, page in enumerate(pages) if squashed(signature.statement) in page]
    assert signed < annex
    assert made.filled[signed] > LEAST_FILLED
    for line in signature.lines:
        assert squashed(line.label) in pages[signed]
        assert squashed(line.value) in pages[signed]


@pytest.mark.parametrize("paper", list(Paper))
@pytest.mark.parametrize("spoken", LANGUAGES)
def test_that_an_issued_certificate_with_long_names_stays_on_two_pages(spoken, paper):
    issue = Issue(
        kind="compliance",
        revision=2,
        number="T-2",
        issued_on=date(2026, 3, 20),
        by="Tester A",
        mark="ab" * 32,
        reason="Serial number of the fan corrected",
        changes=("Serial number of the fan: FA-01, before FA-10",),
    )
    document, photos = document_of("long names", "compliance", spoken, paper, issue)
    part = next(block for block in document.blocks if isinstance(block, b.PartStart))
    assert document.has_issue_mark
    pages = [squashed(page) for page in laid_out(document, photos).pages]
    assert next(n for n, page in enumerate(pages) if squashed(part.title) in page) <= 2
    lines = [
        line for block in document.blocks if isinstance(block, b.Signature) for line in block.lines
    ]
    assert any(all(squashed(line.label) in page for line in lines) for page in pages[:2])


def test_that_a_row_or_heading_left_alone_would_be_found():
    document, photos = document_of("larkspur", "technical", "en", Paper.LETTER)
    structure = laid_out(document, photos).structure
    table = next(one for one in all_of(structure, Role.TABLE) if len(one.parts) > 3)
    for cell in all_of(table.parts[-1], *Role):
        cell.places[:] = [(99, number) for _page, number in cell.places]
    assert [page for page, _rows in lonely_rows(structure)] == [99]
    heading = next(one for one in structure.parts if one.role is Role.H2)
    heading.places[:] = [(98, number) for _page, number in heading.places]
    assert lonely_headings(structure)[0] == 98
