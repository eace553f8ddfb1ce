"""The command `verdict`: the result of job files as text or as data."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_start import open_shelf, preferences_for, say, tell
from deskapp.domain.result import Verdict
from deskapp.domain.stops import SAFETY_STOP
from deskapp.session.job_status import dangers
from deskapp.session.opening import JobFileProblem, open_job
from deskapp.session.report_kinds import ReportKind
from deskapp.session.reports import stops_against
from deskapp.session.verdict_words import verdict_json, verdict_text

if TYPE_CHECKING:
    from deskapp.session.editor import Editor


def run(options: Namespace) -> Exit:
    """Print the verdict of every job file that can be read."""
    shelf, preferences = open_shelf(), preferences_for(options)
    files: list[Path] = options.jobs
    worst = Exit.DONE
    results: list[dict[str, Any]] = []
    for path in files:
        try:
            editor = open_job(path, shelf, preferences)
        except JobFileProblem as problem:
            tell(problem.text)
            results.append({"file": str(path), "problem": problem.text, "code": problem.code})
            worst = max(worst, Exit.UNREADABLE)
            continue
        worst = max(worst, _exit_of(editor))
        if options.json:
            results.append({"file": str(path), **verdict_json(editor.assessment, editor.findings)})
        else:
            _print_text(path, editor, first=path is files[0], several=len(files) > 1)
    if options.json:
        json.dump(results, sys.stdout, ensure_ascii=False, indent=2)
        print()
    return worst


def _exit_of(editor: Editor) -> Exit:
    """Return how a job ends the command; leakage that passes is not all while a danger lasts.

    A stop that somebody acknowledged counts too: it was gone past, not cleared. What has to be
    mended before the compliance report can be made counts most, as a verdict rests on it. An open
    safety stop is not that: it is cleared, or gone past by name.
    """
    stops = stops_against(ReportKind.COMPLIANCE, editor.findings)
    if any(stop.code != SAFETY_STOP for stop in stops):
        return Exit.STOPPED
    is_met = editor.assessment.verdict is Verdict.PASS
    return Exit.DONE if is_met and not dangers(editor.findings) else Exit.NOT_MET


def _print_text(path: Path, editor: Editor, *, first: bool, several: bool) -> None:
    if several:
        print(f"{'' if first else chr(10)}{path}")
    say(verdict_text(editor.assessment, editor.preferences.formatter, editor.findings))
