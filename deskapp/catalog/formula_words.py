"""What the docstring of a formula says, part by part: shown as help, and given to translators.

Names of arguments and units are no words; they stay as they are in every language.
"""

from __future__ import annotations

import ast
import re
import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, BinaryIO

if TYPE_CHECKING:
    from collections.abc import Collection, Iterator, Mapping

REMARK = "a formula: symbols, units and titles of sources stay as they are"
_SECTION = re.compile(r"^(Args|Returns|Range|Raises|Source):[ \n]", flags=re.MULTILINE)
_ITEM = re.compile(r"\s*(?:(?P<name>\w+): )?(?P<text>[^\[\]]+) \[(?P<unit>[^\]]+)\]\.")


@dataclass(frozen=True, slots=True)
class FormulaTerm:
    """What goes into a formula or comes out of it; `name` is empty for the result."""

    name: str
    text: str
    unit: str


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula: what it does, its figures with their units, where it holds, its source."""

    name: str
    summary: str
    arguments: tuple[FormulaTerm, ...]
    result: FormulaTerm
    holds: str
    source: str


def formula_of(name: str, docstring: str) -> Formula:
    """Return what a docstring says of the formula called `name`.

    Raises ValueError where it does not say what comes out and where the formula is from.
    """
    start, *rest = _SECTION.split(docstring)
    sections = {rest[at].casefold(): rest[at + 1] for at in range(0, len(rest), 2)}
    results = _figures(sections.get("returns", ""))
    if len(results) != 1 or not sections.get("source"):
        raise ValueError(f"the formula {name} does not say what it returns and its source")
    return Formula(
        name,
        _joined(start.partition("\n\n")[0]),
        _figures(sections.get("args", "")),
        results[0],
        _joined(sections.get("range", "")),
        _joined(sections["source"]),
    )


def extract(
    file: BinaryIO,
    keywords: Collection[str],  # noqa: ARG001 - Babel gives these by name
    comment_tags: Collection[str],  # noqa: ARG001
    options: Mapping[str, object],  # noqa: ARG001
) -> Iterator[tuple[int, str, str, list[str]]]:
    """Yield the words of the formulas that the topics of help in a TOML file name (for Babel)."""
    physics = Path(file.name).resolve().parents[2] / "deskapp" / "physics"
    named = (name for topic in tomllib.load(file)["topics"] for name in topic.get("formulas", ()))
    for name in dict.fromkeys(named):
        module, _dot, function = name.partition(".")
        found = formula_of(name, _docstring(physics / f"{module}.py", function))
        figures = (one.text for one in (*found.arguments, found.result))
        told = (found.summary, *figures, found.holds, found.source)
        yield from ((1, "_", text, [REMARK]) for text in told if text)


def _docstring(module: Path, function: str) -> str:
    for node in ast.parse(module.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef) and node.name == function:
            return ast.get_docstring(node) or ""
    raise LookupError(f"there is no function {function} in {module.name}")


def _figures(text: str) -> tuple[FormulaTerm, ...]:
    found = _ITEM.finditer(_joined(text))
    return tuple(
        FormulaTerm(item["name"] or "", item["text"].strip(), _unit_words(item["unit"]))
        for item in found
    )


def _unit_words(unit: str) -> str:
    """Return the unit, with nothing for a plain number; records are named in code style."""
    return "" if unit == "1" else unit


def _joined(text: str) -> str:
    return " ".join(text.split())
