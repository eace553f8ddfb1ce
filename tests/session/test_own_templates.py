"""A company's own templates: changed as drafts, kept as files, chosen per report, never run."""

from __future__ import annotations

import tomllib
from datetime import date
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.finding import Finding
from deskapp.report.template import TemplateProblem, read_template
from deskapp.session import own_templates
from deskapp.session.branding import BrandingFile
from deskapp.session.editor import Editor
from deskapp.session.issuing import issue_report, next_issue
from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import (
    ReportOrder,
    draft_bytes,
    drawn_report,
    make_report,
    order_reports,
)
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences, load, save
from deskapp.session.template_desk import draft_in_use, keep
from deskapp.session.template_draft import WHOLE, TemplateDraft, draft_of, text_of

KINDS = list(ReportKind)
OWNER = ReportKind.HOMEOWNER


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def sample(shelf: Shelf) -> Editor:
    return open_sample("maple", shelf, Preferences())


@pytest.fixture
def draft() -> TemplateDraft:
    return draft_of(templates_folder() / "homeowner.toml")


def ordered(editor: Editor, folder: Path, file: str) -> ReportOrder:
    own = own_templates.chosen(folder, {"homeowner": file})
    return order_reports(editor, BrandingFile(), date(2026, 4, 10), own=own)


def text_in(pdf: bytes) -> str:
    pages = PdfReader(BytesIO(pdf)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def at_of(draft: TemplateDraft, title: str) -> tuple[int, ...]:
    return next(row.at for row in draft.blocks() if row.title == title)


# Drafts


@pytest.mark.parametrize("kind", KINDS)
def test_that_a_draft_written_and_read_again_is_the_same_template(kind: ReportKind, tmp_path: Path):
    path = templates_folder() / f"{kind.value}.toml"
    copy = tmp_path / "copy.toml"
    copy.write_bytes(text_of(draft_of(path)))
    assert read_template(copy) == read_template(path)


@pytest.mark.parametrize("kind", KINDS)
def test_that_every_block_has_a_name_in_plain_words(kind: ReportKind):
    for row in draft_of(templates_folder() / f"{kind.value}.toml").blocks():
        assert row.title[:1].isupper(), row


def test_that_a_block_moves_among_its_neighbors_and_stops_at_the_ends(draft: TemplateDraft):
    order = [row.title for row in draft.blocks()]
    moved, at = draft.moved((0,), 1)
    assert at == (1,)
    assert [row.title for row in moved.blocks()][:2] == [order[1], order[0]]
    assert moved.moved(at, -1) == (draft, (0,))
    assert draft.moved((0,), -1) == (draft, (0,))
    last = (len(draft.data["block"]) - 1,)
    assert draft.moved(last, 1) == (draft, last)


def test_that_a_block_inside_another_moves_within_it():
    record = draft_of(templates_folder() / "technical.toml")
    at = at_of(record, "Tests side by side")
    moved, there = record.moved(at, -1)
    assert len(at) > 1
    assert there == (*at[:-1], at[-1] - 1)
    assert moved.checked().id == "technical"


def test_that_a_block_left_out_stays_in_the_file_and_comes_back(draft: TemplateDraft):
    at = at_of(draft, "All leaks as one hole")
    without = draft.showing(at, is_shown=False)
    row = next(row for row in without.blocks() if row.at == at)
    assert not row.is_shown
    assert tomllib.loads(text_of(without).decode())["block"][at[0]]["shown"] is False
    assert without.showing(at, is_shown=True).checked() == draft.checked()


def test_that_what_warns_of_harm_cannot_be_left_out(draft: TemplateDraft):
    row = next(row for row in draft.blocks() if row.title == "Danger panel")
    assert row.stays
    with pytest.raises(TemplateProblem, match="dangers"):
        draft.showing(row.at, is_shown=False).checked()


def test_that_words_can_be_changed_and_nothing_else(draft: TemplateDraft):
    at = at_of(draft, "What to do next")
    words = draft.words(at)
    assert {"Heading", "Step 1, text"} <= {row.label for row in words}
    assert not {"kind", "when", "unless"} & {str(row.path[-1]) for row in words}
    row = next(row for row in words if row.label == "Heading")
    changed = draft.reworded(at, row.path, "Your next steps")
    assert next(r for r in changed.words(at) if r.label == "Heading").text == "Your next steps"
    assert next(r for r in draft.words(at) if r.label == "Heading").text == row.text


def test_that_header_and_foot_can_be_changed(draft: TemplateDraft):
    row = next(row for row in draft.words(WHOLE) if row.path == ("words", "header_left"))
    changed = draft.reworded(WHOLE, row.path, "A word of ours")
    assert changed.checked().words.header_left == "A word of ours"


def test_that_a_name_that_is_not_known_is_told_with_its_block(draft: TemplateDraft):
    at = at_of(draft, "Head of page 1")
    broken = draft.reworded(at, ("title",), "For {ownr}")
    with pytest.raises(TemplateProblem, match=r"block 1, letterhead.*\{ownr\}.*owner"):
        broken.checked()


# Files


def test_that_a_kept_template_is_listed_chosen_and_printed(
    draft: TemplateDraft, sample: Editor, tmp_path: Path
):
    at = at_of(draft, "Head of page 1")
    own = draft.reworded(at, ("title",), "Our look at your ducts").named("Short & plain")
    preferences = keep(tmp_path, Preferences(), own)
    assert isinstance(preferences, Preferences)
    assert preferences.own_templates == {"homeowner": "short-plain.toml"}
    [listed] = own_templates.own_templates(tmp_path)
    assert (listed.kind, listed.name) == (OWNER, "Short & plain")
    order = ordered(sample, tmp_path, preferences.own_templates["homeowner"])
    printed = drawn_report(order, OWNER).data
    assert "Our look at your ducts" in text_in(printed)
    assert printed == draft_bytes(order, own)


@pytest.mark.parametrize("kind", KINDS)
def test_that_a_template_without_the_code_of_an_issue_gets_it_at_its_end(
    kind: ReportKind, shelf: Shelf, tmp_path: Path
):
    editor = open_sample("larkspur", shelf, Preferences())
    draft = draft_of(templates_folder() / f"{kind}.toml")
    [at] = (row.at for row in draft.blocks() if row.title == "Number and mark of the issue")
    own = draft.showing(at, is_shown=False).named("Ours")
    preferences = keep(tmp_path, Preferences(), own)
    assert isinstance(preferences, Preferences)
    chosen = own_templates.chosen(tmp_path, preferences.own_templates)
    order = order_reports(editor, BrandingFile(), date(2026, 4, 10), own=chosen)
    issue = next_issue(editor.job, kind, date(2026, 4, 10), Preferences(), "Tester A")
    made = issue_report(order, kind, issue, tmp_path / "issued.pdf")
    [note] = (one for one in made.findings if one.code == "issue-mark-added")
    assert "at the end" in note.what
    assert issue.short_mark in text_in(made.path.read_bytes())
    assert issue.short_mark not in text_in(drawn_report(order, kind).data)


def test_that_the_choice_is_remembered(tmp_path: Path):
    chosen = Preferences(own_templates={"technical": "ours.toml"})
    assert save(tmp_path, chosen) is None
    assert load(tmp_path, Preferences()) == (chosen, ())


def test_that_a_template_with_the_name_of_another_gets_a_file_of_its_own(
    draft: TemplateDraft, tmp_path: Path
):
    assert isinstance(keep(tmp_path, Preferences(), draft.named("Ours")), Preferences)
    record = draft_of(templates_folder() / "technical.toml").named("Ours")
    kept = keep(tmp_path, Preferences(), record)
    assert isinstance(kept, Preferences)
    assert kept.own_templates == {"technical": "ours-2.toml"}
    again = keep(tmp_path, Preferences(), draft.named("Ours"))
    assert isinstance(again, Preferences)
    assert again.own_templates == {"homeowner": "ours.toml"}


def test_that_a_broken_draft_is_not_kept(draft: TemplateDraft, tmp_path: Path):
    broken = draft.reworded(at_of(draft, "Head of page 1"), ("title",), "{")
    told = keep(tmp_path, Preferences(), broken)
    assert isinstance(told, Finding)
    assert "a brace stands alone" in told.what
    assert own_templates.own_templates(tmp_path) == ()


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ('id = "homeowner"\ntitel = "x"\n', "ours.toml, line 2 (titel): there is no such entry"),
        ('id = "homeowner', "ours.toml is not well-formed TOML"),
        (None, "ours.toml cannot be read"),
    ],
)
def test_that_a_broken_template_is_told_and_the_shipped_one_stands_in(
    sample: Editor, shelf: Shelf, tmp_path: Path, text: str | None, told: str
):
    (tmp_path / "templates").mkdir()
    if text is not None:
        (tmp_path / "templates" / "ours.toml").write_text(text, encoding="utf-8")
    order = ordered(sample, tmp_path, "ours.toml")
    made = make_report(order, OWNER, tmp_path / "report.pdf")
    [remark] = made.findings
    assert told in remark.text
    assert "The one that came along was used." in remark.text
    plain = order_reports(sample, BrandingFile(), date(2026, 4, 10))
    assert made.path.read_bytes() == drawn_report(plain, OWNER).data
    names = Preferences(own_templates={"homeowner": "ours.toml"})
    ours = draft_of(templates_folder() / "homeowner.toml")
    assert draft_in_use(tmp_path, names, shelf, OWNER) == ours


