"""Keeps the last remarks of the program and of Qt, for a problem report."""

from __future__ import annotations

import logging
from collections import deque

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler

_MOST = 60


class LogBook(logging.Handler):
    """The last lines noted, oldest first; nothing is written to a file."""

    def __init__(self) -> None:
        super().__init__(logging.INFO)
        self.lines: deque[str] = deque(maxlen=_MOST)
        self.setFormatter(logging.Formatter("%(levelname)s %(name)s: %(message)s"))
        self._before = None

    def emit(self, record: logging.LogRecord) -> None:
        """Note a remark of a library."""
        self.lines.append(self.format(record))

    def note_qt(self, kind: QtMsgType, _where: QMessageLogContext, text: str) -> None:
        """Note a remark of Qt, and hand it on to where it went before."""
        self.lines.append(f"Qt {kind.name}: {text}")
        if self._before is not None:
            self._before(kind, _where, text)

    def install(self) -> None:
        """Take notes from now on."""
        logging.getLogger().addHandler(self)
        self._before = qInstallMessageHandler(self.note_qt)
