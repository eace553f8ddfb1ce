"""What the set-up says and decides, apart from the installing itself."""

from __future__ import annotations

import ast
import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.bootstrap import environment, pdf_validator, system_packages
from deskapp.bootstrap.checks import StepOutcome, summary
from deskapp.bootstrap.pip_words import explain
from deskapp.bootstrap.qt_libraries import DRAWING, X11_WINDOW
from deskapp.bootstrap.speech import SetupError
from deskapp.bootstrap.trial_run import why_no_screen

ROOT = Path(__file__).resolve().parents[2]
ON_LINUX = pytest.mark.skipif(sys.platform != "linux", reason="apt-get is a matter of Linux")


def test_that_the_first_file_can_be_read_by_an_old_python():
    text = (ROOT / "deskapp/bootstrap/__main__.py").read_text(encoding="utf-8")
    ast.parse(text, feature_version=(3, 6))
    assert "from __future__" not in text


def test_that_an_old_python_is_told_what_is_needed():
    code = (
        "import runpy, sys; sys.version_info = (3, 9, 18, 'final', 0);"
        "runpy.run_module('deskapp.bootstrap', run_name='__main__')"
    )
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 1
    assert done.stderr.startswith("Ductfolio needs Python 3.11 or newer. This is Python 3.9")
    assert "Traceback" not in done.stderr


def test_that_the_set_up_imports_nothing_that_is_not_in_the_standard_library():
    for file in (ROOT / "deskapp/bootstrap").glob("*.py"):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            names = [node.module] if isinstance(node, ast.ImportFrom) else []
            names += [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
            for name in names:
                top = name.split(".")[0]
                ours = name.startswith("deskapp.bootstrap")
                assert ours or top in sys.stdlib_module_names, f"{file.name} imports {name}"


@pytest.mark.parametrize(
    ("system", "variables", "words"),
    [
        ("linux", {}, "neither DISPLAY nor WAYLAND_DISPLAY"),
        ("linux", {"DISPLAY": ":0"}, ""),
        ("linux", {"WAYLAND_DISPLAY": "wayland-0"}, ""),
        ("linux", {"DISPLAY": ":0", "CI": "true"}, "automatic run"),
        ("win32", {}, ""),
        ("win32", {"SSH_CONNECTION": "a b"}, "remote shell"),
        ("darwin", {}, ""),
        ("darwin", {"CI": "1"}, "automatic run"),
    ],
)
def test_that_a_window_is_opened_only_where_somebody_can_see_it(system, variables, words):
    reason = why_no_screen(system, variables)
    assert words in reason
    assert bool(words) == bool(reason)


@pytest.mark.parametrize(
    ("said", "words"),
    [
        ("WARNING: Retrying (Retry(total=4)) after NewConnectionError", "could not reach"),
        ("ERROR: Could not find a version that satisfies x (from versions: none)", "PIP_INDEX_URL"),
        ("ERROR: Could not find a version ... (from versions: 1.0)", "no ready-made build"),
        ("ERROR: THESE PACKAGES DO NOT MATCH THE HASHES FROM THE", "not the one named in the lock"),
        ("OSError: [Errno 28] No space left on device", "disk is full"),
        ("ERROR: something new", "pip stopped"),
    ],
)
def test_that_pips_words_are_explained_and_kept(said, words):
    message = explain(said)
    assert words in message
    assert said in message


def test_that_the_summary_names_what_is_red():
    outcomes = [StepOutcome("types", True, 5.0), StepOutcome("tests", False, 61.25)]
    lines = summary(outcomes).splitlines()
    assert lines[-1] == "Red: tests. 66.2 s in all."
    assert lines[1].split() == ["RED", "tests", "61.2", "s"]
    assert summary(outcomes[:1]).splitlines()[-1] == "All green. 5.0 s in all."


def test_that_an_environment_is_reused_only_while_nothing_changed(monkeypatch, tmp_path):
    lock = tmp_path / "run.txt"
    lock.write_text("pint==0.25.3\n", encoding="utf-8")
    monkeypatch.setattr(environment, "LOCKS", tmp_path)
    first = environment.fingerprint("run")
    assert environment.fingerprint("run") == first
    lock.write_text("pint==0.25.4\n", encoding="utf-8")
    assert environment.fingerprint("run") != first
    monkeypatch.setattr(environment.platform, "python_version", lambda: "3.99.0")
    lock.write_text("pint==0.25.3\n", encoding="utf-8")
    assert environment.fingerprint("run") != first


def tool(folder: Path, name: str, script: str) -> None:
    path = folder / name
    path.write_text(f"#!/bin/sh\n{script}\n", encoding="utf-8")
    path.chmod(0o755)


@ON_LINUX
def test_that_somebody_without_rights_is_given_the_exact_command(monkeypatch, tmp_path):
    tool(tmp_path, "apt-get", "exit 1")
    tool(tmp_path, "apt-cache", '[ "$2" = libglib2.0-0t64 ]')
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000)
    files = ["libglib-2.0.so.0", "libEGL.so.1"]
    with pytest.raises(SetupError) as stop:
        system_packages.install([DRAWING[name] for name in files], files, "Qt needs more.")
    assert str(stop.value).splitlines() == [
        "Qt needs more.",
        "To install what is missing:",
        "    sudo apt-get install --yes --no-install-recommends libglib2.0-0t64 libegl1",
    ]


