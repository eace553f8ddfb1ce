"""The command `check`: whether reports are what they say."""

from __future__ import annotations

import json
import sys
from argparse import Namespace
from pathlib import Path
from typing import Any

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_start import open_shelf, preferences_for, say, tell
from deskapp.i18n import _
from deskapp.session.checking import STANDING_WORDS, check_report, read_report


def run(options: Namespace) -> Exit:
    """Print the answers about every report that can be read."""
    shelf, formatter = open_shelf(), preferences_for(options).formatter
    files: list[Path] = options.reports
    worst = Exit.DONE
    results: list[dict[str, Any]] = []
    for path in files:
        try:
            data = read_report(path)
        except OSError as error:
            why = error.strerror or type(error).__name__
            problem = _("{file} cannot be read ({why}).").format(file=path, why=why)
            tell(problem)
            results.append({"file": str(path), "problem": problem})
            worst = max(worst, Exit.UNREADABLE)
            continue
        checked = check_report(data, shelf, formatter)
        if not checked.is_report:
            problem = f"{path}: {checked.answers[0].text}"
            tell(problem)
            results.append({"file": str(path), "problem": problem})
            worst = max(worst, Exit.UNREADABLE)
            continue
        worst = max(worst, Exit.NOT_MET if checked.is_bad else Exit.DONE)
        answers = [(answer.standing, answer.text) for answer in checked.answers]
        told = [{"standing": one.name.lower(), "text": text} for one, text in answers]
        results.append({"file": str(path), "answers": told})
        if not options.json:
            if len(files) > 1:
                print(path)
            say("\n".join(f"{_(STANDING_WORDS[one])}: {text}" for one, text in answers))
    if options.json:
        json.dump(results, sys.stdout, ensure_ascii=False, indent=2)
        print()
    return worst
