"""The catalogs of words: brought up to date for translators, and compiled for the program."""

import subprocess
from pathlib import Path

from deskapp.bootstrap.environment import ROOT, child_variables, prepare
from deskapp.bootstrap.speech import SetupError

CATALOGS = ROOT / "resources" / "i18n"


def refresh() -> int:
    """Gather all words into the catalogs, and say how many still wait for a translation."""
    _run(prepare("run"))
    return 0


def compile_stale(python: Path) -> None:
    """Compile the catalogs that changed since they were compiled last."""
    if any(_is_stale(source) for source in CATALOGS.glob("*/LC_MESSAGES/*.po")):
        _run(python, "compile")


def _is_stale(source: Path) -> bool:
    compiled = source.with_suffix(".mo")
    return not compiled.exists() or compiled.stat().st_mtime < source.stat().st_mtime


def _run(python: Path, *what: str) -> None:
    command = [python, "-m", "deskapp.catalog.gather", *what]
    if subprocess.run(command, cwd=ROOT, env=child_variables(), check=False).returncode:
        raise SetupError("The catalogs of words could not be made; the message stands above.")
