"""The command `photos`: the photos of a job as files, with a list."""

from __future__ import annotations

from argparse import Namespace
from datetime import date
from pathlib import Path

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_start import open_shelf, preferences_for, tell
from deskapp.i18n import _
from deskapp.session.opening import JobFileProblem, open_job
from deskapp.session.photo_export import PhotoExportProblem, export_photos, order_photos


def run(options: Namespace) -> Exit:
    """Export the photos and print the path of each file."""
    folder: Path = options.out
    try:
        editor = open_job(options.job, open_shelf(), preferences_for(options))
    except JobFileProblem as problem:
        tell(problem.text)
        return Exit.UNREADABLE
    try:
        made = export_photos(order_photos(editor, date.today()), folder, over=options.replace)
    except PhotoExportProblem as problem:
        tell(problem.text)
        if problem.code == "exists":
            tell(_("To write over them, add --replace."))
        return Exit.STOPPED if problem.code == "none" else Exit.UNWRITABLE
    for name in made.left_out:
        tell(_("The photo “{name}” cannot be read and was left out.").format(name=name))
    for path in made.files:
        print(path)
    return Exit.DONE
