"""Every text for people goes through the catalogs, in a form that translators can work with."""

from __future__ import annotations

import ast
import calendar
import re
from collections.abc import Iterator

SPEAKERS = {"_", "N_", "ngettext", "pgettext"}
LAYERS = ("ui", "session", "report", "assess", "domain", "limits", "app", "archive", "units")

# Two words in a row, or a word with a capital and nothing but letters before its end.
READABLE = re.compile(r"[A-Za-z]{2,}[,.:;]? [A-Za-z(“{]|^[A-Z][a-z]{2,}(?![\w/.-]*[A-Z+_])")

# Texts that look like words and are none for a reader, by the file they stand in, with the reason.
ALLOWED = {
    "deskapp/limits/places.py": "names of places, compared with the address that was typed",
    "deskapp/units/spellings.py": "spellings of units as people type them",
    "deskapp/app/argparse_words.py": "words of a library, in place of which ours are said",
    "deskapp/units/kinds.py": "values of an enum",
    "deskapp/units/table.py": "symbols of units",
    "deskapp/session/live/columns.py": "headings of columns as log files have them",
    "deskapp/session/live/simulated.py": "the heading of invented lines, read by the program",
    "deskapp/report/pdf/faces.py": "names of fonts and files",
    "deskapp/report/archival/metadata.py": "elements of XMP",
    "deskapp/report/pdf/objects.py": "names of objects in a PDF",
    "deskapp/limits/own.py": "a remark inside a file",
}
ALLOWED_TEXTS = {
    "Ductfolio": "the name of the program",
    "Ductfolio ": "the name of the program, before its version",
    "Fusion": "a style of Qt",
    "report JOB ...": "a command as it is typed",
    "batch FOLDER": "a command as it is typed",
    "verdict JOB ...": "a command as it is typed",
    "photos JOB": "a command as it is typed",
    "check REPORT ...": "a command as it is typed",
    "JPEG, PNG, WebP, TIFF, BMP": "kinds of files by their names",
    "Value error, ": "the beginning of a message of the library that checks records",
    "rings of ": "the name of a check, for messages to programmers",
    "line source": "the name of a thread",
    "first page": "the name of a frame in the layout",
    "other pages": "the name of a frame in the layout",
    "dict[str, FieldSpec | _Tree]": "a type",
    "/Artifact BMC": "an operator of PDF",
    "Element": "a type",
    "n = Σ(x − x̄)(y − ȳ) / Σ(x − x̄)², x = ln P, y = ln Q": "a formula",
    **dict.fromkeys(calendar.month_abbr[1:], "a month in English; Babel knows the others"),
}


def docstrings(tree: ast.AST) -> set[int]:
    """Texts that stand alone as a statement."""
    return {
        id(node.value)
        for node in ast.walk(tree)
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant)
    }


def unspoken(node: ast.AST, silent: set[int]) -> Iterator[tuple[int, str]]:
    """Readable texts below `node` outside the calls that translate; none of types or raised."""
    if isinstance(node, ast.Raise | ast.Assert) or id(node) in silent:
        return
    if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
        if node.func.id in SPEAKERS:
            return
        if node.func.id in ("cast", "TypeVar", "isinstance"):
            return
    if isinstance(node, ast.AnnAssign):
        if node.value is not None:
            yield from unspoken(node.value, silent)
        return
    if isinstance(node, ast.arg):
        return
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        if READABLE.search(node.value):
            yield node.lineno, node.value
        return
    for child in ast.iter_child_nodes(node):
        yield from unspoken(child, silent)


def calls(tree: ast.AST) -> Iterator[ast.Call]:
    """Calls that translate."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Call) and ast.unparse(node.func) in SPEAKERS:
            yield node


def in_layers(sources):
    """The sources of the layers that speak to people."""
    return [s for s in sources if s.place.startswith(tuple(f"deskapp/{one}/" for one in LAYERS))]


def found_in(sources) -> list[str]:
    return [
        f"{source.place}:{line}: {text}"
        for source in in_layers(sources)
        if source.place not in ALLOWED
        for line, text in unspoken(source.tree, docstrings(source.tree))
        if text not in ALLOWED_TEXTS and not is_code(source.tree, text)
    ]


def is_code(tree: ast.AST, text: str) -> bool:
    """Say whether `text` is a value of an enum or an exported name."""
    return any(
        isinstance(inner, ast.Constant) and inner.value == text
        for node in ast.walk(tree)
        if (
            isinstance(node, ast.ClassDef)
            and any("Enum" in ast.unparse(base) for base in node.bases)
        )
        or (isinstance(node, ast.Assign) and ast.unparse(node.targets[0]) == "__all__")
        for inner in ast.walk(node)
    )


def test_that_no_text_for_people_stands_outside_the_catalogs(sources):
    assert found_in(sources) == []


def test_that_translated_texts_are_whole_and_written_out(sources):
    broken = [
        f"{source.place}:{call.lineno}"
        for source in sources
        if source.place.startswith("deskapp/")
        for call in calls(source.tree)
        for argument in call.args[: 1 if call.func.id in ("_", "N_") else 2]
        if isinstance(argument, ast.JoinedStr | ast.BinOp)
        or (isinstance(argument, ast.Call) and ast.unparse(argument.func).endswith(".format"))
        or (call.func.id != "_" and not isinstance(argument, ast.Constant))
    ]
    assert broken == []


def test_that_each_exception_still_has_its_reason(sources):
    places = {source.place: source for source in sources}
    for place in ALLOWED:
        tree = places[place].tree
        assert list(unspoken(tree, docstrings(tree))), f"{place} needs no exception any more"
    texts = {
        text
        for source in in_layers(sources)
        for _line, text in unspoken(source.tree, docstrings(source.tree))
    }
    assert set(ALLOWED_TEXTS) - texts == set()


def test_that_the_search_finds_plain_texts_and_leaves_code_alone():
    code = """
label.setText("Save it now")
label.setText(_("Kept in the catalog"))
title = "Report"
raise ValueError("for programmers only")
x: "Some Type" = f"and {count} more words"
"""
    tree = ast.parse(code)
    said = [text for _line, text in unspoken(tree, docstrings(tree))]
    assert said == ["Save it now", "Report", " more words"]
