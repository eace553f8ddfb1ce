from __future__ import annotations

import pytest

from deskapp.domain.job import Job
from deskapp.session.history import History


def titled(title: str) -> Job:
    return Job(title=title)


def test_that_undo_and_redo_walk_through_every_state():
    history = History(titled(""))
    for title in ("a", "b", "c"):
        history.record(titled(title), f"title {title}")
    seen = [history.state.title]
    while history.undo():
        seen.append(history.state.title)
    assert seen == ["c", "b", "a", ""]
    while history.redo():
        seen.append(history.state.title)
    assert seen == ["c", "b", "a", "", "a", "b", "c"]


def test_that_the_words_name_the_step_that_would_be_taken():
    history = History(titled(""))
    assert (history.undo_words, history.redo_words) == ("", "")
    history.record(titled("a"), "first")
    history.record(titled("b"), "second")
    assert (history.undo_words, history.redo_words) == ("second", "")
    history.undo()
    assert (history.undo_words, history.redo_words) == ("first", "second")


def test_that_edits_of_one_field_become_one_step():
    history = History(titled(""))
    for title in ("a", "ab", "abc"):
        history.record(titled(title), "title", "title")
    history.undo()
    assert history.state.title == ""


def test_that_an_edit_of_another_field_ends_the_merging():
    history = History(titled(""))
    history.record(titled("a"), "title", "title")
    history.record(Job(title="a", number="1"), "number", "number")
    history.record(Job(title="ab", number="1"), "title", "title")
    history.undo()
    history.undo()
    assert history.state == titled("a")


def test_that_an_edit_after_undo_does_not_merge_and_drops_what_was_undone():
    history = History(titled(""))
    history.record(titled("a"), "title", "title")
    history.record(Job(title="a", number="1"), "number", "number")
    history.undo()
    history.record(titled("b"), "title", "title")
    assert not history.redo()
    history.undo()
    assert history.state.title == "a"


def test_that_typing_a_field_back_leaves_no_step():
    history = History(titled("a"))
    history.record(titled("ab"), "title", "title")
    history.record(titled("a"), "title", "title")
    assert history.undo_words == ""
    assert history.is_saved


def test_that_a_save_between_two_edits_keeps_them_apart():
    history = History(titled(""))
    history.record(titled("a"), "title", "title")
    history.mark_saved()
    history.record(titled("ab"), "title", "title")
    assert not history.is_saved
    history.undo()
    assert history.state.title == "a"
    assert history.is_saved


def test_that_undoing_back_to_the_saved_state_counts_as_saved():
    history = History(titled(""))
    assert history.is_saved
    history.record(titled("a"), "title")
    assert not history.is_saved
    history.undo()
    assert history.is_saved
    history.redo()
    assert not history.is_saved


def test_that_saving_keeps_the_history():
    history = History(titled(""))
    history.record(titled("a"), "title")
    history.mark_saved()
    assert history.undo()
    assert not history.is_saved


@pytest.mark.parametrize("longest", [1, 3, 10])
def test_that_the_history_keeps_only_so_many_steps(longest: int):
    history = History(titled("0"), longest)
    for number in range(1, 31):
        history.record(titled(str(number)), str(number))
    undone = 0
    while history.undo():
        undone += 1
    assert undone == longest
    assert history.state.title == str(30 - longest)
    assert history.undo_words == ""
