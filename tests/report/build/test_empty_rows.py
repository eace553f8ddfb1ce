"""A row that was added and left empty stays in the job and says nothing on any paper."""

from __future__ import annotations

import pytest
from report_jobs import report_input, sample
from report_parts import ROOT
from report_text import texts_in

from deskapp.assess.evaluate import evaluate
from deskapp.domain.paths import insert, rows_at
from deskapp.report.build.document import build
from deskapp.report.template import read_template
from deskapp.session.rows import new_row

KINDS = ("homeowner", "compliance", "technical", "retest")
LISTS = ("appliances", "registers", "tests.0.readings", "fans.0.rings")


@pytest.mark.parametrize("kind", KINDS)
@pytest.mark.parametrize("rows", LISTS)
def test_that_an_empty_row_prints_nothing(kind: str, rows: str) -> None:
    template = read_template(ROOT / "report_templates" / f"{kind}.toml")
    job = sample("maple")
    more = insert(job, rows, len(rows_at(job, rows)), new_row(job, rows))
    before, after = (texts_in(build(template, report_input(one)).blocks) for one in (job, more))
    assert after == before


@pytest.mark.parametrize("rows", LISTS)
def test_that_an_empty_row_changes_no_result(rows: str) -> None:
    job = sample("maple")
    more = insert(job, rows, len(rows_at(job, rows)), new_row(job, rows))
    before, after = evaluate(job), evaluate(more)
    assert after.systems == before.systems
    assert after.findings == before.findings
    assert [one.flow for one in after.tests] == [one.flow for one in before.tests]
