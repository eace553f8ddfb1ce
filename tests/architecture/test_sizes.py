"""The size budget: files and functions that can be read in one sitting."""

from __future__ import annotations

import ast

LONGEST_FILE = 450
LONGEST_FUNCTION = 60


def lines_of_code(function: ast.FunctionDef | ast.AsyncFunctionDef) -> int:
    """Length of a function in lines, without its docstring."""
    length = function.end_lineno - function.lineno + 1
    first = function.body[0]
    if ast.get_docstring(function, clean=False) is not None:
        length -= first.end_lineno - first.lineno + 1
    return length


def test_that_no_file_is_longer_than_the_budget(sources):
    lengths = {source.place: len(source.text.splitlines()) for source in sources}
    assert {place: n for place, n in lengths.items() if n > LONGEST_FILE} == {}


def test_that_no_function_is_longer_than_the_budget(sources):
    too_long = [
        f"{source.place}:{node.lineno} {node.name} has {lines_of_code(node)} lines"
        for source in sources
        for node in ast.walk(source.tree)
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef)
        and lines_of_code(node) > LONGEST_FUNCTION
    ]
    assert too_long == []


def test_that_the_measure_leaves_out_the_docstring_only():
    function = ast.parse(
        'def f():\n    """One.\n\n    Two.\n    """\n    x = 1\n    return x'
    ).body[0]
    assert lines_of_code(function) == 3


def test_that_package_files_hold_a_docstring_and_nothing_else(sources):
    full = [
        source.place
        for source in sources
        if source.place.startswith("deskapp/")
        and source.place.endswith("__init__.py")
        and not (len(source.tree.body) == 1 and ast.get_docstring(source.tree))
    ]
    assert full == []
