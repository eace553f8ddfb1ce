"""Loads beside the window what it first needs when something is opened or done.

So no first time takes longer than another. The modules that load something late say so in a
function; a test compares what they name with what is loaded here.
"""

from __future__ import annotations

from importlib import import_module

from deskapp.session.help.data import subjects

MODULES = (
    "PySide6.QtPdf",
    "PySide6.QtPrintSupport",
    "deskapp.session.advice",
    "deskapp.session.batch",
    "deskapp.session.drawing",
    "deskapp.session.instruments.register_editor",
    "deskapp.session.issued_files",
    "deskapp.session.job_index",
    "deskapp.session.leak_words",
    "deskapp.session.live.paste",
    "deskapp.session.live.rules",
    "deskapp.session.live.serial_wire",
    "deskapp.session.photo_checklist",
    "deskapp.session.photo_export",
    "deskapp.session.photo_index",
    "deskapp.session.photo_intake",
    "deskapp.session.printed_file",
    "deskapp.session.problem_report",
    "deskapp.session.recovery",
    "deskapp.session.repairs",
    "deskapp.session.samples",
    "deskapp.session.sampling_log_pdf",
    "deskapp.session.saving",
    "deskapp.session.signature",
    "deskapp.session.template_desk",
    "deskapp.ui.cabinet",
    "deskapp.ui.company.preferring",
    "deskapp.ui.company.usual_dialog",
    "deskapp.ui.dialogs.about",
    "deskapp.ui.dialogs.branding_dialog",
    "deskapp.ui.guide",
    "deskapp.ui.instruments.check_dialog",
    "deskapp.ui.instruments.instruments_dialog",
    "deskapp.ui.instruments.ring_dialog",
    "deskapp.ui.issuing.check_dialog",
    "deskapp.ui.issuing.issue_dialog",
    "deskapp.ui.issuing.key_dialog",
    "deskapp.ui.jobs.batch_run",
    "deskapp.ui.jobs.jobs_dialog",
    "deskapp.ui.jobs.reports_dialog",
    "deskapp.ui.limits.own_dialog",
    "deskapp.ui.limits.sampling_dialog",
    "deskapp.ui.papers.mail_dialog",
    "deskapp.ui.papers.print_dialog",
    "deskapp.ui.papers.template_dialog",
    "deskapp.ui.photos.boards",
    "deskapp.ui.photos.drawing_dialog",
    "deskapp.ui.photos.signature_dialog",
    "deskapp.ui.printing",
    "deskapp.ui.recovering",
)
"""What the start does not need anyway, in no order."""

_TYPES = (
    ("PySide6.QtGui", ("QIconEngine", "QInputDevice", "QPointingDevice")),
    ("PySide6.QtPdf", ("QPdf",)),
    ("PySide6.QtWidgets", ("QStyleOption",)),
)
"""Types by how their names begin that the first list or page shown asks for, a hundred in all; the
library makes each when it is first named."""


def load_ahead() -> None:
    """Load all of it, and the topics of help, which are kept as data."""
    for name in MODULES:
        import_module(name)
    for name, beginnings in _TYPES:
        module = import_module(name)
        for kind in dir(module):
            if kind.startswith(beginnings):
                getattr(module, kind)
    subjects()
