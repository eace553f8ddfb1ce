"""The gates look at every file: nothing falls out of them by the name of its folder."""

from __future__ import annotations

import fnmatch
import subprocess
import sys
from pathlib import Path


def python_files(root: Path) -> set[str]:
    """Every Python file on disk in the program and its tests."""
    return {
        path.relative_to(root).as_posix()
        for folder in ("deskapp", "tests")
        for path in (root / folder).rglob("*.py")
    }


def test_that_git_keeps_every_python_file(root, project_files):
    kept = {path.as_posix() for path in project_files}
    assert python_files(root) - kept == set(), "hidden by a line in .gitignore"


def test_that_the_linter_looks_at_every_python_file(root):
    command = [sys.executable, "-m", "ruff", "check", "--show-files", "."]
    shown = subprocess.run(command, cwd=root, capture_output=True, text=True, check=True)
    looked_at = {Path(line).relative_to(root).as_posix() for line in shown.stdout.splitlines()}
    assert python_files(root) - looked_at == set()


def test_that_the_test_runner_enters_every_folder_of_tests(root, pytestconfig):
    skipped = pytestconfig.getini("norecursedirs")
    left_out = {
        path.relative_to(root).as_posix()
        for path in (root / "tests").rglob("test_*.py")
        for folder in path.relative_to(root).parts[:-1]
        if any(fnmatch.fnmatch(folder, pattern) for pattern in skipped)
    }
    assert left_out == set()


def test_that_the_gate_of_continuous_integration_is_the_command_people_use(root):
    lines = (root / ".ci" / "run").read_text(encoding="utf-8").splitlines()
    commands = [line for line in lines if line and not line.startswith("#")]
    assert commands[2] == "export CI=1"
    calls = [line.removeprefix("exec ") for line in commands[3:]]
    assert calls == [f"python3 -m deskapp.bootstrap {name}" for name in ("check", "standalone")]
    told = (root / "README.md").read_text(encoding="utf-8")
    assert all(call in told for call in calls)
