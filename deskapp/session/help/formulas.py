"""A formula in words, read from its own docstring, so that help cannot differ from the program."""

from __future__ import annotations

import inspect
import re
from dataclasses import dataclass
from functools import cache
from importlib import import_module

_SECTION = re.compile(r"^(Args|Returns|Range|Raises|Source):[ \n]", flags=re.MULTILINE)
_ITEM = re.compile(r"\s*(?:(?P<name>\w+): )?(?P<text>[^\[\]]+) \[(?P<unit>[^\]]+)\]\.")


@dataclass(frozen=True, slots=True)
class Figure:
    """What goes into a formula or comes out of it; `name` is empty for the result."""

    name: str
    text: str
    unit: str


@dataclass(frozen=True, slots=True)
class Formula:
    """One formula: what it does, its figures with their units, where it holds, its source."""

    name: str
    summary: str
    arguments: tuple[Figure, ...]
    result: Figure
    holds: str
    source: str


@cache
def formula(name: str) -> Formula:
    """Return the formula called `name`, such as ``flow_device.ring_flow``.

    Raises LookupError where there is no such formula, ValueError where it is not documented.
    """
    module_name, _dot, function_name = name.partition(".")
    try:
        module = import_module(f"deskapp.physics.{module_name}")
        function = getattr(module, function_name)
    except (ImportError, AttributeError) as error:
        raise LookupError(f"there is no formula {name}") from error
    text = inspect.getdoc(function) or ""
    start, *rest = _SECTION.split(text)
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


def _figures(text: str) -> tuple[Figure, ...]:
    found = _ITEM.finditer(_joined(text))
    return tuple(
        Figure(item["name"] or "", item["text"].strip(), _unit_words(item["unit"]))
        for item in found
    )


def _unit_words(unit: str) -> str:
    """Return the unit, with nothing for a plain number; records are named in code style."""
    return "" if unit == "1" else unit


def _joined(text: str) -> str:
    return " ".join(text.split())