@ON_LINUX
def test_that_root_gets_the_packages_installed(monkeypatch, tmp_path):
    log = tmp_path / "log"
    tool(tmp_path, "apt-get", f'echo "$@" >> {log}')
    tool(tmp_path, "apt-cache", "exit 1")
    monkeypatch.setenv("PATH", f"{tmp_path}:/bin")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 0)
    files = ["libglib-2.0.so.0", "libxcb-cursor.so.0"]
    needed = DRAWING | X11_WINDOW
    system_packages.install([needed[name] for name in files], files, "Qt needs more.")
    update, install = log.read_text(encoding="utf-8").splitlines()
    assert "update" in update
    assert install.split()[-3:-1] == ["libglib2.0-0", "libxcb-cursor0"]


@ON_LINUX
def test_that_a_system_without_apt_is_told_the_library_files(monkeypatch, tmp_path):
    tool(tmp_path, "dnf", "exit 1")
    monkeypatch.setenv("PATH", str(tmp_path))
    with pytest.raises(SetupError, match=r"sudo dnf install 'libEGL\.so\.1\(\)\(64bit\)'"):
        system_packages.install([("libegl1",)], ["libEGL.so.1"], "Qt needs more.")
    (tmp_path / "dnf").unlink()
    with pytest.raises(SetupError, match=r"package tool of this system\. Needed: libEGL\.so\.1"):
        system_packages.install([("libegl1",)], ["libEGL.so.1"], "Qt needs more.")


@ON_LINUX
def test_that_the_pdf_validator_is_installed_or_its_absence_told(monkeypatch, tmp_path, capsys):
    log = tmp_path / "log"
    tool(tmp_path, "apt-get", f'echo "$@" >> {log}')
    tool(tmp_path, "apt-cache", "exit 1")
    monkeypatch.setenv("PATH", str(tmp_path))
    monkeypatch.setattr(pdf_validator, "XML_BINDING", (tmp_path / "binding.jar",))
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 0)
    assert pdf_validator.absent() == ["javac", "binding.jar"]
    pdf_validator.ensure()
    assert "default-jdk-headless libjaxb-java" in log.read_text(encoding="utf-8")
    monkeypatch.setattr(system_packages.os, "geteuid", lambda: 1000)
    pdf_validator.ensure()
    assert "NOT PROVED" in capsys.readouterr().out


@pytest.mark.parametrize(("value", "required"), [("", False), ("0", False), ("1", True)])
def test_that_continuous_integration_insists_on_proof(monkeypatch, value, required):
    monkeypatch.setenv("CI", value)
    assert pdf_validator.is_required() is required
