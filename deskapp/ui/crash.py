"""An error in a slot: a recovery copy is written, then it is told; the job stays open."""

from __future__ import annotations

import sys
import traceback
from enum import Enum, auto
from typing import TYPE_CHECKING, TypeVar

from PySide6.QtCore import QDeadlineTimer, QObject, Qt, Signal
from PySide6.QtGui import QFontDatabase, QGuiApplication
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPlainTextEdit, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

Outcome = TypeVar("Outcome")

if TYPE_CHECKING:
    from collections.abc import Callable
    from types import TracebackType

CALM = 2000
"""Milliseconds without the same error after which it is told again.

An error in a clock or in painting comes again at once: a dialog each time would leave no way to
save. House rule.
"""


class Rescue(Enum):
    """What became of the unsaved changes."""

    NOT_NEEDED = auto()
    COPIED = auto()
    NOT_COPIED = auto()


def _advice(rescue: Rescue) -> str:
    if rescue is Rescue.NOT_NEEDED:
        return _("There are no unsaved changes. Go on or start again.")
    if rescue is Rescue.COPIED:
        return _(
            "Your job is still open, and a recovery copy of it was written. Save it, then "
            "go on or start again."
        )
    return _("Your job is still open. Save it, then go on or start again.")


class ProblemDialog(QDialog):
    """What went wrong, as a report that can be copied, and a button that closes it."""

    def __init__(self, report: str, parent: QWidget | None, rescue: Rescue) -> None:
        """Show `report`, and say what became of the unsaved changes."""
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
        self.advice = Words(_advice(rescue))
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


def _no_copy() -> Rescue:
    return Rescue.NOT_COPIED


class CrashGuard(QObject):
    """Catches what no slot caught; shows one dialog at a time, and not the same again and again.

    Signals: `caught` with the text of the error, also from other threads.
    """

    caught = Signal(str)

    def __init__(
        self,
        window: QWidget,
        rescue: Callable[[], Rescue] = _no_copy,
        report_on: Callable[[str], str] = str,
    ) -> None:
        """Guard `window`: `rescue` writes a recovery copy, where one is needed.

        `report_on` makes the problem report from the text of an error.
        """
        super().__init__(window)
        self._window = window
        self._rescue = rescue
        self._report_on = report_on
        self._dialog: ProblemDialog | None = None
        self._told = ""
        self._calm = QDeadlineTimer(0)
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
        _note(text)
        if issubclass(kind, KeyboardInterrupt):
            return
        self.caught.emit(text)

    def _show(self, text: str) -> None:
        rescue = self._try(self._rescue, default=Rescue.NOT_COPIED)
        is_told = text == self._told and not self._calm.hasExpired()
        self._calm.setRemainingTime(CALM)
        if self._dialog is not None or is_told:
            return
        self._told = text
        report = self._try(lambda: self._report_on(text), default=text)
        self._dialog = ProblemDialog(report, self._window, rescue)
        self._dialog.finished.connect(self._forget)
        self._dialog.open()

    @staticmethod
    def _try(act: Callable[[], Outcome], *, default: Outcome) -> Outcome:
        """Do something that may meet the same error again: the dialog is shown all the same."""
        try:
            return act()
        except Exception:
            _note(traceback.format_exc())
            return default

    def _forget(self) -> None:
        self._dialog = None
        self._calm.setRemainingTime(CALM)


def _note(text: str) -> None:
    """Write an error where whoever started the program from a terminal sees it."""
    if sys.stderr is not None:  # pyright: ignore[reportUnnecessaryComparison] - so without one
        sys.stderr.write(text)
