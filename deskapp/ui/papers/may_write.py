"""Asks before papers are written over."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.ui.dialogs.boxes import ask_about

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from PySide6.QtWidgets import QWidget

    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.reports import ReportOrder


def if_none_is_lost(
    parent: QWidget,
    order: ReportOrder,
    kinds: Iterable[ReportKind],
    folder: Path,
    then: Callable[[], object],
) -> None:
    """Go on with `then`, after asking if papers of the same names stand in the folder."""
    from deskapp.session.report_names import report_file_name

    names = [report_file_name(order.source.job, kind) for kind in kinds]
    there = [name for name in names if (folder / name).exists()]
    if not there:
        then()
        return
    text = _("{files} in {folder} would be written over by the papers as they are now.")
    ask_about(
        parent,
        _("Replace the papers that are there?"),
        text.format(files=", ".join(there), folder=folder),
        {_("Replace"): then},
    )
