"""Reports that are handed out, revised, and checked again; the jobs are the invented samples."""

from __future__ import annotations

from datetime import UTC, date, datetime
from io import BytesIO
from pathlib import Path

import pikepdf
import pytest

from deskapp.archive.envelope import job_from_text, text_of
from deskapp.domain.branding import Branding
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.issue import Issue
from deskapp.report.build.papers import paper_code
from deskapp.report.sealing.keys import SigningKey, make_key, open_key
from deskapp.session.branding import BrandingFile
from deskapp.session.changes import changes_between
from deskapp.session.checking import Checked, check_code, check_report
from deskapp.session.editor import Editor
from deskapp.session.issuing import (
    Issued,
    IssueStanding,
    frozen_job,
    further_paper,
    is_handed_out,
    issue_report,
    mark_of,
    next_issue,
    standing,
)
from deskapp.session.job_status import JobStatus, status_of
from deskapp.session.opening import new_job
from deskapp.session.page_words import lines_on
from deskapp.session.reports import ReportKind, ReportProblem, drawn_report, order_reports
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

FIRST, LATER = date(2026, 3, 12), date(2026, 4, 2)
OURS = BrandingFile(Branding())
USUAL = Preferences()
WORDS = "a short sentence"
CERTIFICATE = ReportKind.COMPLIANCE


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def editor(shelf: Shelf) -> Editor:
    return open_sample("", shelf, USUAL)


@pytest.fixture(scope="module")
def key() -> SigningKey:
    now = datetime.now(UTC)
    return open_key(make_key("Tester A", WORDS, now), WORDS)


def issued(
    editor: Editor,
    path: Path,
    day: date = FIRST,
    reason: str = "",
    key: SigningKey | None = None,
    kind: ReportKind = CERTIFICATE,
) -> Issued:
    issue = next_issue(editor.job, kind, day, USUAL, "Tester A", reason)
    order = order_reports(editor, OURS, day)
    made = issue_report(order, kind, issue, path, key, datetime.now(UTC))
    editor.take_issue(made.issue)
    return made


def checked(shelf: Shelf, path: Path) -> Checked:
    return check_report(path.read_bytes(), shelf, USUAL.formatter)


def words_of(found: Checked) -> str:
    return "\n".join(answer.text for answer in found.answers).replace("\N{NO-BREAK SPACE}", " ")


def text_on(path: Path) -> str:
    return " ".join("\n".join(lines_on(path.read_bytes())).split())


def test_that_a_report_is_issued_under_a_number_a_day_and_a_mark(
    editor: Editor, tmp_path: Path
) -> None:
    made = issued(editor, tmp_path / "a.pdf")
    assert (made.issue.revision, made.issue.number, made.issue.by) == (1, "J-0001", "Tester A")
    assert editor.job.issued == (made.issue,)
    printed = text_on(made.path)
    assert "Issue 1 of Mar 12, 2026, by Tester A." in printed
    assert made.issue.short_mark in printed
    assert "takes the place" not in printed


def test_that_a_report_only_saved_carries_no_number(editor: Editor, tmp_path: Path) -> None:
    issued(editor, tmp_path / "a.pdf")
    saved = tmp_path / "b.pdf"
    saved.write_bytes(drawn_report(order_reports(editor, OURS, FIRST), CERTIFICATE).data)
    assert "Issue 1" not in text_on(saved)


def test_that_a_change_overtakes_the_issue_and_undo_restores_it(
    editor: Editor, tmp_path: Path
) -> None:
    assert standing(editor.job, CERTIFICATE) is IssueStanding.NONE
    issued(editor, tmp_path / "a.pdf")
    assert standing(editor.job, CERTIFICATE) is IssueStanding.CURRENT
    editor.enter("comments", "seen again")
    assert standing(editor.job, CERTIFICATE) is IssueStanding.OVERTAKEN
    assert standing(editor.job, ReportKind.HOMEOWNER) is IssueStanding.NONE
    editor.undo()
    assert standing(editor.job, CERTIFICATE) is IssueStanding.CURRENT


