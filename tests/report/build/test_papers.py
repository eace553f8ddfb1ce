"""Issues, editions and instruments of a report."""

from __future__ import annotations

from datetime import date

from report_jobs import IP, report_input, rough_in, sample

from deskapp.domain.issue import Issue
from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.session.instruments.names import ring_name


def tables(document: b.Document, title: str) -> list[b.Table]:
    found = [block for block in document.blocks if isinstance(block, b.Table)]
    return [table for table in found if table.columns[0].title == title]


def test_that_issues_print_nothing_until_there_is_one(technical):
    source = report_input(rough_in())
    headings = {x.text for x in build(technical, source).blocks if isinstance(x, b.Heading)}
    assert "Issues of this record" not in headings
    told = {"kind": "technical", "mark": "0" * 64, "by": "Tester A"}
    days = {1: date(2026, 3, 12), 2: date(2026, 3, 20)}
    said = {1: "First issue", 2: "Serial number of the fan corrected"}
    issues = tuple(
        Issue(revision=n, number=f"T-{n}", issued_on=days[n], reason=said[n], **told) for n in days
    )
    job = rough_in().model_copy(update={"issued": issues})
    [table] = tables(build(technical, report_input(job)), "Issue")
    assert [row[0] for row in table.rows] == ["1", "2"]
    assert table.rows[1][1:] == (
        "Mar\N{NO-BREAK SPACE}20, 2026",
        "Tester A",
        "Serial number of the fan corrected",
    )


def test_that_each_edition_kept_in_the_job_is_listed_with_the_row_used(technical):
    job = sample("larkspur")
    [table] = tables(build(technical, report_input(job)), "Edition")
    kept = {limit.edition.name for limit in job.compliance.limits}
    assert {row[0] for row in table.rows} == kept
    for row in table.rows:
        edition = next(x.edition for x in job.compliance.limits if x.edition.name == row[0])
        assert row[2] == str(len(edition.rows))
        assert any(one.title in row[3] for one in edition.rows)


def test_that_gauges_and_fans_stand_with_their_dates_or_that_they_are_not_recorded(compliance):
    job = sample("maple")
    [table] = tables(build(compliance, report_input(job)), "Instrument")
    assert [row[1] for row in table.rows] == ["GA-02", "FA-02"]
    assert all(row[5] == "Aug\N{NO-BREAK SPACE}15, 2026" for row in table.rows)
    bare = job.model_copy(update={"gauges": (job.gauges[0].model_copy(update={"due_on": None}),)})
    [table] = tables(build(compliance, report_input(bare)), "Instrument")
    assert table.rows[0][5] == "not recorded"
    said = [x for x in build(compliance, report_input(Job())).blocks if isinstance(x, b.Paragraph)]
    assert any(span.text == "No instrument is recorded." for one in said for span in one.text)


def test_that_a_block_not_shown_prints_nothing_and_leaves_the_rest(compliance):
    source = report_input(sample("maple"))
    blocks = tuple(
        spec.model_copy(update={"shown": spec.kind != "instrument_table"})
        for spec in compliance.block
    )
    whole = build(compliance, source).blocks
    rest = build(compliance.model_copy(update={"block": blocks}), source).blocks
    assert len(rest) == len(whole) - 2
    assert not [x for x in rest if isinstance(x, b.Heading) and "Instruments" in x.text]


def test_that_a_ring_without_a_flow_range_is_called_as_in_the_window(technical):
    job = sample("maple")
    rings = tuple(
        ring.model_copy(update={"flow_low": None}) if ring.flow_low else ring
        for ring in job.fans[0].rings
    )
    fan = job.fans[0].model_copy(update={"rings": rings})
    document = build(technical, report_input(job.model_copy(update={"fans": (fan,)})))
    [table] = tables(document, "Ring")
    in_window = [ring_name(ring, position, IP) for position, ring in enumerate(rings)]
    assert [row[0] for row in table.rows] == in_window == ["Ring 1", "Ring 2", "Ring 3"]
