"""Papers by mail: the words, and the draft that each system opens in its own way."""

from __future__ import annotations

import ctypes
import shutil
from collections.abc import Sequence
from datetime import date
from email.headerregistry import Address
from pathlib import Path
from urllib.parse import parse_qs, urlsplit

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.session import mail_windows
from deskapp.session.branding import load
from deskapp.session.editor import Editor
from deskapp.session.mail_draft import MailDraft, draft_for, open_with_files, wrong_address
from deskapp.session.reports import ReportOrder, order_reports
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences

DRAFT = MailDraft("jordan@example.org", "Your test; 5 % & more", "Hello,\nall is well.")


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def editor(shelf: Shelf) -> Editor:
    editor = open_sample("", shelf, Preferences())
    editor.enter("client.email", "jordan@example.org")
    return editor


def ordered(editor: Editor, folder: Path, spoken: str = "") -> ReportOrder:
    return order_reports(editor, load(folder / "none.toml"), date(2026, 3, 12), spoken)


def test_that_the_draft_names_owner_place_and_tester(editor: Editor, tmp_path: Path) -> None:
    draft = draft_for(ordered(editor, tmp_path))
    assert draft.to == Address(addr_spec=draft.to).addr_spec == "jordan@example.org"
    assert editor.job.number in draft.subject
    assert draft.text.startswith(f"Hello {editor.job.client.name},")
    assert editor.job.site.address in draft.text
    assert draft.text.rstrip().split("\n\n")[-1].startswith("Kind regards")


def test_that_the_draft_of_an_empty_job_has_no_gaps(shelf: Shelf, tmp_path: Path) -> None:
    from deskapp.domain.job import Job

    draft = draft_for(ordered(Editor(Job(), shelf, Preferences()), tmp_path))
    assert draft.to == ""
    assert draft.text.startswith("Hello,\n\n")
    assert "  " not in draft.text
    assert "\n\n\n" not in draft.text


def test_that_the_draft_speaks_the_language_of_the_reports(editor: Editor, tmp_path: Path) -> None:
    made_up = draft_for(ordered(editor, tmp_path, "qps"))
    assert "Kind regards" not in made_up.text
    assert editor.job.site.address in made_up.text


def test_that_the_link_is_read_back_whole_by_a_general_library() -> None:
    parts = urlsplit(DRAFT.link)
    asked = parse_qs(parts.query)
    assert (parts.scheme, parts.path) == ("mailto", DRAFT.to)
    assert asked["subject"] == [DRAFT.subject]
    assert asked["body"] == [DRAFT.text.replace("\n", "\r\n")]


def test_that_a_long_text_gives_a_link_every_system_takes() -> None:
    # 2,048 characters is the least that common systems pass on (common practice, no source).
    assert len(MailDraft("a@example.org", "S", "ü" * 5000).link) < 2048


def test_that_linux_is_asked_by_its_own_command(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    # Options of xdg-email as its manual page has them: --utf8, --subject, --body, --attach FILE.
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    asked: list[list[str]] = []
    files = (tmp_path / "a b.pdf", tmp_path / "c.pdf")
    draft = MailDraft(DRAFT.to, DRAFT.subject, DRAFT.text, files)

    def run(command: Sequence[str]) -> int:
        asked.append(list(command))
        return 0

    assert open_with_files(draft, "linux", run)
    (words,) = asked
    assert words[0] == "/usr/bin/xdg-email"
    assert words[-1] == DRAFT.to
    assert [words[at + 1] for at, word in enumerate(words) if word == "--attach"] == [
        str(path) for path in files
    ]


def test_that_nothing_is_said_to_be_open_where_no_program_takes_it(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(shutil, "which", lambda _name: "/usr/bin/xdg-email")
    assert not open_with_files(DRAFT, "linux", lambda _command: 3)
    monkeypatch.setattr(shutil, "which", lambda _name: None)
    assert not open_with_files(DRAFT, "linux", lambda _command: 0)
    assert not mail_windows.open_draft(("a@example.org",), "S", "T", ())


def test_that_the_words_reach_the_other_system_as_arguments_of_a_fixed_script() -> None:
    asked: list[list[str]] = []

    def run(command: Sequence[str]) -> int:
        asked.append(list(command))
        return 0

    assert open_with_files(DRAFT, "darwin", run)
    program, script, *words = asked[0]
    assert program == "osascript"
    assert "visible:true" in Path(script).read_text(encoding="utf-8")
    assert "send" not in Path(script).read_text(encoding="utf-8").split()
    assert words == [DRAFT.to, DRAFT.subject, DRAFT.text]


def test_that_the_records_for_windows_are_laid_out_as_its_interface_says(tmp_path: Path) -> None:
    # MAPI.H, MapiMessageW, MapiRecipDescW, MapiFileDescW: order and kinds of the members (from
    # memory of the documented header); with 4-byte ULONG and 8-byte pointers that gives 104 bytes
    # on 64-bit Windows. ULONG has 8 bytes where this test may run, so the order is looked at.
    message = mail_windows.message_of(["a@example.org"], "S", "one\ntwo", [tmp_path / "x.pdf"])
    names = [name for name, _kind in mail_windows.Message._fields_]
    assert names.index("subject") == 1
    assert names[-4:] == ["people_count", "people", "file_count", "files"]
    assert message.text == "one\r\ntwo"
    assert message.people[0].address == "SMTP:a@example.org"
    assert message.files[0].path == str(tmp_path / "x.pdf")
    assert ctypes.sizeof(mail_windows.Person) % ctypes.sizeof(ctypes.c_void_p) == 0


@pytest.mark.parametrize(
    "typed", ["a@@b, ", "a@", "@b", "pat", "a@x.org, b c@x.org", "a@x.org b@y.org"]
)
def test_that_a_wrong_address_is_named_with_what_is_allowed_and_how_to_mend_it(typed: str) -> None:
    finding = wrong_address(typed)
    assert finding is not None
    assert "To: “" in finding.what and "one @" in finding.allowed and finding.mend


@pytest.mark.parametrize("typed", ["", " ", "a@x.org", "a@x.org, b@y.org", "a@x.org; b@y.org ;"])
def test_that_good_addresses_are_taken_one_or_several(typed: str) -> None:
    assert wrong_address(typed) is None


def test_that_several_addresses_stand_in_the_link_as_its_standard_says() -> None:
    # RFC 6068, section 2: to = addr-spec *("," addr-spec ).
    draft = MailDraft("a@x.org; b@y.org,", "S", "T")
    assert urlsplit(draft.link).path == "a@x.org,b@y.org"
    assert mail_windows.message_of(draft.addresses, "S", "T", ()).people_count == 2