def test_that_no_undo_takes_an_issue_back(editor: Editor, tmp_path: Path) -> None:
    at_first = editor.job.comments
    editor.enter("comments", "before")
    made = issued(editor, tmp_path / "a.pdf")
    editor.enter("comments", "after")
    for _step in range(3):
        editor.undo()
    assert editor.job.comments == at_first
    assert editor.job.issued == (made.issue,)
    editor.redo()
    assert editor.job.issued == (made.issue,)


def test_that_the_frozen_job_is_the_job_of_that_day(editor: Editor, tmp_path: Path) -> None:
    before = editor.job
    made = issued(editor, tmp_path / "a.pdf")
    editor.enter("comments", "later")
    assert frozen_job(made.issue) == before
    assert mark_of(before) == made.issue.mark


@pytest.mark.parametrize("frozen", ["", "no base64!", "eJw=", "AAAA"])
def test_that_a_damaged_frozen_job_is_told_and_not_compared(editor: Editor, frozen: str) -> None:
    issue = next_issue(editor.job, CERTIFICATE, FIRST, USUAL)
    damaged = issue.model_copy(update={"frozen": frozen})
    assert frozen_job(damaged) is None
    editor.take_issue(damaged)
    again = next_issue(editor.job, CERTIFICATE, LATER, USUAL)
    assert "cannot be read" in again.changes[0]


def test_that_a_revision_says_what_changed_and_what_it_replaces(
    editor: Editor, tmp_path: Path
) -> None:
    issued(editor, tmp_path / "a.pdf")
    editor.enter("systems.0.area_served", "1,500 ft2")
    editor.add_row("leaks")
    made = issued(editor, tmp_path / "b.pdf", LATER, "Area measured again")
    assert made.issue.revision == 2
    assert [change.replace("\N{NO-BREAK SPACE}", " ") for change in made.issue.changes] == [
        "Floor area served (system 1): 1,520 ft², now 1,500 ft²",
        "Leak 4: added",
    ]
    printed = text_on(made.path)
    assert "takes the place of issue 1" in printed
    assert "Area measured again" in printed
    assert "1,520 ft², now 1,500 ft²" in printed


def test_that_the_technical_record_lists_its_own_issues(editor: Editor, tmp_path: Path) -> None:
    issued(editor, tmp_path / "a.pdf")
    issued(editor, tmp_path / "b.pdf", kind=ReportKind.TECHNICAL, reason="for the file")
    printed = text_on(tmp_path / "b.pdf")
    assert "Issues of this record" in printed
    assert "for the file" in printed


def test_that_a_job_counts_as_issued_until_it_is_changed(editor: Editor, tmp_path: Path) -> None:
    def status() -> JobStatus:
        return status_of(editor.job, editor.assessment, editor.findings)

    assert status() is JobStatus.READY
    issued(editor, tmp_path / "a.pdf")
    assert status() is JobStatus.ISSUED
    editor.enter("comments", "later")
    assert status() is JobStatus.READY


def test_that_many_changes_are_counted(editor: Editor, tmp_path: Path) -> None:
    issued(editor, tmp_path / "a.pdf")
    for number in range(40):
        editor.enter(f"{editor.add_row('leaks')}.place", f"place {number}")
    again = next_issue(editor.job, CERTIFICATE, LATER, USUAL)
    assert len(again.changes) == 12
    assert again.changes[-1] == "29 more changes"


def test_that_a_job_with_issues_is_stored_and_read_again(editor: Editor, tmp_path: Path) -> None:
    issued(editor, tmp_path / "a.pdf")
    assert job_from_text(text_of(editor.job), "job") == editor.job


def test_that_stops_keep_a_certificate_from_being_issued(shelf: Shelf, tmp_path: Path) -> None:
    editor = new_job(shelf, USUAL)
    editor.enter("house.floor_area", "-4 ft2")
    with pytest.raises(ReportProblem):
        issued(editor, tmp_path / "a.pdf")
    assert editor.job.issued == () and not (tmp_path / "a.pdf").exists()


