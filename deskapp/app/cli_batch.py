"""The command `batch`: the PDF files of every job in a folder."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_issue import (
    batch_for,
    how_to_go_on,
    tell_issue,
)
from deskapp.app.cli_report import EXITS, KINDS, make_folder, wishes_of
from deskapp.app.cli_start import tell, tell_findings
from deskapp.i18n import _, ngettext
from deskapp.session.batch import JobOutcome, make_all
from deskapp.session.job_index import job_files
from deskapp.session.long_work import LongWork

if TYPE_CHECKING:
    from deskapp.session.reports import MadeReport


def run(options: Namespace) -> Exit:
    """Make the reports of all jobs of the folder, and sum up what became of them."""
    if options.workers < 1:
        tell(_("--workers: {typed} was typed; 1 or more are needed.").format(typed=options.workers))
        return Exit.USAGE
    wishes = wishes_of(options)
    if wishes is None:
        return Exit.USAGE
    look, handing = wishes
    if not options.folder.is_dir():
        words = _("There is no folder {path}. Name the folder that holds the job files (.ductjob).")
        tell(words.format(path=options.folder))
        return Exit.UNREADABLE
    jobs = [Path(path) for path in job_files(options.folder)]
    if not jobs:
        tell(_("There is no job file (.ductjob) in {path}.").format(path=options.folder))
        return Exit.UNREADABLE
    if not make_folder(options.out):
        return Exit.UNWRITABLE
    outcomes: list[JobOutcome] = []
    try:
        work = LongWork(_tell_step)
        batch = batch_for(options, look, KINDS.get(options.kind), handing)
        for one in make_all(jobs, options.out, batch, options.workers, work):
            outcomes.append(one)
            for made in one.made:
                tell_findings(made.findings)
                tell_issue(made)
                if not options.json:
                    print(made.path, flush=True)
    finally:
        _sum_up(outcomes, len(jobs), as_json=options.json)
    exits = (EXITS.get(trouble.code, Exit.UNREADABLE) for o in outcomes for trouble in o.troubles)
    return max(exits, default=Exit.DONE)


def _tell_step(number: int, count: int, name: str) -> None:
    tell(_("{number} of {count}: {name}").format(number=number, count=count, name=name))


def _sum_up(outcomes: list[JobOutcome], count: int, *, as_json: bool) -> None:
    """Say how many jobs were done, and what went wrong with which; also of a part of them."""
    if as_json:
        json.dump(_as_data(outcomes, count), sys.stdout, ensure_ascii=False, indent=2)
        print()
        return
    made = sum(len(one.made) for one in outcomes)
    bad = [one for one in outcomes if one.troubles]
    words = _("Jobs: {count}. Worked on: {done}. With something missing: {bad}.")
    tell(words.format(count=count, done=len(outcomes), bad=len(bad)))
    tell(ngettext("{n} report was written.", "{n} reports were written.", made).format(n=made))
    for one in bad:
        tell(f"{one.job}")
        for trouble in one.troubles:
            tell(f"  {trouble.text} {how_to_go_on(trouble.code)}".rstrip())


def _as_data(outcomes: list[JobOutcome], count: int) -> dict[str, Any]:
    return {
        "jobs": count,
        "done": len(outcomes),
        "incomplete": sum(bool(one.troubles) for one in outcomes),
        "reports": sum(len(one.made) for one in outcomes),
        "results": [
            {
                "file": str(one.job),
                "reports": [_as_report(made) for made in one.made],
                "problems": [trouble._asdict() for trouble in one.troubles],
            }
            for one in outcomes
        ],
    }


def _as_report(made: MadeReport) -> dict[str, Any]:
    data: dict[str, Any] = {
        "kind": made.kind.value,
        "file": str(made.path),
        "pages": made.pages,
    }
    if made.issue is not None:
        kept = {"revision", "number", "issued_on", "by", "reason", "mark", "file_mark"}
        data["issue"] = made.issue.model_dump(mode="json", include=kept)
    return data
