"""Whether there is a screen to open a window on; asked before Qt, which ends the process if not."""

from __future__ import annotations

import ctypes
import os
import sys
from pathlib import Path

from deskapp.i18n import _

_SCREENS = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")


def why_no_window() -> str:
    """Return why no window can be opened here, and what helps; empty if one can."""
    if not sys.platform.startswith(("linux", "freebsd")):
        return ""
    if not any(os.environ.get(name) for name in _SCREENS):
        return _(
            "There is no screen to open a window on. The commands work without one: {help}"
        ).format(help="ductfolio --help")
    return _why_no_x() if _needs_x() else ""


def _needs_x() -> bool:
    asked = os.environ.get("QT_QPA_PLATFORM")
    return asked.startswith("xcb") if asked else not os.environ.get("WAYLAND_DISPLAY")


def _why_no_x() -> str:
    missing = missing_library()
    if missing:
        return _(
            "The window cannot be opened: the library {library} is missing. Install the package of "
            "your system that holds it. The commands work without a window: {help}"
        ).format(library=missing, help="ductfolio --help")
    if not _answers():
        return _(
            "The screen {screen} does not answer, so no window can be opened. The commands work "
            "without one: {help}"
        ).format(screen=os.environ.get("DISPLAY", ""), help="ductfolio --help")
    return ""


def missing_library(plugin: Path | None = None) -> str:
    """Return the name of a library that Qt's own part for X needs and that is not there."""
    from PySide6.QtCore import QLibraryInfo

    folder = Path(QLibraryInfo.path(QLibraryInfo.LibraryPath.PluginsPath))
    part = plugin or folder / "platforms" / "libqxcb.so"
    if not part.exists():
        return ""
    try:
        ctypes.CDLL(str(part))
    except OSError as error:
        return str(error).partition(":")[0]
    return ""


def _answers() -> bool:
    """Say whether the screen named in the environment takes a connection."""
    try:
        xcb = ctypes.CDLL("libxcb.so.1")
    except OSError:
        return True
    xcb.xcb_connect.restype = ctypes.c_void_p
    connection = ctypes.c_void_p(xcb.xcb_connect(None, None))
    try:
        return not xcb.xcb_connection_has_error(connection)
    finally:
        xcb.xcb_disconnect(connection)