def test_that_a_signed_report_answers_well(
    editor: Editor, shelf: Shelf, key: SigningKey, tmp_path: Path
) -> None:
    made = issued(editor, tmp_path / "a.pdf", key=key)
    found = checked(shelf, made.path)
    assert not found.is_bad
    told = words_of(found)
    assert "Signed as Tester A" in told and "unchanged since" in told
    assert "Compliance report J-0001, issue 1 of Mar 12, 2026, by Tester A." in told
    assert "gives all 6 results that are printed" in told


@pytest.mark.parametrize("kind", list(ReportKind))
@pytest.mark.parametrize("spoken", ["", "es", "fr_CA"])
def test_that_the_figures_are_found_again_in_each_language(
    editor: Editor, shelf: Shelf, tmp_path: Path, kind: ReportKind, spoken: str
) -> None:
    order = order_reports(editor, OURS, FIRST, spoken)
    path = tmp_path / "a.pdf"
    path.write_bytes(drawn_report(order, kind).data)
    found = checked(shelf, path)
    assert not found.is_bad
    assert "worked out again" in words_of(found)
    assert "not signed" in words_of(found) and "not issued" in words_of(found)


def test_that_a_changed_file_is_seen(
    editor: Editor, shelf: Shelf, key: SigningKey, tmp_path: Path
) -> None:
    made = issued(editor, tmp_path / "a.pdf", key=key)
    again = BytesIO()
    with pikepdf.open(made.path) as pdf:
        pdf.pages.append(pdf.pages[0])
        pdf.save(again)
    found = check_report(again.getvalue(), shelf, USUAL.formatter)
    assert found.is_bad
    assert "changed after" in words_of(found)


def with_job_inside(path: Path, data: bytes) -> bytes:
    changed = BytesIO()
    with pikepdf.open(path) as pdf:
        spec = pdf.attachments["job.json"]
        spec.obj.EF.F.write(data)
        pdf.save(changed)
    return changed.getvalue()


def test_that_another_job_inside_is_seen(editor: Editor, shelf: Shelf, tmp_path: Path) -> None:
    made = issued(editor, tmp_path / "a.pdf")
    editor.enter("tests.0.readings.0.fan_signal", "44 Pa")
    found = check_report(with_job_inside(made.path, text_of(editor.job)), shelf, USUAL.formatter)
    assert found.is_bad
    told = words_of(found)
    assert "its mark is another" in told
    assert "do not stand on the pages" in told


@pytest.mark.parametrize("data", [b" ", b"{}", b"\xff\xff", b'{"format": "other"}'])
def test_that_a_file_without_a_job_is_told(
    editor: Editor, shelf: Shelf, tmp_path: Path, data: bytes
) -> None:
    made = issued(editor, tmp_path / "a.pdf")
    found = check_report(with_job_inside(made.path, data), shelf, USUAL.formatter)
    assert found.is_bad and found.job is None
    assert "No job is inside" in words_of(found)


@pytest.mark.parametrize("junk", [b"", b"PK\x03\x04", b"%PDF-1.7\n%%EOF"])
def test_that_what_is_no_report_is_told(shelf: Shelf, junk: bytes) -> None:
    assert check_report(junk, shelf, USUAL.formatter).is_bad


def test_that_the_code_on_paper_is_read_by_a_camera(editor: Editor, tmp_path: Path) -> None:
    """Read by the library ZXing from the drawn squares, with the quiet zone around them."""
    import zxingcpp
    from PIL import Image

    from deskapp.report.pdf.issue_mark import modules

    editor.enter("number", "J-Ñ 7 / łódź")
    code = paper_code(issued(editor, tmp_path / "a.pdf").issue)
    squares = modules(code)
    side = len(squares) + 8
    image = Image.new("L", (side, side), 255)
    for row, line in enumerate(squares):
        for column, is_dark in enumerate(line):
            image.putpixel((column + 4, row + 4), 0 if is_dark else 255)
    large = image.resize((side * 4, side * 4), Image.Resampling.NEAREST)
    (read,) = zxingcpp.read_barcodes(large)
    assert bytes(read.bytes).decode("utf-8") == code


