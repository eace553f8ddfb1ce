"""An error in a slot: a recovery copy is written, then it is told; the job stays open."""

from __future__ import annotations

import sys
import traceback
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

Outcome = TypeVar("Outcome")

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import TracebackType


class ProblemDialog(QDialog):
    """What went wrong, as a report that can be copied, and a button that closes it."""

    def __init__(self, report: str, parent: QWidget | None, *, copied: bool) -> None:
        """Show `report`; `copied` tells whether all changes are in a recovery copy."""
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Something went wrong"))
        self.report = QPlainTextEdit(report)
        self.report.setReadOnly(True)
        self.report.setFont(QFontDatabase.systemFont(QFontDatabase.SystemFont.FixedFont))
        self.report.setAccessibleName(_("Problem report"))
        copy = Command(_("Copy the report"))
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
        self.advice = Words(_("Your job is still open. Save it, then go on or start again."))
        if copied:
            self.advice.setText(
                _(
                    "Your job is still open, and a recovery copy of it was written. Save it, then "
                    "go on or start again."
                )
            )
        column.addWidget(self.advice)
        about = _(
            "The report below helps to mend this. Texts of the job are left out of it, but look it "
            "over before you pass it on."
        )
        column.addWidget(Words(about, muted=True))
        column.addWidget(self.report, 1)
        column.addLayout(buttons)
        self.resize(680, 460)

    def _copy(self) -> None:
        QGuiApplication.clipboard().setText(self.report.toPlainText())


def _no_copy() -> bool:
    return False


class CrashGuard(QObject):
    """Catches what no slot caught; shows one dialog at a time.

    Signals: `caught` with the text of the error, also from other threads.
    """

    caught = Signal(str)

    def __init__(
        self,
        window: QWidget,
        rescue: Callable[[], bool] = _no_copy,
        report_on: Callable[[str], str] = str,
    ) -> None:
        """Guard `window`: `rescue` writes a recovery copy and says whether all is in it now.

        `report_on` makes the problem report from the text of an error.
        """
        super().__init__(window)
        self._window = window
        self._rescue = rescue
        self._report_on = report_on
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
        copied = self._try(self._rescue, default=False)
        if self._dialog is not None:
            return
        report = self._try(lambda: self._report_on(text), default=text)
        self._dialog = ProblemDialog(report, self._window, copied=copied)
        self._dialog.finished.connect(self._forget)
        self._dialog.open()

    @staticmethod
    def _try(act: Callable[[], Outcome], *, default: Outcome) -> Outcome:
        """Do something that may meet the same error again: the dialog is shown all the same."""
        try:
            return act()
        except Exception:
            sys.stderr.write(traceback.format_exc())
            return default

    def _forget(self) -> None:
        self._dialog = None
