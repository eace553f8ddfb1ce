"""The wheel, built and used as a stranger would: in its own environment, from an empty folder.

Nothing is downloaded: the wheel is built with the pinned setuptools, and the new environment
borrows the third-party packages of the one that runs the tests.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import sysconfig
import venv
import zipfile
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = ("deskapp", "resources", "report_templates")
LEFT_OUT = {"__pycache__", "bootstrap", "pictures"}
"""Not for users of a wheel: the set-up of a clone, and the pictures of the README. Catalogs
of words travel in their compiled form."""
PLACES = {
    "resources": "deskapp/_data/resources",
    "report_templates": "deskapp/_data/report_templates",
}


def call(command: list[str], folder: Path) -> subprocess.CompletedProcess[str]:
    """Run `command` in `folder` away from the clone's own packages."""
    variables = {k: v for k, v in os.environ.items() if k not in ("PYTHONPATH", "PYTHONHOME")}
    variables |= {"PYTHONUTF8": "1", "PIP_DISABLE_PIP_VERSION_CHECK": "1"}
    return subprocess.run(
        command,
        cwd=folder,
        env=variables,
        capture_output=True,
        text=True,
        encoding="utf-8",
        check=False,
    )


@pytest.fixture(scope="module")
def wheel(tmp_path_factory):
    """A wheel built from a copy of the sources, so that nothing left in the tree can slip in."""
    copy = tmp_path_factory.mktemp("sources")
    for folder in FOLDERS:
        leave = shutil.ignore_patterns("__pycache__")
        shutil.copytree(ROOT / folder, copy / folder, ignore=leave)
    for file in ROOT.glob("*.*"):
        if file.name in ("pyproject.toml", "README.md"):
            shutil.copy(file, copy)
    goal = copy / "dist"
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", str(goal)]
    built = call(command, copy)
    assert built.returncode == 0, built.stdout + built.stderr
    (made,) = goal.glob("*.whl")
    return made


@pytest.fixture(scope="module")
def programs(wheel, tmp_path_factory):
    """The folder of programs of a new environment with the wheel installed in it."""
    place = tmp_path_factory.mktemp("empty") / "environment"
    venv.create(place, with_pip=False)
    base = {"base": str(place), "platbase": str(place)}
    packages = Path(sysconfig.get_path("purelib", "venv", base))
    borrowed = {sysconfig.get_path("purelib"), sysconfig.get_path("platlib")}
    (packages / "borrowed.pth").write_text("\n".join(borrowed), encoding="locale")
    scripts = Path(sysconfig.get_path("scripts", "venv", base))
    command = [str(scripts / "python"), "-m", "pip", "install", "--no-deps", "--no-index"]
    done = call([*command, str(wheel)], place)
    assert done.returncode == 0, done.stdout + done.stderr
    return scripts


def test_that_the_wheel_holds_every_module_and_every_data_file(wheel):
    expected: set[str] = set()
    for folder in FOLDERS:
        for path in (ROOT / folder).rglob("*"):
            inside = path.relative_to(ROOT / folder)
            if path.suffix in (".po", ".mo"):
                inside = inside.with_suffix(".mo")
            if path.is_file() and not LEFT_OUT & set(inside.parts):
                expected.add(f"{PLACES.get(folder, folder)}/{inside.as_posix()}")
    with zipfile.ZipFile(wheel) as opened:
        held = {name for name in opened.namelist() if ".dist-info/" not in name}
    assert expected - held == set(), (
        "missing: name the package in pyproject.toml, [tool.setuptools]"
    )
    assert held - expected == set()


def test_that_the_installed_program_finds_its_own_data(programs, tmp_path):
    code = (
        "from deskapp.domain.data_files import resources_folder, templates_folder\n"
        "print(resources_folder(), templates_folder(), sep='\\n')"
    )
    told = call([str(programs / "python"), "-c", code], tmp_path)
    assert told.returncode == 0, told.stderr
    for line, end in zip(told.stdout.splitlines(), PLACES.values(), strict=True):
        assert Path(line).as_posix().endswith(end)
        assert Path(line).resolve().is_relative_to(programs.parent.resolve())


def test_that_the_command_lists_the_limits(programs, tmp_path):
    listed = call([str(programs / "ductfolio"), "limits"], tmp_path)
    assert listed.returncode == 0, listed.stderr
    assert len(listed.stdout.splitlines()) >= 3


def test_that_the_command_makes_both_reports_of_the_sample_job(programs, tmp_path):
    command = [str(programs / "ductfolio"), "report", "--sample", "--out", "reports"]
    done = call(command, tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    made = sorted((tmp_path / "reports").rglob("*.pdf"))
    assert len(made) == 2
    assert all(path.read_bytes().startswith(b"%PDF-") for path in made)
