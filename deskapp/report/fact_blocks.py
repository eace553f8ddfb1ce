"""Blocks that print entries of the job: label and value, alone or side by side."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Fact:
    """A label and its value; `missing` where nothing was recorded.

    `path` is the field of the job it shows, so that its page can be found; it prints nothing.
    """

    label: str
    value: str
    missing: bool = False
    path: str = ""


@dataclass(frozen=True, slots=True)
class Facts:
    """Facts in columns: one or two are read down, three or four across."""

    rows: tuple[Fact, ...]
    columns: int = 2


@dataclass(frozen=True, slots=True)
class FactRow:
    """One entry of several things: its label, and its value for each of them."""

    label: str
    facts: tuple[Fact, ...]


@dataclass(frozen=True, slots=True)
class FactColumns:
    """Entries of several things side by side, a column with a head for each of them.

    `corner` is what stands above the labels.
    """

    corner: str
    heads: tuple[str, ...]
    rows: tuple[FactRow, ...]
