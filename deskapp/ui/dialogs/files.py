"""Asking for files, without holding up the program while one looks for them."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFileDialog, QWidget

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable


def _path_to(then: Callable[[Path], None]) -> Callable[[str], None]:
    def taken(name: str) -> None:
        then(Path(name))

    return taken


def _paths_to(then: Callable[[list[Path]], None]) -> Callable[[list[str]], None]:
    def taken(names: list[str]) -> None:
        then([Path(name) for name in names])

    return taken


def _dialog(parent: QWidget, title: str, filters: list[str]) -> QFileDialog:
    dialog = QFileDialog(parent, title)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    dialog.setNameFilters(filters)
    return dialog


def _ask_file(
    parent: QWidget, title: str, filters: list[str], then: Callable[[Path], None]
) -> QFileDialog:
    dialog = _dialog(parent, title, filters)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.fileSelected.connect(_path_to(then))
    dialog.open()
    return dialog


def ask_job_to_open(parent: QWidget, then: Callable[[Path], None], folder: str = "") -> QFileDialog:
    """Ask for a job file to open; `folder` is looked into first."""
    filters = [_("Jobs (*.ductjob *.json)"), _("All files (*)")]
    dialog = _dialog(parent, _("Open a job"), filters)
    if folder:
        dialog.setDirectory(folder)
    dialog.setFileMode(QFileDialog.FileMode.ExistingFile)
    dialog.fileSelected.connect(_path_to(then))
    dialog.open()
    return dialog


def ask_folder(parent: QWidget, title: str, then: Callable[[Path], None]) -> QFileDialog:
    """Ask for a folder."""
    dialog = _dialog(parent, title, [])
    dialog.setFileMode(QFileDialog.FileMode.Directory)
    dialog.setOption(QFileDialog.Option.ShowDirsOnly)
    dialog.fileSelected.connect(_path_to(then))
    dialog.open()
    return dialog


def ask_log(parent: QWidget, then: Callable[[Path], None]) -> QFileDialog:
    """Ask for a text log of readings."""
    filters = [_("Text logs (*.csv *.txt *.log *.tsv)"), _("All files (*)")]
    return _ask_file(parent, _("Choose a log of readings"), filters, then)


def ask_certificate(parent: QWidget, then: Callable[[Path], None]) -> QFileDialog:
    """Ask for a certificate file."""
    filters = [_("Certificates with their key (*.p12 *.pfx)"), _("All files (*)")]
    return _ask_file(parent, _("Choose your certificate"), filters, then)


def ask_report(parent: QWidget, then: Callable[[Path], None]) -> QFileDialog:
    """Ask for a report to check."""
    filters = [_("Reports (*.pdf)"), _("All files (*)")]
    return _ask_file(parent, _("Choose a report"), filters, then)


def ask_where_to_save(
    parent: QWidget, title: str, proposed: Path, words: str, then: Callable[[Path], None]
) -> QFileDialog:
    """Ask for a place to save to; `words` describe the kind of file."""
    dialog = _dialog(parent, title, [f"{words} (*{proposed.suffix})"])
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.setDefaultSuffix(proposed.suffix)
    if proposed.parent != Path():
        dialog.setDirectory(str(proposed.parent))
    dialog.selectFile(proposed.name)
    dialog.fileSelected.connect(_path_to(then))
    dialog.open()
    return dialog


def ask_pictures(
    parent: QWidget, title: str, then: Callable[[list[Path]], None], *, several: bool = True
) -> QFileDialog:
    """Ask for pictures."""
    dialog = _dialog(parent, title, [_("Pictures (*.jpg *.jpeg *.png)"), _("All files (*)")])
    mode = QFileDialog.FileMode
    dialog.setFileMode(mode.ExistingFiles if several else mode.ExistingFile)
    dialog.filesSelected.connect(_paths_to(then))
    dialog.open()
    return dialog
