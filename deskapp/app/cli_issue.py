"""What the command line asks and tells of reports that are handed out."""

from __future__ import annotations

import sys
from argparse import Namespace
from datetime import UTC, date, datetime
from getpass import getpass
from typing import TYPE_CHECKING

from deskapp.app import cli_start
from deskapp.app.cli_start import open_shelf, preferences_for, tell
from deskapp.i18n import _, language
from deskapp.session import own_templates
from deskapp.session.batch_papers import Batch, Handing
from deskapp.session.papers_there import EXISTS, ISSUED, IfThere
from deskapp.session.report_kinds import Naming, ReportKind

if TYPE_CHECKING:
    from deskapp.report.sealing.keys import SigningKey
    from deskapp.session.branding import BrandingFile
    from deskapp.session.reports import MadeReport


class NotUsableError(Exception):
    """What was asked for does not fit together; the text tells a person why."""


def handing_for(options: Namespace) -> Handing | None:
    """Return how reports are to be handed out, None where they are not. Raises NotUsableError."""
    if not options.issue:
        if options.by or options.reason or options.sign:
            raise NotUsableError(_("--by, --reason and --sign go together with --issue."))
        return None
    key = _signing_key() if options.sign else None
    return Handing(datetime.now(UTC), options.by or "", options.reason or "", key)


def batch_for(
    options: Namespace,
    look: BrandingFile,
    kinds: tuple[ReportKind, ...] | None,
    handing: Handing | None,
) -> Batch:
    """Return what the reports of each job are made by."""
    preferences = preferences_for(options)
    return Batch(
        shelf=open_shelf(),
        preferences=preferences,
        look=look,
        issued_on=date.today(),
        kinds=kinds,
        own=own_templates.chosen(cli_start.settings_folder(), preferences.own_templates),
        spoken=language(),
        naming=Naming(options.names),
        handing=handing,
        if_there=IfThere.REPLACE if options.replace else IfThere.REPLACE_DRAFTS,
    )


def how_to_go_on(code: str) -> str:
    """Return what can be typed to go on after a file was left as it is; else nothing."""
    ways = {
        EXISTS: _("Add --replace to write over it, or name another folder with --out."),
        ISSUED: _("Name another folder with --out."),
    }
    return ways.get(code, "")


def tell_issue(made: MadeReport) -> None:
    """Say under which number, day and mark a report was handed out."""
    issue = made.issue
    if issue is not None:
        words = _("{file}: issue {n} of {day}, job number {number}, mark {mark}.")
        if issue.made_on is not None:
            words = _(
                "{file}: further paper of issue {n} of {day}, job number {number}, mark {mark}."
            )
        number, day = issue.number or "–", issue.issued_on.isoformat()
        told = words.format(
            file=made.path.name, n=issue.revision, day=day, number=number, mark=issue.short_mark
        )
        tell(told)


def _signing_key() -> SigningKey:
    """Ask for the passphrase and open the key with it; in a pipe it is the first line."""
    from deskapp.session.signing_key import SealProblem, kept_to_sign, open_kept

    folder = cli_start.settings_folder()
    try:
        if kept_to_sign(folder, datetime.now(UTC)) is None:
            text = _("There is no signing key yet. Make or take one: Company, Your signing key.")
            raise NotUsableError(text)
        return open_kept(folder, _passphrase())
    except SealProblem as problem:
        raise NotUsableError(problem.text) from problem


def _passphrase() -> str:
    if sys.stdin.isatty():
        return getpass(_("Passphrase of your signing key: "))
    return sys.stdin.readline().rstrip("\r\n")
