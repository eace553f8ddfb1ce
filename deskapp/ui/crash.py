"""An error in a slot: told in a dialog with text to copy; the job stays open."""

from __future__ import annotations

import sys
import traceback
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from types import TracebackType


class ProblemDialog(QDialog):
    """What went wrong, as text that can be copied, and a button that closes it."""

    def __init__(self, text: str, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Something went wrong"))
        self.report = QPlainTextEdit(text)
        self.report.setReadOnly(True)
        self.report.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.report.setAccessibleName(_("Technical report"))
        copy = Command(_("Copy the text"))
        copy.setAutoDefault(False)
        copy.clicked.connect(self._copy)
        close = Command(_("Close"), main=True)
        close.setDefault(True)
        close.clicked.connect(self.accept)
        buttons = QHBoxLayout()
        buttons.addWidget(copy)
        buttons.addStretch(1)
        buttons.addWidget(close)
        column = QVBoxLayout(self)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(12)
        column.addWidget(Words(_("The program met an error in itself."), Size.HEADING))
        advice = _("Your job is still open and unharmed. Save it, then go on or start again.")
        column.addWidget(Words(advice))
        column.addWidget(self.report, 1)
        column.addLayout(buttons)
        self.resize(680, 420)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report.toPlainText())


class CrashGuard(QObject):
    """Catches what no slot caught; shows one dialog at a time.

    Signals: `caught` with the text of the error, also from other threads.
    """

    caught = Signal(str)

    def __init__(self, window: QWidget) -> None:
        super().__init__(window)
        self._window = window
        self._dialog: ProblemDialog | None = None
        self.caught.connect(self._show)

    @property
    def dialog(self) -> ProblemDialog | None:
        """The dialog on screen, if any."""
        return self._dialog

    def install(self) -> None:
        """Catch errors from now on."""
        sys.excepthook = self.catch

    def catch(
        self,
        kind: type[BaseException],
        error: BaseException,
        trace: TracebackType | None,
    ) -> None:
        """Take an error that nobody caught."""
        text = "".join(traceback.format_exception(kind, error, trace))
        sys.stderr.write(text)
        if issubclass(kind, KeyboardInterrupt):
            return
        self.caught.emit(text)

    def _show(self, text: str) -> None:
        if self._dialog is not None:
            return
        self._dialog = ProblemDialog(text, self._window)
        self._dialog.finished.connect(self._forget)
        self._dialog.open()

    def _forget(self) -> None:
        self._dialog = None
