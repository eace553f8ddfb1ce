"""Dialogs are opened, never run: a nested event loop stops live results and tests alike."""

from __future__ import annotations

import ast


def loops(tree: ast.AST) -> list[int]:
    """Lines that start an event loop of their own with `exec`."""
    return [
        call.lineno
        for call in ast.walk(tree)
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Attribute)
        and call.func.attr in ("exec", "exec_")
    ]


def test_that_no_dialog_of_the_window_runs_its_own_loop(sources):
    window = [source for source in sources if source.place.startswith("deskapp/ui/")]
    assert window
    found = [f"{source.place}:{line}" for source in window for line in loops(source.tree)]
    assert found == []


def test_that_only_the_application_itself_has_a_loop(sources):
    started = {source.place for source in sources if loops(source.tree)}
    assert {place for place in started if not place.startswith("deskapp/app/")} == set()


def test_that_the_search_finds_a_loop():
    assert loops(ast.parse("dialog.open()\ndialog.exec()")) == [2]
