"""Packages of the operating system: install them when that is allowed, else name the command."""

import os
import shlex
import shutil
import subprocess
from collections.abc import Sequence

from deskapp.bootstrap.speech import SetupError, say

# One needed package under each name it goes by, newest name first.
Names = tuple[str, ...]


def install(wanted: Sequence[Names], files: Sequence[str], why: str) -> None:
    """Install the packages `wanted`, which bring `files`, or raise `SetupError` with the command.

    Only done by itself as root on a system with apt-get. `why` opens the message.
    """
    if not shutil.which("apt-get"):
        raise SetupError(f"{why}\n{_command_elsewhere(files)}")
    if not _is_root():
        raise SetupError(
            f"{why}\nTo install what is missing:\n    sudo {shlex.join(_apt_command(wanted))}"
        )
    say(f"{why}")
    environment = os.environ | {"DEBIAN_FRONTEND": "noninteractive"}
    updated = subprocess.run(["apt-get", "-qq", "update"], env=environment, check=False)
    command = _apt_command(wanted)
    say(f"Installing: {shlex.join(command)}")
    done = subprocess.run(
        [*command, "-qq"], env=environment, check=False, stdout=subprocess.DEVNULL
    )
    if updated.returncode or done.returncode:
        raise SetupError(
            f"apt-get could not do it. Look at its message above, then try\n"
            f"    apt-get update\n    {shlex.join(command)}"
        )


def _is_root() -> bool:
    return hasattr(os, "geteuid") and os.geteuid() == 0


def _apt_command(wanted: Sequence[Names]) -> list[str]:
    packages = list(dict.fromkeys(_known_name(names) for names in wanted))
    return ["apt-get", "install", "--yes", "--no-install-recommends", *packages]


def _known_name(names: Names) -> str:
    """Return the first of `names` that this system's package list knows, else the last."""
    for name in names[:-1]:
        asked = subprocess.run(["apt-cache", "show", name], capture_output=True, check=False)
        if asked.returncode == 0:
            return name
    return names[-1]


def _command_elsewhere(files: Sequence[str]) -> str:
    """Return the command for systems without apt-get; rpm tools can be asked for a library file."""
    for tool in ("dnf", "zypper"):
        if shutil.which(tool) and files:
            libraries = " ".join(f"'{name}()(64bit)'" for name in files)
            return f"To install what is missing:\n    sudo {tool} install {libraries}"
    listed = f" Needed: {', '.join(files)}." if files else ""
    return f"Install what is missing with the package tool of this system.{listed}"
