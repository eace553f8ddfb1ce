"""System libraries that Qt needs on Linux and that its wheels do not carry."""

import os
import re
import subprocess
import sys
from pathlib import Path

from deskapp.bootstrap import system_packages
from deskapp.bootstrap.environment import child_variables
from deskapp.bootstrap.speech import SetupError, tail

# Library file -> the Debian package that holds it, under each of its names, newest first.
# Read off the wheels with `readelf -d`, names from Debian 12 and 13.
DRAWING = {
    "libglib-2.0.so.0": ("libglib2.0-0t64", "libglib2.0-0"),
    "libGL.so.1": ("libgl1",),
    "libEGL.so.1": ("libegl1",),
    "libX11.so.6": ("libx11-6",),
    "libxkbcommon.so.0": ("libxkbcommon0",),
    "libdbus-1.so.3": ("libdbus-1-3",),
    "libfontconfig.so.1": ("libfontconfig1",),
    "libfreetype.so.6": ("libfreetype6",),
    "libgssapi_krb5.so.2": ("libgssapi-krb5-2",),
    "libbrotlidec.so.1": ("libbrotli1",),
    "libzstd.so.1": ("libzstd1",),
}
X11_WINDOW = {
    "libxcb-cursor.so.0": ("libxcb-cursor0",),
    "libxcb-icccm.so.4": ("libxcb-icccm4",),
    "libxcb-image.so.0": ("libxcb-image0",),
    "libxcb-keysyms.so.1": ("libxcb-keysyms1",),
    "libxcb-randr.so.0": ("libxcb-randr0",),
    "libxcb-render-util.so.0": ("libxcb-render-util0",),
    "libxcb-render.so.0": ("libxcb-render0",),
    "libxcb-shape.so.0": ("libxcb-shape0",),
    "libxcb-shm.so.0": ("libxcb-shm0",),
    "libxcb-sync.so.1": ("libxcb-sync1",),
    "libxcb-util.so.1": ("libxcb-util1",),
    "libxcb-xfixes.so.0": ("libxcb-xfixes0",),
    "libxcb-xkb.so.1": ("libxcb-xkb1",),
    "libX11-xcb.so.1": ("libx11-xcb1",),
    "libxkbcommon-x11.so.0": ("libxkbcommon-x11-0",),
}
WAYLAND_WINDOW = {
    "libwayland-client.so.0": ("libwayland-client0",),
    "libwayland-cursor.so.0": ("libwayland-cursor0",),
}

_TRY_EACH = """
import ctypes, sys
for name in sys.argv[1:]:
    try:
        ctypes.CDLL(name)
    except OSError:
        print(name)
"""
_TRY_QT = "from PySide6 import QtPdf, QtWidgets; QtWidgets.QApplication([])"
_FILE = re.compile(r"(lib\S+\.so[.\d]*): cannot open shared object file")


def ensure(python: Path, *, with_window: bool) -> None:
    """See to it that Qt loads in the environment; `with_window` adds what a real screen needs.

    Missing libraries are installed where that is allowed. Otherwise, or when Qt still does not
    load, raises `SetupError` with the command or the library.
    """
    if sys.platform == "linux":
        needed = DRAWING | (_for_screen() if with_window else {})
        absent = _missing(python, list(needed))
        if absent:
            why = f"Qt needs system libraries that are not here: {', '.join(absent)}."
            system_packages.install([needed[name] for name in absent], absent, why)
            left = _missing(python, absent)
            if left:
                raise SetupError(f"Qt still lacks {', '.join(left)} after installing packages.")
    _load_qt(python)


def _for_screen() -> dict[str, tuple[str, ...]]:
    needed: dict[str, tuple[str, ...]] = {}
    if os.environ.get("DISPLAY"):
        needed |= X11_WINDOW
    if os.environ.get("WAYLAND_DISPLAY"):
        needed |= WAYLAND_WINDOW
    return needed


def _missing(python: Path, files: list[str]) -> list[str]:
    asked = subprocess.run(
        [python, "-c", _TRY_EACH, *files], capture_output=True, text=True, check=True
    )
    return asked.stdout.split()


def _load_qt(python: Path) -> None:
    variables = child_variables(QT_QPA_PLATFORM="offscreen")
    tried = subprocess.run(
        [python, "-c", _TRY_QT], env=variables, capture_output=True, text=True, check=False
    )
    if tried.returncode:
        found = _FILE.search(tried.stderr)
        library = f" because the system library {found[1]} is missing" if found else ""
        raise SetupError(f"Qt does not load{library}. It said\n{tail(tried.stderr)}")
