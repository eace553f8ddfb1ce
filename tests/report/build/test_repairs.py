"""The repair on paper, with the sample whose readings are invented."""

from __future__ import annotations

from report_jobs import report_input, sample
from report_parts import ROOT

from deskapp.domain.job import Job
from deskapp.domain.paths import put
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.template import read_template
from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import offered

TEMPLATE = read_template(ROOT / "report_templates" / "technical.toml")
CERTIFICATE = read_template(ROOT / "report_templates" / "compliance.toml")


def test_that_the_ledger_is_a_table_with_doubtful_gains_named():
    document = build(TEMPLATE, report_input(sample("maple")))
    (table,) = [
        block
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[-1].title == "What it tells"
        if block.columns[0].title == "Reading"
    ]
    rows = [tuple(cell.replace("\xa0", " ") for cell in row) for row in table.rows]
    # By hand: 617.4 - 521.4 = 96.0 cfm after leaks 1 and 6; 326.5 - 320.5 after leak 3.
    assert rows[1][:3] == ("Apr 9, 2026, 10:40", "1, 6", "521.4 cfm")
    assert rows[1][3].startswith("96.0 ± ")
    assert [row[4] for row in rows[1:5]] == [
        "Gained",
        "Gained",
        "Not told apart from zero",
        "Gained",
    ]


def said(job: Job) -> str:
    document = build(TEMPLATE, report_input(job))
    paragraphs = [block for block in document.blocks if isinstance(block, b.Paragraph)]
    return " ".join(span.text for one in paragraphs for span in one.text).replace("\xa0", " ")


def test_that_a_retest_tells_the_change_and_any_other_set_up():
    job = sample("maple")
    assert "617.4 cfm before, 167.9 cfm now." in said(job)
    assert "Both were set up alike." in said(job)
    other = put(job, "tests.1.setup.tap_location", "Far register")
    words = said(other)
    assert "Not set up alike: pressure tap at (now Far register, before Supply plenum)." in words
    assert "Both were set up alike" not in words


def test_that_the_certificate_states_the_retest_and_its_annex_the_ledger():
    document = build(CERTIFICATE, report_input(sample("maple")))
    [annex] = [at for at, one in enumerate(document.blocks) if isinstance(one, b.PartStart)]
    first = "".join(
        span.text
        for one in document.blocks[:annex]
        if isinstance(one, b.Paragraph)
        for span in one.text
    ).replace("\xa0", " ")
    # By hand: 617.4 - 167.9 = 449.5 cfm; 449.5 / 617.4 = 72.8 %.
    assert "First result 617.4 cfm, repeat 167.9 cfm: 449.5 ± " in first
    assert "less, 72.8% ± " in first
    assert any(
        isinstance(one, b.Table) and one.columns[0].title == "Reading"
        for one in document.blocks[annex:]
    )
    assert not any(
        isinstance(one, b.Table) and one.columns[0].title == "Reading"
        for one in document.blocks[:annex]
    )


def changes(job: Job) -> list[str]:
    document = build(CERTIFICATE, report_input(job))
    [table] = [
        block
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[-1].title == "Change"
    ]
    return [row[-1].replace("\xa0", " ") for row in table.rows]


def test_that_certificate_and_retest_report_tell_the_same_change_or_both_none():
    # By hand: (167.9 - 617.4) / 617.4 = -72.8 %.
    job = sample("maple")
    assert changes(job) == ["–", "−72.8%"]
    assert offered(report_input(job).assessment) == tuple(ReportKind)
    unnamed = put(job, "tests.1.retest_of", "")
    assert changes(unnamed) == ["–", "–"]
    assert ReportKind.RETEST not in offered(report_input(unnamed).assessment)
