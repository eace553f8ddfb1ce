"""Which version of the program this is."""

from __future__ import annotations

from functools import cache
from pathlib import Path

_NAME = "ductfolio"
_PROJECT = Path(__file__).parents[2] / "pyproject.toml"


@cache
def own_version() -> str:
    """Return the version of the program, also where it runs from its source; else empty."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version(_NAME)
    except PackageNotFoundError:
        return _of_source()


def _of_source() -> str:
    import tomllib

    try:
        project = tomllib.loads(_PROJECT.read_text(encoding="utf-8"))["project"]
    except (OSError, KeyError, tomllib.TOMLDecodeError):
        return ""
    return str(project["version"]) if project.get("name") == _NAME else ""