def test_that_a_paper_is_known_by_its_code(editor: Editor, tmp_path: Path) -> None:
    first = issued(editor, tmp_path / "a.pdf").issue
    found = check_code(paper_code(first), editor.job, USUAL.formatter)
    assert not found.is_bad and "latest" in words_of(found)
    editor.enter("comments", "later")
    assert "changed since" in words_of(check_code(first.mark, editor.job, USUAL.formatter))
    second = issued(editor, tmp_path / "b.pdf", LATER).issue
    assert "issue 2" in words_of(check_code(first.short_mark, editor.job, USUAL.formatter))
    assert not check_code(paper_code(second), editor.job, USUAL.formatter).is_bad


@pytest.mark.parametrize("code", ["", "hello", "12", "f" * 16, "DUCTFOLIO\n\n\n", "\0", "٣" * 16])
def test_that_any_other_code_is_refused_in_words(editor: Editor, tmp_path: Path, code: str) -> None:
    issued(editor, tmp_path / "a.pdf")
    found = check_code(code, editor.job, USUAL.formatter)
    assert found.is_bad and words_of(found)


def test_that_a_paper_with_another_number_is_seen(editor: Editor, tmp_path: Path) -> None:
    issue = issued(editor, tmp_path / "a.pdf").issue
    forged = paper_code(issue).replace("J-0001", "J-0002")
    assert "differ from the record" in words_of(check_code(forged, editor.job, USUAL.formatter))


def test_that_changes_are_told_in_the_words_of_the_form(editor: Editor) -> None:
    before = editor.job
    editor.enter("client.name", "Jordan  Example the second")
    editor.choose("house.area_source", None)
    editor.remove_row("leaks.0")
    told = "\n".join(changes_between(before, editor.job, USUAL))
    assert "Owner or customer: Jordan Example, now Jordan Example the second" in told
    assert ": Measured on site, now –" in told
    assert "removed" in told
    assert changes_between(before, before, USUAL) == ()


def test_that_an_issue_has_a_mark_to_read_aloud() -> None:
    issue = Issue(kind="x", revision=1, number="1", issued_on=FIRST, mark="0123456789abcdef" * 4)
    assert issue.short_mark == "0123 4567 89ab cdef"


def test_that_an_empty_row_is_no_change_and_overtakes_nothing(
    editor: Editor, tmp_path: Path
) -> None:
    issued(editor, tmp_path / "a.pdf")
    before = editor.job
    for list_path in ("tests.0.readings", "fans.0.rings", "registers"):
        editor.add_row(list_path)
    assert editor.job != before
    assert changes_between(before, editor.job, USUAL) == ()
    assert standing(editor.job, CERTIFICATE) is IssueStanding.CURRENT
    last = editor.row_count("tests.0.readings") - 1
    editor.enter(f"tests.0.readings.{last}.note", "gusty")
    assert len(changes_between(before, editor.job, USUAL)) == 1
    assert standing(editor.job, CERTIFICATE) is IssueStanding.OVERTAKEN


def test_that_the_technical_record_lists_further_papers_with_language_and_signature(
    editor: Editor, tmp_path: Path
) -> None:
    record = ReportKind.TECHNICAL
    issued(editor, tmp_path / "a.pdf", kind=record)
    further = further_paper(editor.job, record, date(2026, 3, 20), "es", sealed=False)
    assert further is not None
    assert not is_handed_out(editor.job, further)
    order = order_reports(editor, OURS, FIRST, "es")
    made = issue_report(order, record, further, tmp_path / "b.pdf")
    editor.take_issue(made.issue)
    assert is_handed_out(editor.job, further)
    assert len(editor.job.issues_of("technical")) == 1
    with_it = tmp_path / "c.pdf"
    with_it.write_bytes(drawn_report(order_reports(editor, OURS, FIRST), record).data)
    assert "Further paper: Español" in text_on(with_it)
    editor.enter("comments", "seen again")
    assert further_paper(editor.job, record, FIRST, "es", sealed=False) is None
