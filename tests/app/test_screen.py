"""Without a screen, or without what a screen needs, the program says so and ends in good order."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from deskapp.app import cli, screen

PROJECT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="only there a screen may be missing"
)


@pytest.mark.parametrize(
    "given",
    [{}, {"DISPLAY": ":4242"}, {"DISPLAY": ":4242", "QT_QPA_PLATFORM": "xcb"}],
)
def test_that_the_program_ends_with_words_of_its_own(given: dict[str, str]) -> None:
    names = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    kept = {name: value for name, value in os.environ.items() if name not in names}
    ran = subprocess.run(
        [sys.executable, "-m", "deskapp"],
        cwd=PROJECT,
        env={**kept, **given},
        capture_output=True,
        text=True,
        timeout=60,
        check=False,
    )
    assert ran.returncode == 2
    (line,) = ran.stderr.splitlines()
    assert line.startswith("ductfolio: ")
    assert "ductfolio --help" in line
    assert "qt.qpa" not in line


def test_that_a_missing_library_is_named(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("DISPLAY", ":0")
    for name in ("WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setattr(screen, "missing_library", lambda: "libxcb-cursor.so.0")
    assert cli.main([]) == 2
    assert "the library libxcb-cursor.so.0 is missing" in capsys.readouterr().err


def test_that_what_cannot_be_loaded_is_named_by_the_system(tmp_path: Path) -> None:
    broken = tmp_path / "libbroken.so"
    broken.write_bytes(b"no library")
    assert screen.missing_library(broken) == str(broken)
    assert screen.missing_library(tmp_path / "none.so") == ""
