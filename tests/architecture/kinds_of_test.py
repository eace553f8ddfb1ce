"""What kind of test a test is, told by what its file imports, what it takes and what it calls.

u: without a window - nothing its file reaches imports Qt, and it takes nothing of the window;
q: with a window - it takes, itself or through what it takes, `qtbot`;
s: by looking - it, or what it calls in the tests, reads the points of a picture.
"""

from __future__ import annotations

import ast
from collections.abc import Iterable, Iterator
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
TESTS = ROOT / "tests"
QT = {"PySide6", "shiboken6", "pytestqt"}
WINDOW = {"qtbot", "qapp", "qapp_args", "qapp_cls", "qtmodeltester", "qtlog"}
LOOKS = {"pixelColor", "constBits", "bits", "toImage", "getpixel", "getcolors", "tobytes"}
"""Calls by which the points of a picture are read, of Qt and of the picture library."""

Function = ast.FunctionDef


@cache
def tree_of(file: Path) -> ast.Module:
    return ast.parse(file.read_text(encoding="utf-8"))


def functions_of(file: Path) -> dict[str, Function]:
    """Return the functions of a file by name, those of its classes as well."""
    return {node.name: node for node in ast.walk(tree_of(file)) if isinstance(node, Function)}


def imported(tree: ast.AST) -> Iterator[str]:
    """Yield the full name of each module that is imported when the program runs."""
    for node in ast.iter_child_nodes(tree):
        if isinstance(node, ast.If) and "TYPE_CHECKING" in ast.dump(node.test):
            continue
        if isinstance(node, ast.Import):
            yield from (name.name for name in node.names)
        elif isinstance(node, ast.ImportFrom) and not node.level:
            yield node.module or ""
            yield from (f"{node.module}.{name.name}" for name in node.names)
        else:
            yield from imported(node)


def file_of(module: str, beside: Path) -> Path | None:
    """Return the file of a module of the project: of the program, or a helper of the tests."""
    below = Path(*module.split("."))
    for folder in (ROOT, *(p for p in beside.parents if p.is_relative_to(TESTS))):
        for found in (folder / below.with_suffix(".py"), folder / below / "__init__.py"):
            if found.is_file():
                return found
    return None


def fixture_files(file: Path) -> list[Path]:
    """Return the file of a test and those whose fixtures it can take, the nearest first."""
    folders = [folder for folder in file.parents if folder.is_relative_to(TESTS)]
    return [file, *(f for d in folders if (f := d / "conftest.py").is_file())]


@cache
def reaches_qt(file: Path) -> bool:
    """Say whether a file, or what it imports however far down, imports Qt."""
    seen: set[Path] = set()
    wait = [file]
    while wait:
        one = wait.pop()
        if one in seen:
            continue
        seen.add(one)
        for module in imported(tree_of(one)):
            if module.partition(".")[0] in QT:
                return True
            found = file_of(module, one)
            if found is not None:
                wait.append(found)
    return False


def _is_fixture(node: Function) -> bool:
    return any("fixture" in ast.unparse(one) for one in node.decorator_list)


def _marked(nodes: Iterable[ast.AST]) -> set[str]:
    """Return what the marks among these nodes say is used."""
    calls = (call for node in nodes for call in ast.walk(node) if isinstance(call, ast.Call))
    return {
        argument.value
        for call in calls
        if ast.unparse(call.func).endswith("usefixtures")
        for argument in call.args
        if isinstance(argument, ast.Constant) and isinstance(argument.value, str)
    }


def _for_all(file: Path) -> set[str]:
    """Return what `pytestmark` of a file says that all its tests use."""
    assigned = (node for node in tree_of(file).body if isinstance(node, ast.Assign))
    return _marked(one.value for one in assigned if "pytestmark" in ast.unparse(one.targets[0]))


def taken(file: Path, test: str) -> dict[str, Function | None]:
    """Return what a test takes, directly or through what it takes, with where that is made."""
    makers: dict[str, Function] = {}
    for one in reversed(fixture_files(file)):
        makers |= {name: f for name, f in functions_of(one).items() if _is_fixture(f)}
    start = functions_of(file)[test]
    wait = [arg.arg for arg in start.args.args]
    wait += [*_marked(start.decorator_list), *_for_all(file)]
    found: dict[str, Function | None] = {}
    while wait:
        name = wait.pop()
        if name in found:
            continue
        maker = found[name] = makers.get(name)
        if maker is not None:
            wait += [arg.arg for arg in maker.args.args]
    return found


def calls_of(file: Path, test: str) -> set[str]:
    """Return the names of all that a test calls, also through helpers in the tests."""
    helpers = dict(functions_of(file))
    for module in imported(tree_of(file)):
        found = file_of(module, file)
        if found is not None and found.is_relative_to(TESTS):
            helpers |= {n: f for n, f in functions_of(found).items() if n not in helpers}
    wait = [functions_of(file)[test], *(f for f in taken(file, test).values() if f is not None)]
    seen: set[str] = set()
    while wait:
        for call in ast.walk(wait.pop()):
            if not isinstance(call, ast.Call):
                continue
            name = ast.unparse(call.func).rpartition(".")[2]
            if name not in seen:
                seen.add(name)
                wait += [helpers[name]] if name in helpers else []
    return seen


def kinds_of(file: Path, test: str) -> set[str]:
    """Return all kinds that a test truly is of. Raises KeyError where there is no such test."""
    takes = set(taken(file, test))
    kinds: set[str] = set()
    if not takes & WINDOW and not any(map(reaches_qt, fixture_files(file))):
        kinds.add("u")
    if "qtbot" in takes:
        kinds.add("q")
    if calls_of(file, test) & LOOKS:
        kinds.add("s")
    return kinds
