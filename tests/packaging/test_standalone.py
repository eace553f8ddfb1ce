"""The folder that needs no Python: what the packager is told, and the way into the menu on Linux.

Making it takes minutes, so `python3 -m deskapp.bootstrap standalone` does that, in CI as well.
"""

from __future__ import annotations

import os
import re
import subprocess
import tomllib
import xml.etree.ElementTree as ET
from configparser import ConfigParser
from pathlib import Path

import pytest

from deskapp.bootstrap import standalone
from deskapp.bootstrap.speech import SetupError
from deskapp.session.opening import EXTENSION

ROOT = Path(__file__).resolve().parents[2]
DESKTOP = ROOT / "resources/desktop"
NAMESPACE = {"m": "http://www.freedesktop.org/standards/shared-mime-info"}
ON_LINUX = os.name == "posix"


def entry_of(path: Path) -> dict[str, str]:
    parser = ConfigParser(interpolation=None)
    parser.optionxform = str
    parser.read(path, encoding="utf-8")
    return dict(parser["Desktop Entry"])


def test_that_every_data_file_the_packager_is_told_of_is_there(tmp_path: Path) -> None:
    assert all((ROOT / source).exists() for source in standalone.DATA)
    told = standalone.options(tmp_path)
    assert sum(word.startswith("--add-data=") for word in told) == len(standalone.DATA) + 1


def test_that_data_beside_modules_is_packed() -> None:
    beside = {
        str(path.relative_to(ROOT))
        for path in (ROOT / "deskapp").rglob("*")
        if path.is_file() and path.suffix not in (".py", ".pyc")
    }
    assert beside <= set(standalone.DATA)


def test_that_the_menu_entry_opens_what_the_file_type_names() -> None:
    """Keys after the Desktop Entry and Shared MIME-info specifications of freedesktop.org."""
    entry = entry_of(DESKTOP / "ductfolio.desktop")
    kind = ET.parse(DESKTOP / "ductfolio.xml").getroot().find("m:mime-type", NAMESPACE)
    assert kind is not None
    glob = kind.find("m:glob", NAMESPACE)
    assert glob is not None and glob.get("pattern") == f"*{EXTENSION}"
    assert entry["MimeType"] == f"{kind.get('type')};"
    assert entry["Type"] == "Application" and entry["Exec"].endswith("%f")


@pytest.mark.skipif(not ON_LINUX, reason="menu entries of this kind are for Linux desktops")
def test_that_the_program_goes_into_the_menu_and_out_again(tmp_path: Path) -> None:
    folder = tmp_path / "a b & c" / "Ductfolio"
    folder.mkdir(parents=True)
    standalone.add_desktop_files(folder)
    home = tmp_path / "home"
    variables = {**os.environ, "HOME": str(home), "XDG_DATA_HOME": str(home / "data")}

    def call(*words: str) -> None:
        script = str(folder / "add_to_menu.sh")
        subprocess.run(["sh", script, *words], env=variables, check=True, capture_output=True)

    call()
    entry = entry_of(home / "data/applications/ductfolio.desktop")
    assert entry["Exec"] == f'"{folder}/Ductfolio" %f'
    assert (home / "data/mime/packages/ductfolio.xml").is_file()
    assert (home / "data/icons/hicolor/scalable/apps/ductfolio.svg").is_file()
    call("--remove")
    assert not list((home / "data").rglob("ductfolio.*"))


@pytest.mark.skipif(not ON_LINUX, reason="the stand-ins are shell scripts")
@pytest.mark.parametrize("script", ["exit 3", "echo Traceback >&2; exec sleep 60"])
def test_that_a_window_that_does_not_open_well_is_told(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, script: str
) -> None:
    monkeypatch.setattr(standalone, "_SECONDS_OPEN", 0.5)
    program = standalone.program(tmp_path)
    program.write_text(f"#!/bin/sh\n{script}\n")
    program.chmod(0o755)
    with pytest.raises(SetupError, match="did not stay open"):
        standalone.try_window(tmp_path)


@pytest.mark.skipif(not ON_LINUX, reason="the stand-ins are shell scripts")
def test_that_reports_that_are_not_made_are_told(tmp_path: Path) -> None:
    program = standalone.program(tmp_path)
    program.write_text("#!/bin/sh\nexit 0\n")
    program.chmod(0o755)
    with pytest.raises(SetupError, match="made 0 reports"):
        standalone.try_reports(tmp_path)


def test_that_nothing_the_program_needs_is_left_out() -> None:
    with (ROOT / "pyproject.toml").open("rb") as file:
        needed = tomllib.load(file)["project"]["dependencies"]
    names = {re.split(r"[<>=!~ ]", one)[0].lower().replace("-", "_") for one in needed}
    assert "pypdf" in names
    assert names.isdisjoint(one.lower() for one in standalone.LEFT_OUT)
