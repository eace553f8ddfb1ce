"""The command `samples`: the invented jobs that come with the program."""

from __future__ import annotations

from argparse import Namespace
from pathlib import Path

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_report import make_folder
from deskapp.app.cli_start import open_shelf, preferences_for, tell
from deskapp.i18n import _
from deskapp.session.opening import JobFileProblem
from deskapp.session.samples import list_samples, open_sample
from deskapp.session.saving import save_as


def run(options: Namespace) -> Exit:
    """List the samples, or write them into a folder as job files of the user's own."""
    shelf = open_shelf()
    samples = list_samples(shelf)
    folder: Path | None = options.copy_to
    if folder is None:
        width = max((len(sample.id) for sample in samples), default=0)
        for sample in samples:
            print(f"{sample.id:<{width}}  {sample.title}")
        return Exit.DONE
    preferences = preferences_for(options)
    worst = Exit.DONE
    if not make_folder(folder, "--copy-to"):
        return Exit.UNWRITABLE
    try:
        for sample in samples:
            target = folder / f"{sample.id}.ductjob"
            if target.exists():
                tell(_("{path} is there already and was left alone.").format(path=target))
                worst = Exit.UNWRITABLE
            else:
                print(save_as(open_sample(sample.id, shelf, preferences), target))
    except JobFileProblem as problem:
        tell(problem.text)
        return Exit.UNWRITABLE
    return worst
