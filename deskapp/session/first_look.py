"""What the window needs to know before it is first painted, read without loading anything big."""

from __future__ import annotations

import json
import os
from collections.abc import Iterable
from dataclasses import dataclass
from pathlib import Path
from typing import cast

from deskapp.i18n import closest

FILE_NAME = "preferences.json"
MOST_RECENT = 6
LANGUAGE_VARIABLE = "DUCTFOLIO_LANGUAGE"


@dataclass(frozen=True, slots=True)
class RecentFile:
    """A job file used before; `is_missing` when it is no longer where it was."""

    path: Path
    is_missing: bool


@dataclass(frozen=True, slots=True)
class FirstLook:
    """The language to greet in (empty: the system's), and the job files used last."""

    language: str = ""
    recent: tuple[RecentFile, ...] = ()


def first_look(folder: Path) -> FirstLook:
    """Read language and recent job files from `folder`; what cannot be read counts as not there.

    `deskapp.session.settings.load` reads the same file in full and says what was wrong with it.
    """
    try:
        data: object = json.loads((folder / FILE_NAME).read_text(encoding="utf-8"))
    except (OSError, ValueError, RecursionError):
        return FirstLook()
    if not isinstance(data, dict):
        return FirstLook()
    entries = cast("dict[str, object]", data)
    language, recent = entries.get("language"), entries.get("recent")
    names = cast("list[object]", recent) if isinstance(recent, list) else []
    return FirstLook(
        language if isinstance(language, str) else "",
        recent_files(name for name in names if isinstance(name, str)),
    )


def language_wanted(folder: Path, system: str = "") -> str:
    """Return the language to speak: of the environment, else the preferred, else the system's.

    Args:
        folder: the folder of the preferences.
        system: the locale of the system, such as ``es_MX``; that of the environment if left out.
    """
    return language_for(first_look(folder).language, system)


def language_for(preferred: str, system: str = "") -> str:
    """Return the language to speak where `preferred` is; empty: the system's."""
    asked = os.environ.get(LANGUAGE_VARIABLE) or preferred
    return asked or closest(system or _locale_of_environment())


def _locale_of_environment() -> str:
    names = (os.environ.get(name, "") for name in ("LC_ALL", "LC_MESSAGES", "LANG"))
    return next((name for name in names if name), "")


def recent_files(names: Iterable[str]) -> tuple[RecentFile, ...]:
    """Return the recent files by name, newest first, the missing ones marked."""
    return tuple(RecentFile(Path(name), not _exists(name)) for name in most_recent(names))


def most_recent(names: Iterable[str]) -> tuple[str, ...]:
    """Return the first six different names."""
    return tuple(dict.fromkeys(name for name in names if name))[:MOST_RECENT]


def _exists(name: str) -> bool:
    try:
        return Path(name).exists()
    except (OSError, ValueError):
        return False
