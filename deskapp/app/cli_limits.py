"""The command `limits`: the editions of codes and programs a job can be judged by."""

from __future__ import annotations

import json
import sys
from argparse import Namespace

from deskapp.app.cli_exit import Exit
from deskapp.app.cli_start import open_shelf, say, tell
from deskapp.i18n import _
from deskapp.session.limit_words import edition_text, editions_text


def run(options: Namespace) -> Exit:
    """Print all editions in one line each, or all rows of the edition asked for."""
    shelf = open_shelf()
    if not options.edition:
        if options.json:
            _print_json([edition.model_dump(mode="json") for edition in shelf.offered])
        else:
            say(editions_text(shelf.offered))
        return Exit.DONE
    edition = shelf.edition(options.edition)
    if edition is None:
        known = ", ".join(edition.id for edition in shelf.offered)
        text = _("There is no edition “{id}”. There are: {known}.")
        tell(text.format(id=options.edition, known=known or "–"))
        return Exit.USAGE
    if options.json:
        _print_json(edition.model_dump(mode="json"))
    else:
        say(edition_text(edition))
    return Exit.DONE


def _print_json(data: object) -> None:
    json.dump(data, sys.stdout, ensure_ascii=False, indent=2)
    print()
