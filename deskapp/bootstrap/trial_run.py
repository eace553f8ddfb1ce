"""The first look: the sample job as two reports, then the window."""

import os
import subprocess
import sys
from collections.abc import Mapping
from pathlib import Path

from deskapp.bootstrap import qt_libraries, words
from deskapp.bootstrap.environment import ROOT, child_variables, prepare
from deskapp.bootstrap.speech import SetupError, say

REPORTS = ROOT / "out"


def run() -> int:
    """Make the environment, the two sample reports and, where there is a screen, the window."""
    python = prepare("run")
    words.compile_stale(python)
    _make_reports(python)
    no_screen = why_no_screen(sys.platform, os.environ)
    if no_screen:
        say(f"\n{no_screen} To open the window later, give the same command where there is one.")
        return 0
    qt_libraries.ensure(python, with_window=True)
    say("\nOpening the window. Close it to end this command.")
    opened = subprocess.run([python, "-m", "deskapp"], cwd=ROOT, env=child_variables(), check=False)
    if opened.returncode:
        raise SetupError(
            f"The window ended with status {opened.returncode}; its own message stands above.\n"
            "If that speaks of the display: the screen named in DISPLAY cannot be reached.\n"
            f"The two reports are in {REPORTS} all the same."
        )
    return 0


def why_no_screen(system: str, variables: Mapping[str, str]) -> str:
    """Return why no window can be opened, or an empty text when it can.

    `system` is as in `sys.platform`, `variables` are the environment variables.
    """
    if variables.get("CI"):
        return "This is an automatic run (CI is set), so no window is opened."
    if system in ("win32", "darwin"):
        if variables.get("SSH_CONNECTION"):
            return "This is a remote shell without a screen, so no window is opened."
        return ""
    if variables.get("DISPLAY") or variables.get("WAYLAND_DISPLAY"):
        return ""
    return "There is no screen here (neither DISPLAY nor WAYLAND_DISPLAY is set)."


def _make_reports(python: Path) -> None:
    say("Making the two reports of the sample job ...")
    before = _report_times()
    command = [python, "-m", "deskapp", "report", "--sample", "--out", str(REPORTS)]
    done = subprocess.run(command, cwd=ROOT, env=child_variables(), check=False)
    if done.returncode:
        raise SetupError(f"The reports were not made (status {done.returncode}); see above.")
    made = [path for path, time in _report_times().items() if before.get(path) != time]
    if len(made) < 2:
        raise SetupError(f"Two reports were asked for, {len(made)} came to {REPORTS}.")
    listed = "\n".join(f"    {path}" for path in sorted(made))
    say(f"\nThe two reports of the sample job are here:\n{listed}")


def _report_times() -> dict[Path, int]:
    return {path: path.stat().st_mtime_ns for path in REPORTS.rglob("*.pdf")}
