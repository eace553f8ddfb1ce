"""What every command starts with: the shelf, the user's preferences, and words for trouble."""

from __future__ import annotations

import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.i18n import _

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

PROGRAM = "ductfolio"

_PLAIN_SPACES = {ord(space): " " for space in "\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}"}


def settings_folder() -> Path:
    """Return the folder that keeps the user's preferences, branding and own limits."""
    from platformdirs import user_config_path

    return user_config_path("Ductfolio", appauthor=False)


def branding_file() -> Path:
    """Return the branding file that the window writes; it need not be there."""
    from deskapp.session.branding import FILE_NAME

    return settings_folder() / FILE_NAME


def open_shelf() -> Shelf:
    """Read what the program brings along, and say on the error stream what could not be read.

    Raises FileNotFoundError if the program was copied without its data folders.
    """
    from deskapp.domain.data_files import resources_folder, templates_folder
    from deskapp.session.resources import load_shelf

    shelf = load_shelf(resources_folder(), templates_folder(), settings_folder() / "limits")
    tell_findings(shelf.problems)
    return shelf


def preferences_for(options: Namespace) -> Preferences:
    """Return the user's preferences, with the units and paper asked for on the command line."""
    from deskapp.session import settings
    from deskapp.session.habits import guess, system_locale_name
    from deskapp.units.display import UnitSystem

    preferences, findings = settings.load(settings_folder(), guess(system_locale_name()))
    tell_findings(findings)
    asked: dict[str, object] = {}
    if getattr(options, "units", None):
        asked["unit_system"] = UnitSystem(options.units)
    if getattr(options, "paper", None):
        asked["paper"] = settings.Paper(options.paper)
    if getattr(options, "language", None):
        asked["report_language"] = settings.Language(options.language)
    return preferences.model_copy(update=asked)


def say(text: str) -> None:
    """Print text for people, with plain spaces so that it can be searched and copied."""
    print(text.translate(_PLAIN_SPACES))


def tell(text: str) -> None:
    """Say something on the error stream, with the name of the program before it."""
    print(f"{PROGRAM}: {text.translate(_PLAIN_SPACES)}", file=sys.stderr)


def tell_findings(findings: tuple[Finding, ...]) -> None:
    """Say findings on the error stream."""
    for finding in findings:
        tell(finding.text)


def tell_why(error: OSError) -> None:
    """Say why something outside the job files went wrong."""
    where = f"{error.filename}: " if error.filename else ""
    tell(_("{where}{why}.").format(where=where, why=error.strerror or error))
