"""On which line of a TOML file an entry stands; the reader of TOML does not say."""

from __future__ import annotations

import re

Path = tuple[str | int, ...]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([\w.\- ]+?)\s*\]\]?\s*(?:#.*)?$")
_ENTRY = re.compile(r"^\s*([\w\-]+)\s*=")
_LONG_QUOTES = ('"""', "'''")


def lines_of(source: str) -> dict[Path, int]:
    """Return the line of each table and entry of well-formed TOML, counted from 1.

    Tables of a list are told apart by their position, as in ``("block", 2, "heading")``.
    """
    found: dict[Path, int] = {(): 1}
    counts: dict[Path, int] = {}
    table: Path = ()
    in_text = False
    for number, line in enumerate(source.splitlines(), 1):
        if not in_text:
            header, entry = _HEADER.match(line), _ENTRY.match(line)
            if header is not None:
                table = _table(header[2].split("."), counts, is_list=header[1] == "[[")
                found[table] = number
            elif entry is not None:
                found[(*table, entry[1])] = number
        in_text ^= sum(line.count(quotes) for quotes in _LONG_QUOTES) % 2 == 1
    return found


def _table(names: list[str], counts: dict[Path, int], *, is_list: bool) -> Path:
    """Return the path of a table, counting the tables of a list."""
    path: Path = ()
    for position, name in enumerate(names):
        path = (*path, name.strip())
        if is_list and position == len(names) - 1:
            counts[path] = counts.get(path, 0) + 1
        if path in counts:
            path = (*path, counts[path] - 1)
    return path


def line_of(lines: dict[Path, int], path: Path) -> int:
    """Return the line of an entry, or of the nearest table around it."""
    while path not in lines:
        path = path[:-1]
    return lines[path]
