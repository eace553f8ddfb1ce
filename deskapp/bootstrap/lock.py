"""Writes the lock files: every package with its hashes, for all systems and Pythons at once."""

import subprocess
import sys
import tempfile
from pathlib import Path

from deskapp.bootstrap.environment import LOCKS, ROOT, child_variables
from deskapp.bootstrap.speech import SetupError, say

# Lock file -> what it is made from. Later files keep to the versions of the earlier ones.
SOURCES = {
    "run.txt": ["pyproject.toml"],
    "check.txt": ["pyproject.toml", "--group=check", "--constraint=.lock/run.txt"],
    "check_source.txt": ["--group=check-source", "--no-deps"],
}
_HOW = [
    "--universal",
    "--python-version=3.11",
    "--fork-strategy=fewest",
    "--generate-hashes",
    "--no-header",
    "--upgrade",
    "--quiet",
]


def refresh() -> int:
    """Write `.lock/*.txt` anew from pyproject.toml with the newest versions that fit together."""
    with tempfile.TemporaryDirectory() as folder:
        place = Path(folder)
        _call([sys.executable, "-m", "venv", str(place)])
        python = next(p for p in (place / "bin/python", place / "Scripts/python.exe") if p.exists())
        _call([str(python), "-m", "pip", "install", "--quiet", "uv"])
        for name, source in SOURCES.items():
            goal = LOCKS / name
            compiler = [str(python), "-m", "uv", "pip", "compile", *source, *_HOW]
            _call([*compiler, "--output-file", str(goal.relative_to(ROOT))])
            if "://" in goal.read_text(encoding="utf-8"):
                raise SetupError(f".lock/{name} names a host; take it out before committing.")
            say(f"Wrote .lock/{name}")
    return 0


def _call(command: list[str]) -> None:
    if subprocess.run(command, cwd=ROOT, env=child_variables(), check=False).returncode:
        raise SetupError(f"This step did not go through: {' '.join(command)}")
