"""Offering and bringing back what was not saved."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from deskapp.archive.recovery import ASIDE, left_behind
from deskapp.session import recovery
from deskapp.session.autosave import Autosave
from deskapp.session.editor import Editor
from deskapp.session.holding import InUse, let_go
from deskapp.session.opening import JobFileProblem, new_job, open_job, open_to_edit
from deskapp.session.recovery import find_offers
from deskapp.session.resources import Shelf
from deskapp.session.saving import save, save_as
from deskapp.session.settings import Preferences
from tests.crashing import leave_copy


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return tmp_path / "recovery"


@pytest.fixture
def path(editor: Editor, tmp_path: Path) -> Path:
    """The saved job."""
    editor.enter("number", "A-1")
    return save_as(editor, tmp_path / "a.ductjob")


@pytest.fixture
def crashed(editor: Editor, path: Path, root: Path) -> Path:
    editor.enter("number", "A-2")
    editor.add_row("tests.0.readings")
    leave_copy(editor, root)
    return path


def test_that_nothing_is_offered_where_nothing_was_left(root: Path) -> None:
    assert find_offers(root) == ((), ())


def test_that_an_offer_tells_which_job_when_and_what_differs(crashed: Path, root: Path) -> None:
    (offer,), findings = find_offers(root)
    assert findings == ()
    assert (offer.name, offer.path, offer.is_saved_there) == ("A-2", crashed, True)
    assert offer.written.year >= 2026
    assert offer.differs == "Entries that differ: Job number; Reading 2 (test 1)."
    assert offer.remark == ""
    assert offer.counts == "2 readings instead of 1"
    assert not offer.may_hide
    saved = open_job(crashed, Shelf(), Preferences())
    assert saved.job.number == "A-1", "nothing is restored unasked"
    offer.copy.let_go()
    assert len(find_offers(root)[0]) == 1, "an offer nobody answered is made again"


def test_that_recovering_opens_the_job_unsaved_with_one_step_back_to_what_is_saved(
    crashed: Path, root: Path
) -> None:
    (offer,), _ = find_offers(root)
    editor = recovery.recover(offer, Shelf(), Preferences())
    assert editor.job.number == "A-2"
    assert editor.path == crashed
    assert editor.is_dirty
    assert editor.undo_label == "Undo recovered changes"
    editor.undo()
    assert editor.job.number == "A-1"
    assert not editor.is_dirty
    editor.redo()
    save(editor)
    let_go(editor)
    assert open_job(crashed, Shelf(), Preferences()).job.number == "A-2"


@pytest.mark.usefixtures("crashed")
def test_that_a_copy_being_recovered_stays_until_the_job_is_safe_again(root: Path) -> None:
    (offer,), _ = find_offers(root)
    editor = recovery.recover(offer, Shelf(), Preferences())
    saver = Autosave(root, pause=0.0)
    saver.follow(editor, offer.copy)
    assert offer.copy.folder.exists()
    save(editor)
    assert not offer.copy.folder.exists()
    let_go(editor)


def test_that_keeping_both_leaves_the_saved_file_and_writes_another(
    crashed: Path, root: Path
) -> None:
    before = crashed.read_bytes()
    (offer,), _ = find_offers(root)
    editor = recovery.keep_both(offer, Shelf(), Preferences())
    assert crashed.read_bytes() == before
    assert editor.path is not None
    assert editor.path.parent == crashed.parent
    assert editor.path.name.startswith("a recovered ")
    assert editor.job.number == "A-2"
    assert find_offers(root) == ((), ())
    let_go(editor)


def test_that_a_job_never_saved_is_recovered_without_a_file(root: Path) -> None:
    editor = new_job(Shelf(), Preferences())
    editor.enter("title", "Lot 14")
    leave_copy(editor, root)
    (offer,), _ = find_offers(root)
    assert (offer.name, offer.path) == ("Lot 14", None)
    assert offer.differs == "It was never saved in a file."
    with pytest.raises(JobFileProblem):
        recovery.keep_both(offer, Shelf(), Preferences())
    again = recovery.recover(offer, Shelf(), Preferences())
    assert again.job == editor.job
    assert again.path is None
    assert again.is_dirty


def test_that_a_saved_file_that_is_gone_or_changed_is_told(crashed: Path, root: Path) -> None:
    other = open_job(crashed, Shelf(), Preferences())
    other.enter("title", "changed elsewhere")
    save(other)
    let_go(other)
    (offer,), _ = find_offers(root)
    assert "changed after" in offer.remark
    offer.copy.let_go()
    crashed.unlink()
    (offer,), _ = find_offers(root)
    assert not offer.is_saved_there
    assert "There is no file" in offer.differs
    editor = recovery.recover(offer, Shelf(), Preferences())
    assert editor.path is None
    assert editor.is_dirty


@pytest.mark.parametrize(
    ("later", "age", "may_hide"),
    [(60, "newer", False), (0, "as old as", False), (-60, "older", True)],
)
def test_that_a_copy_tells_whether_it_is_newer_than_the_saved_file(
    crashed: Path, root: Path, later: int, age: str, may_hide: bool
) -> None:
    (offer,), _ = find_offers(root)
    when = offer.written.timestamp() - later
    offer.copy.let_go()
    os.utime(crashed, (when, when))
    (offer,), _ = find_offers(root)
    assert offer.saved_on is not None
    assert offer.saved_on.timestamp() == when
    assert offer.age == f"{age} {'' if later == 0 else 'than '}the saved file"
    assert offer.may_hide is may_hide


def test_that_a_copy_that_holds_fewer_rows_says_so_and_may_hide_some(
    editor: Editor, path: Path, root: Path
) -> None:
    for _each in range(3):
        editor.add_row("leaks")
    editor.path = path
    save(editor, over=True)
    editor.remove_row("leaks.0")
    leave_copy(editor, root)
    (offer,), _ = find_offers(root)
    assert offer.counts == "3 leaks instead of 4"
    assert offer.may_hide


def test_that_what_is_saved_by_now_is_not_offered(editor: Editor, path: Path, root: Path) -> None:
    editor.enter("number", "A-2")
    leave_copy(editor, root)
    editor.path = path
    save(editor, over=True)
    let_go(editor)
    assert find_offers(root) == ((), ())
    assert list(root.iterdir()) == []


def test_that_a_copy_that_cannot_be_read_is_set_aside_at_the_second_start(
    crashed: Path, root: Path
) -> None:
    assert crashed.exists()
    (folder,) = root.iterdir()
    (folder / "job.json").write_text("{ half", encoding="utf-8")
    offers, (finding,) = find_offers(root)
    assert offers == ()
    assert "A-2" in finding.what
    assert "once more" in finding.mend
    offers, (finding,) = find_offers(root)
    assert offers == ()
    assert "set aside" in finding.mend
    assert find_offers(root) == ((), ())
    assert (root / ASIDE / folder.name / "job.json").exists()


def test_that_a_recovery_during_which_the_program_ends_twice_is_set_aside(
    crashed: Path, root: Path
) -> None:
    for _start in range(2):
        (offer,), _ = find_offers(root)
        editor = recovery.recover(offer, Shelf(), Preferences())
        let_go(editor)
        offer.copy.let_go()
    offers, (finding,) = find_offers(root)
    assert offers == ()
    assert "did not succeed twice" in finding.what
    assert crashed.exists()
    assert left_behind(root) == ()


def test_that_a_job_open_elsewhere_cannot_be_recovered_over(crashed: Path, root: Path) -> None:
    (offer,), _ = find_offers(root)
    first = open_to_edit(crashed, Shelf(), Preferences())
    for _turn in range(3):
        with pytest.raises(InUse):
            recovery.recover(offer, Shelf(), Preferences())
    assert offer.copy.about.tries == 0, "nothing was wrong with the copy"
    let_go(first)
