"""The files of the project, read once for all checks of its shape."""

from __future__ import annotations

import ast
import subprocess
from dataclasses import dataclass
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]


@dataclass(frozen=True)
class Source:
    """One Python file: its place in the tree, its text and its syntax tree."""

    place: str
    text: str
    tree: ast.Module


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def project_files() -> list[Path]:
    """Every file that git keeps or would keep, as paths below the root."""
    command = ["git", "-c", "safe.directory=*", "ls-files", "-z"]
    listed = subprocess.run(
        [*command, "--cached", "--others", "--exclude-standard"],
        cwd=ROOT,
        capture_output=True,
        check=True,
    )
    names = listed.stdout.decode("utf-8").split("\0")
    files = [Path(name) for name in names if name and (ROOT / name).is_file()]
    assert len(files) > 50, "git names too few files for the checks to mean anything"
    return files


@pytest.fixture(scope="session")
def sources(project_files: list[Path]) -> list[Source]:
    """Every Python file of the program and its tests."""
    found: list[Source] = []
    for path in project_files:
        if path.suffix == ".py":
            text = (ROOT / path).read_text(encoding="utf-8")
            found.append(Source(path.as_posix(), text, ast.parse(text)))
    return found
