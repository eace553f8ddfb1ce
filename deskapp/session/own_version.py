"""Which version of the program this is."""

from __future__ import annotations

from functools import cache


@cache
def own_version() -> str:
    """Return the version of the program; empty where it was never set up."""
    from importlib.metadata import PackageNotFoundError, version

    try:
        return version("ductfolio")
    except PackageNotFoundError:
        return ""