def test_that_a_template_of_another_report_is_not_used(sample: Editor, tmp_path: Path):
    (tmp_path / "templates").mkdir()
    source = (templates_folder() / "technical.toml").read_text(encoding="utf-8")
    (tmp_path / "templates" / "ours.toml").write_text(source, encoding="utf-8")
    made = make_report(ordered(sample, tmp_path, "ours.toml"), OWNER, tmp_path / "report.pdf")
    assert "is a template of another report" in made.findings[0].text


def test_that_a_choice_cannot_lead_out_of_the_folder(tmp_path: Path):
    for name in ("../../other.toml", "/etc/other.toml", "..\\other.toml"):
        chosen = own_templates.chosen(tmp_path, {"homeowner": name, "unheard": "x.toml"})
        assert chosen == {"homeowner": tmp_path / "templates" / "other.toml"}


def test_that_files_put_into_the_folder_by_hand_are_told(tmp_path: Path) -> None:
    folder = tmp_path / own_templates.FOLDER
    folder.mkdir()
    assert own_templates.template_remarks(tmp_path, {}) == ()
    (folder / "short.toml").write_text('id = "homeowner"\nname = "Short"\n', encoding="utf-8")
    (folder / "nameless.toml").write_text('title = "x"\n', encoding="utf-8")
    (folder / "letters.toml").write_bytes(b"\xff\xfe")
    idle, odd = own_templates.template_remarks(tmp_path, {})
    assert "“Short” (Homeowner report)" in idle
    assert "letters.toml; nameless.toml" in odd
    assert 'id = "homeowner"' in odd
    [still] = own_templates.template_remarks(tmp_path, {"homeowner": "short.toml"})
    assert still == odd
