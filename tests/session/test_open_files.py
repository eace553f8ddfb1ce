"""A job file between its windows, and between this program and others."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.archive.file_hold import lock_path_of
from deskapp.session import opening
from deskapp.session.editor import Editor
from deskapp.session.holding import InUse, in_use_words, let_go
from deskapp.session.opening import JobFileProblem, open_to_read
from deskapp.session.resources import Shelf
from deskapp.session.saving import save, save_as
from deskapp.session.settings import Preferences


@pytest.fixture
def path(editor: Editor, tmp_path: Path) -> Path:
    editor.enter("number", "A-1")
    path = save_as(editor, tmp_path / "a.ductjob")
    let_go(editor)
    return path


def open_to_edit(path: Path, before: Editor | None = None) -> Editor:
    return opening.open_to_edit(path, Shelf(), Preferences(), before)


def test_that_a_second_opening_says_who_has_the_job(path: Path) -> None:
    first = open_to_edit(path)
    with pytest.raises(InUse) as caught:
        open_to_edit(path)
    words = in_use_words(path, caught.value)
    assert words.startswith("a.ductjob is open on the computer ")
    assert caught.value.holder is not None
    assert caught.value.holder.user in words
    assert Preferences().formatter.moment(caught.value.holder.since.isoformat()) in words
    let_go(first)
    let_go(open_to_edit(path))


def test_that_a_copy_to_read_has_no_file_of_its_own(path: Path) -> None:
    first = open_to_edit(path)
    copy = open_to_read(path, Shelf(), Preferences())
    assert copy.job == first.job
    with pytest.raises(JobFileProblem):
        save(copy)
    let_go(first)


def test_that_the_same_job_opened_again_in_its_own_window_keeps_its_hold(path: Path) -> None:
    first = open_to_edit(path)
    second = open_to_edit(path, first)
    let_go(first)
    with pytest.raises(InUse):
        open_to_edit(path)
    let_go(second)
    assert not lock_path_of(path).exists()


def test_that_a_file_that_cannot_be_opened_is_not_held(tmp_path: Path) -> None:
    broken = tmp_path / "broken.ductjob"
    broken.write_bytes(b"no zip at all")
    for _turn in range(2):
        with pytest.raises(JobFileProblem):
            open_to_edit(broken)
    assert list(tmp_path.iterdir()) == [broken]


def test_that_saving_under_another_name_moves_the_hold(path: Path) -> None:
    editor = open_to_edit(path)
    second = save_as(editor, path.with_name("b"))
    let_go(open_to_edit(path))
    with pytest.raises(InUse):
        open_to_edit(second)
    let_go(editor)


def test_that_a_job_open_elsewhere_is_not_saved_over(path: Path) -> None:
    first = open_to_edit(path)
    other = Editor(first.job, Shelf(), Preferences())
    other.enter("number", "B-1")
    with pytest.raises(JobFileProblem) as caught:
        save_as(other, path)
    assert caught.value.code == "in-use"
    assert other.is_dirty
    assert job_file.read(path).job.number == "A-1"
    let_go(first)


def test_that_a_file_changed_outside_is_only_written_over_when_told_to(path: Path) -> None:
    editor = open_to_edit(path)
    editor.enter("number", "A-2")
    changed = editor.job.model_copy(update={"title": "from another program"})
    job_file.write(path, changed, {})
    ways: tuple[Callable[[Editor], object], ...] = (
        save,
        lambda one: save_as(one, path),
    )
    for way in ways:
        with pytest.raises(JobFileProblem) as caught:
            way(editor)
        assert caught.value.code == "changed-outside"
    assert job_file.read(path).job.title == "from another program"
    assert editor.is_dirty
    save(editor, over=True)
    assert job_file.read(path).job.title == ""
    editor.enter("number", "A-3")
    save(editor)
    let_go(editor)


def test_that_a_file_that_was_removed_outside_is_written_anew(path: Path) -> None:
    editor = open_to_edit(path)
    path.unlink()
    editor.enter("number", "A-2")
    save(editor)
    assert job_file.read(path).job.number == "A-2"
    let_go(editor)


def test_that_a_job_in_a_place_without_locks_opens_all_the_same(
    path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*_arguments: object, **_options: object) -> int:
        raise PermissionError

    with monkeypatch.context() as patched:
        patched.setattr("deskapp.archive.file_hold.os.open", refuse)
        editor = open_to_edit(path)
    assert editor.hold is None
    assert editor.job.number == "A-1"
