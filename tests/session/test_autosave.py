"""When a recovery copy is written, by a clock that is set by hand."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.archive.recovery import left_behind
from deskapp.session import autosave
from deskapp.session.autosave import Autosave
from deskapp.session.editor import Editor
from deskapp.session.holding import let_go
from deskapp.session.opening import JobFileProblem
from deskapp.session.saving import save_as


class Clock:
    """Shows the seconds it was set to."""

    def __init__(self) -> None:
        self.now = 100.0

    def __call__(self) -> float:
        return self.now


@pytest.fixture
def clock() -> Clock:
    return Clock()


@pytest.fixture
def root(tmp_path: Path) -> Path:
    return tmp_path / "recovery"


@pytest.fixture
def saver(editor: Editor, root: Path, clock: Clock) -> Autosave:
    saver = Autosave(root, clock)
    saver.follow(editor)
    return saver


def run_due(saver: Autosave) -> bool:
    """Write the copy that is due now, if one is."""
    if saver.due_in() != 0.0:
        return False
    order = saver.order()
    assert order is not None
    try:
        outcome = order.run()
    except JobFileProblem as problem:
        saver.done(order, problem)
        return False
    saver.done(order, outcome)
    return True


def copied_numbers(root: Path) -> list[str]:
    return [job_file.read(folder).job.number for folder in root.iterdir()]


def test_that_a_copy_exists_two_seconds_after_the_last_edit(
    editor: Editor, saver: Autosave, root: Path, clock: Clock
) -> None:
    assert saver.due_in() is None
    editor.enter("number", "A-1")
    clock.now += 1.0
    assert not run_due(saver)
    clock.now += 1.0
    assert run_due(saver)
    assert copied_numbers(root) == ["A-1"]
    assert saver.due_in() is None


def test_that_steady_typing_does_not_put_the_copy_off(
    editor: Editor, saver: Autosave, root: Path, clock: Clock
) -> None:
    newest, oldest_unsaved = 0, 0.0
    for n in range(1, 121):
        clock.now += 0.5
        editor.enter("number", f"A-{n}")
        if run_due(saver):
            newest = n
        oldest_unsaved = max(oldest_unsaved, (n - newest) * 0.5)
    assert copied_numbers(root) == [f"A-{newest}"]
    assert oldest_unsaved <= 2.0


def test_that_the_job_file_is_never_touched(
    editor: Editor, saver: Autosave, tmp_path: Path, clock: Clock
) -> None:
    path = save_as(editor, tmp_path / "a.ductjob")
    before = path.read_bytes(), path.stat().st_mtime_ns
    editor.enter("number", "A-1")
    clock.now += 2.0
    assert run_due(saver)
    assert (path.read_bytes(), path.stat().st_mtime_ns) == before
    assert editor.is_dirty
    let_go(editor)


@pytest.mark.parametrize("how", ["save", "undo", "end", "follow"])
def test_that_nothing_is_left_of_a_copy_that_is_not_needed_any_more(
    editor: Editor, saver: Autosave, root: Path, tmp_path: Path, clock: Clock, how: str
) -> None:
    other = Editor(editor.job, editor.shelf, editor.preferences)
    editor.enter("number", "A-1")
    clock.now += 2.0
    assert run_due(saver)
    if how == "save":
        save_as(editor, tmp_path / "a.ductjob")
        let_go(editor)
    elif how == "undo":
        editor.undo()
    elif how == "end":
        saver.end()
    else:
        saver.follow(other)
    assert list(root.iterdir()) == []
    assert saver.due_in() is None


@pytest.mark.parametrize("moment", ["before it is written", "before that is told", "after"])
def test_that_a_job_saved_while_its_copy_is_written_leaves_no_copy(
    editor: Editor, saver: Autosave, root: Path, tmp_path: Path, clock: Clock, moment: str
) -> None:
    editor.enter("number", "A-1")
    clock.now += 2.0
    order = saver.order()
    assert order is not None
    outcome = None if moment == "before it is written" else order.run()
    if moment == "after":
        saver.done(order, outcome)
    save_as(editor, tmp_path / "a.ductjob")
    assert not root.exists() or list(root.iterdir()) == []
    if moment != "after":
        saver.done(order, outcome or order.run())
    assert not root.exists() or list(root.iterdir()) == []
    let_go(editor)


def test_that_an_edit_made_while_a_copy_is_written_gets_into_the_next(
    editor: Editor, saver: Autosave, root: Path, clock: Clock
) -> None:
    editor.enter("number", "A-1")
    clock.now += 2.0
    order = saver.order()
    assert order is not None
    editor.enter("number", "A-2")
    assert saver.due_in() is None, "one at a time"
    saver.done(order, order.run())
    assert copied_numbers(root) == ["A-1"]
    clock.now += 2.0
    assert run_due(saver)
    assert copied_numbers(root) == ["A-2"]


def test_that_a_full_disk_is_told_and_tried_again_and_the_job_stays_unsaved(
    editor: Editor, saver: Autosave, root: Path, clock: Clock, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(_handle: int) -> None:
        raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))

    editor.enter("number", "A-1")
    clock.now += 2.0
    with monkeypatch.context() as patched:
        patched.setattr(os, "fsync", refuse)
        assert not run_due(saver)
    assert saver.problem is not None
    assert saver.problem.code == "disk-full"
    assert editor.is_dirty
    assert not list(root.rglob("job.json"))
    assert saver.due_in() == autosave.RETRY
    clock.now += autosave.RETRY
    assert run_due(saver)
    assert saver.problem is None
    assert copied_numbers(root)[-1] == "A-1"


def test_that_a_job_brought_back_is_copied_anew_before_the_old_copy_goes(
    editor: Editor, saver: Autosave, root: Path, clock: Clock
) -> None:
    editor.enter("number", "A-1")
    clock.now += 2.0
    assert run_due(saver)
    (folder,) = root.iterdir()
    saver._copy.let_go()  # as if the process had ended here
    (left,) = left_behind(root)
    later = Autosave(root, clock)
    again = Editor(editor.job, editor.shelf, editor.preferences)
    again.enter("number", "A-2")
    later.follow(again, left)
    assert folder.exists()
    clock.now += 2.0
    assert run_due(later)
    assert not folder.exists()
    assert copied_numbers(root) == ["A-2"]
