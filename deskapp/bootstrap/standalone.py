"""The program as a folder that needs no Python, made for the system this runs on, and tried out."""

import os
import shutil
import subprocess
import sys
import tempfile
import time
import tomllib
from pathlib import Path

from deskapp.bootstrap import qt_libraries
from deskapp.bootstrap.environment import ROOT, child_variables, prepare
from deskapp.bootstrap.speech import SetupError, say

GOAL = ROOT / "dist"
WORK = ROOT / "build" / "standalone"
NAME = "Ductfolio"
DATA = {
    "resources": "deskapp/_data/resources",
    "report_templates": "deskapp/_data/report_templates",
    "deskapp/units/definitions.txt": "deskapp/units",
}
LEFT_OUT = (
    # Libraries of the checks, and others that some library would use if they were there.
    *("numpy", "scipy", "statsmodels", "pandas", "matplotlib", "uncertainties", "CoolProp"),
    *("fluids", "hypothesis", "pytest", "_pytest", "IPython", "tkinter", "setuptools"),
    *("textstat", "pyphen", "pkg_resources", "deskapp.bootstrap"),
)
_SECONDS_OPEN = 8.0


def standalone() -> int:
    """Make `dist/Ductfolio`, then have the result make reports and open its window unseen."""
    python = prepare("check")
    qt_libraries.ensure(python, with_window=False)
    folder = build(python)
    say("Trying it: the reports of the sample job, then the window ...")
    try_reports(folder)
    try_window(folder)
    files = (path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    size = sum(path.stat().st_size for path in files)
    say(f"\n{folder} is ready ({size / 1e6:.0f} MB). Copy the whole folder; it needs no Python.")
    if sys.platform.startswith("linux"):
        say("add_to_menu.sh inside it adds the program to the menu and opens job files with it.")
    return 0


def build(python: Path) -> Path:
    """Make the folder and return it. Raises SetupError where the packager does not get through."""
    say("Making the folder; this takes about a minute ...")
    notice = _notice()
    command = [
        str(python),
        "-m",
        "PyInstaller",
        *options(notice),
        str(ROOT / "deskapp/__main__.py"),
    ]
    done = subprocess.run(
        command, cwd=ROOT, env=child_variables(), check=False, capture_output=True, text=True
    )
    if done.returncode:
        raise SetupError(f"The packager stopped:\n{done.stderr[-3000:]}")
    folder = GOAL / NAME
    if sys.platform.startswith("linux"):
        add_desktop_files(folder)
    return folder


def options(notice: Path) -> list[str]:
    """Return what the packager is told; `notice` is a folder that names program and version."""
    data = [f"--add-data={ROOT / source}:{place}" for source, place in DATA.items()]
    left_out = [f"--exclude-module={module}" for module in LEFT_OUT]
    window = [] if sys.platform.startswith("linux") else ["--windowed"]
    return [
        *("--noconfirm", "--clean", "--onedir", "--log-level=ERROR", f"--name={NAME}"),
        *(f"--distpath={GOAL}", f"--workpath={WORK}", f"--specpath={WORK}"),
        *("--collect-submodules=deskapp", f"--add-data={notice}:{notice.name}"),
        # Codes to scan, and what counts widths in C, are imported in ways the packager cannot see.
        "--collect-submodules=reportlab.graphics.barcode",
        "--hidden-import=_rl_accel",
        *data,
        *left_out,
        *window,
    ]


def try_reports(folder: Path) -> None:
    """Have the folder make the reports of the sample job. Raises SetupError if it does not."""
    with tempfile.TemporaryDirectory() as place:
        command = [str(program(folder)), "report", "--sample", "--out", place]
        done = _call(command, place)
        made = list(Path(place).rglob("*.pdf"))
    if done.returncode or len(made) < 2:
        raise SetupError(f"The folder made {len(made)} reports.\n{done.stdout}{done.stderr}")


def try_window(folder: Path) -> None:
    """Open the window without a screen. Raises SetupError if it ends or complains."""
    with tempfile.TemporaryDirectory() as place:
        opened = subprocess.Popen(
            [str(program(folder))],
            cwd=place,
            env=_variables(place),
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
        )
        until = time.monotonic() + _SECONDS_OPEN
        while opened.poll() is None and time.monotonic() < until:
            time.sleep(0.1)
        ended = opened.poll() is not None
        opened.kill()
        complaint = opened.communicate()[1]
    if ended or "Traceback" in complaint:
        raise SetupError(f"The window of the folder did not stay open.\n{complaint}")


def program(folder: Path) -> Path:
    """Return the program inside the folder."""
    return folder / (f"{NAME}.exe" if os.name == "nt" else NAME)


def _call(command: list[str], place: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        command, cwd=place, env=_variables(place), check=False, capture_output=True, text=True
    )


def _variables(place: str) -> dict[str, str]:
    """Return variables for a program that knows neither this clone nor the user's settings."""
    return child_variables(QT_QPA_PLATFORM="offscreen", XDG_CONFIG_HOME=place, XDG_DATA_HOME=place)


def _notice() -> Path:
    """Write what the program's own `--version` reads, as an installed package has it."""
    with (ROOT / "pyproject.toml").open("rb") as file:
        project = tomllib.load(file)["project"]
    folder = WORK / f"{project['name']}-{project['version']}.dist-info"
    folder.mkdir(parents=True, exist_ok=True)
    text = f"Metadata-Version: 2.1\nName: {project['name']}\nVersion: {project['version']}\n"
    (folder / "METADATA").write_text(text, encoding="utf-8")
    return folder


def add_desktop_files(folder: Path) -> None:
    """Put the menu entry, the file type and the script that installs them into `folder`."""
    desktop = folder / "desktop"
    desktop.mkdir(exist_ok=True)
    for name in ("ductfolio.desktop", "ductfolio.xml"):
        shutil.copy(ROOT / "resources/desktop" / name, desktop)
    shutil.copy(ROOT / "resources/icons/ductfolio.svg", desktop)
    shutil.copy(ROOT / "resources/desktop/add_to_menu.sh", folder)
