"""The import contracts catch what they are there for, tried on a small tree of the same layers."""

from __future__ import annotations

import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

CLEAN = {
    "__main__.py": "import deskapp.app.cli",
    "i18n.py": "import deskapp.catalog.files",
    "catalog/files.py": "import gettext",
    "app/cli.py": "import deskapp.ui.window",
    "ui/window.py": "import PySide6, deskapp.session.editor",
    "session/editor.py": "import deskapp.assess.evaluate, deskapp.report.pdf.draw",
    "report/pdf/draw.py": "import reportlab, deskapp.report.archival.finish",
    "report/archival/finish.py": "import zlib",
    "report/sealing/seal.py": "import pyhanko",
    "archive/job_file.py": "import deskapp.domain.job",
    "assess/evaluate.py": "import deskapp.physics.air, deskapp.limits.judge",
    "physics/air.py": "import math",
    "limits/judge.py": "import deskapp.domain.job",
    "domain/job.py": "import pydantic, deskapp.units.registry",
    "units/registry.py": "import pint, deskapp.i18n",
    "bootstrap/trial_run.py": "import subprocess",
}

VIOLATIONS = {
    "domain asks for Qt": ("domain/job.py", "import PySide6", "Qt lives in ui and app only"),
    "ui draws a PDF": ("ui/window.py", "import reportlab", "reportlab lives in report.pdf only"),
    "session signs a PDF": (
        "session/editor.py",
        "import pyhanko",
        "pyHanko lives in report.sealing only",
    ),
    "physics knows the job": (
        "physics/air.py",
        "import deskapp.domain.job",
        "physics is plain arithmetic",
    ),
    "report reads files": (
        "report/pdf/draw.py",
        "import deskapp.archive.job_file",
        "Layers point downwards only",
    ),
    "ui does physics": (
        "ui/window.py",
        "import deskapp.physics.air",
        "ui asks session, never the layers below it",
    ),
    "a new package outside the layers": ("helpers/x.py", "", "Layers point downwards only"),
    "domain knows pint": ("domain/job.py", "import pint", "pint lives in units only"),
    "the set-up leans on the program": (
        "bootstrap/trial_run.py",
        "import deskapp.units.registry",
        "The set-up stands alone",
    ),
    "the program leans on the set-up": (
        "app/cli.py",
        "import deskapp.bootstrap.trial_run",
        "Only the user calls the set-up",
    ),
    "two neighbors lean on each other": (
        "units/registry.py",
        "import deskapp.domain.job",
        "No cycles between siblings",
    ),
}


def lay_out(folder: Path, root: Path, files: dict[str, str]) -> None:
    """Write the small tree with the project's own contracts into `folder`."""
    package = folder / "deskapp"
    for name, text in files.items():
        path = package / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text + "\n", encoding="utf-8")
    for inner in [package, *(path for path in package.rglob("*") if path.is_dir())]:
        (inner / "__init__.py").touch()
    settings = (root / "pyproject.toml").read_text(encoding="utf-8")
    (folder / "pyproject.toml").write_text(settings, encoding="utf-8")


def judge(folder: Path) -> str:
    """Return what import-linter prints about the tree in `folder`."""
    script = "import sys; from importlinter.cli import lint_imports; sys.exit(lint_imports())"
    command = [sys.executable, "-c", script]
    done = subprocess.run(
        command, cwd=folder, capture_output=True, text=True, encoding="utf-8", check=False
    )
    return done.stdout + done.stderr


def test_that_a_tree_in_good_order_keeps_every_contract(tmp_path, root):
    lay_out(tmp_path, root, CLEAN)
    settings = tomllib.loads((root / "pyproject.toml").read_text(encoding="utf-8"))
    contracts = settings["tool"]["importlinter"]["contracts"]
    assert f"Contracts: {len(contracts)} kept, 0 broken." in judge(tmp_path)


@pytest.mark.parametrize("case", VIOLATIONS)
def test_that_a_violation_is_caught_by_its_contract(tmp_path, root, case):
    file, line, contract = VIOLATIONS[case]
    lay_out(tmp_path, root, CLEAN | {file: f"{CLEAN.get(file, '')}\n{line}"})
    assert f"{contract} BROKEN" in judge(tmp_path)
