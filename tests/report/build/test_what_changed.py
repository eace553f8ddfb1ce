"""The retest report: before and after, with the uncertainty of the change."""

from __future__ import annotations

import pytest
from report_jobs import IP, report_input, sample
from report_text import drawn, pages_of, squashed, texts_in

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.template import Template
from deskapp.units.kinds import Kind


def words(document: b.Document) -> str:
    return " ".join(texts_in(document.blocks)).replace("\N{NO-BREAK SPACE}", " ")


def test_that_before_and_now_stand_on_one_scale_with_the_limit(retest: Template):
    source = report_input(sample("maple"))
    document = build(retest, source)
    [one] = source.assessment.retests
    [bars] = [block for block in document.blocks if isinstance(block, b.Bars)]
    assert one.limit_flow is not None
    assert bars.limit is not None
    flows = [one.before, one.now, one.limit_flow]
    told = [*bars.bars, bars.limit]
    assert [bar.share for bar in told] == pytest.approx([f / max(flows) for f in flows])
    assert [bar.value for bar in told] == [IP.show(Kind.FLOW, flow) for flow in flows]
    assert [bar.is_before for bar in told] == [True, False, False]
    printed = squashed("".join(pages_of(drawn(document))))
    assert all(squashed(bar.value) in printed for bar in told)
    # By hand, for this invented job: (617.4 - 167.9) / 617.4 = 72.8 %.
    assert "a cut of 72.8%" in words(document)


def test_that_a_set_up_that_differs_is_named_with_both_entries(retest: Template):
    document = build(retest, report_input(sample("maple")))
    [table] = [
        block
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[0].title == "Set-up that differs"
    ]
    [row] = [tuple(cell.replace("\N{NO-BREAK SPACE}", " ") for cell in x) for x in table.rows]
    assert row == ("Ring fitted", "310 to 980 cfm", "120 to 379 cfm", "Less in common")


def test_that_a_change_no_larger_than_its_uncertainty_is_told_so(retest: Template):
    source = report_input(sample("maple"))
    [one] = source.assessment.retests
    lost = one.model_copy(update={"told_apart": False, "uncertainty": 2 * one.reduction})
    assessment = source.assessment.model_copy(update={"retests": (lost,)})
    said = words(build(retest, report_input(source.job, assessment=assessment)))
    assert "cannot tell whether the work changed anything" in said
    assert "a cut of" not in said


def test_that_a_job_without_a_retest_prints_no_comparison(retest: Template):
    assert "What the work changed" not in words(build(retest, report_input(Job())))
