"""Dialogs are opened, never run, and their buttons say what they do.

A nested event loop stops live results and tests alike.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from typing import Protocol

RUN = {"exec", "exec_"}
RUNNING = {
    *RUN,
    *("getOpenFileName", "getOpenFileNames", "getSaveFileName", "getExistingDirectory"),
    *("getColor", "getFont", "getText", "getItem", "getInt", "getDouble", "getMultiLineText"),
}
BOXES = {"about", "aboutQt", "critical", "information", "question", "warning"}
EMPTY = re.compile(r"ok|okay|yes|no|y|n|continue|proceed|submit|confirm|done|apply|go", re.I)
BUTTONS = {"Command", "addButton", "QPushButton"}


class Source(Protocol):
    """What these checks read of a file."""

    place: str
    tree: ast.Module


def loops(tree: ast.AST) -> list[int]:
    """Lines that start an event loop of their own with `exec`."""
    return [
        call.lineno
        for call in ast.walk(tree)
        if isinstance(call, ast.Call)
        and isinstance(call.func, ast.Attribute)
        and call.func.attr in RUN
    ]


def test_that_no_dialog_of_the_window_runs_its_own_loop(sources: list[Source]) -> None:
    window = [source for source in sources if source.place.startswith("deskapp/ui/")]
    assert window
    found = [f"{source.place}:{line}" for source in window for line in loops(source.tree)]
    assert found == []


def test_that_only_the_application_itself_has_a_loop(sources: list[Source]) -> None:
    started = {source.place for source in sources if loops(source.tree)}
    assert {place for place in started if not place.startswith("deskapp/app/")} == set()


def test_that_the_search_finds_a_loop() -> None:
    assert loops(ast.parse("dialog.open()\ndialog.exec()")) == [2]


def held_up_by(tree: ast.AST) -> list[int]:
    """Lines that call what Qt offers to show a dialog and wait for its end."""
    calls = (call for call in ast.walk(tree) if isinstance(call, ast.Call))
    return [
        call.lineno
        for call in calls
        if isinstance(call.func, ast.Attribute)
        and (
            call.func.attr in RUNNING
            or (call.func.attr in BOXES and ast.unparse(call.func.value) == "QMessageBox")
        )
    ]


def buttons(tree: ast.AST) -> Iterator[tuple[int, str]]:
    """Line and words of every button, and the names of the ready-made ones."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Attribute) and "tandardButton" in ast.unparse(node.value):
            yield node.lineno, node.attr
        if isinstance(node, ast.Attribute) and ast.unparse(node.value) == "_Buttons":
            yield node.lineno, node.attr
        if not isinstance(node, ast.Call):
            continue
        name = ast.unparse(node.func).rpartition(".")[2]
        texts = [ast.unparse(one) for one in node.args[:1]] if name in BUTTONS else []
        if name == "ask_about":
            ways = [key for a in node.args if isinstance(a, ast.Dict) for key in a.keys]
            texts += [ast.unparse(key) for key in ways if key is not None]
        for text in texts:
            found = re.fullmatch(r"_\(['\"](.*)['\"]\)", text)
            if found:
                yield node.lineno, found[1].replace("&", "").rstrip("…")


def test_that_no_dialog_holds_the_program_up(sources: list[Source]) -> None:
    window = [source for source in sources if source.place.startswith("deskapp/ui/")]
    assert [f"{s.place}:{n}" for s in window for n in held_up_by(s.tree)] == []
    code = "QFileDialog.getSaveFileName(x)\nQMessageBox.question(x)\nself.about(x)\nbox.open()"
    assert held_up_by(ast.parse(code)) == [1, 2]


def test_that_buttons_say_what_they_do(sources: list[Source]) -> None:
    window = [source for source in sources if source.place.startswith("deskapp/ui/")]
    said = [(f"{s.place}:{n}", text) for s in window for n, text in buttons(s.tree)]
    assert len(said) > 80
    ready_made = {"Ok", "Yes", "No", "Apply", "YesToAll", "NoToAll", "Ignore", "Retry", "Abort"}
    assert [one for one in said if EMPTY.fullmatch(one[1]) or one[1] in ready_made] == []
    assert {"Save", "Discard", "Cancel"} <= {text for _place, text in said}


def test_that_the_search_finds_buttons() -> None:
    code = "Command(_('&OK'))\nbox.addButton(_Buttons.Yes)\nask_about(w, t, u, {_('Replace'): f})"
    assert {text for _line, text in buttons(ast.parse(code))} == {"OK", "Yes", "Replace"}
