"""A mail that hands the papers over: its words, and a draft of it in the mail program.

Nothing is ever sent from here: a draft is opened, and a person sends it.
"""

from __future__ import annotations

import re
import shutil
import subprocess
import sys
from dataclasses import dataclass
from typing import TYPE_CHECKING
from urllib.parse import quote

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _, speaking

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable, Sequence
    from pathlib import Path

    from deskapp.session.reports import ReportOrder

_SECONDS = 60
_ADDRESS = re.compile(r"[^@\s]+@[^@\s]+")
_LONGEST_LINK = 1900
"""Characters of a link that every system passes on whole."""


@dataclass(frozen=True, slots=True)
class MailDraft:
    """A mail to be looked over: address (may be empty), subject, text, and the files attached."""

    to: str
    subject: str
    text: str
    files: tuple[Path, ...] = ()

    @property
    def addresses(self) -> tuple[str, ...]:
        """The addresses, which commas or semicolons set apart."""
        return addresses_in(self.to)

    @property
    def link(self) -> str:
        """The draft as a ``mailto:`` link, which takes no files; a long text is cut."""
        to = quote(",".join(self.addresses), safe="@+,")
        head = f"mailto:{to}?subject={quote(self.subject)}&body="
        text = self.text
        while len(head) + len(quote(text)) > _LONGEST_LINK:
            text = text[:-40]
        return head + quote(text.replace("\n", "\r\n"))


def addresses_in(text: str) -> tuple[str, ...]:
    """Return the addresses in a text; commas or semicolons set them apart."""
    return tuple(one.strip() for one in re.split("[,;]", text) if one.strip())


def wrong_address(text: str) -> Finding | None:
    """Return what is wrong with the line of addresses; None for good ones and for an empty line."""
    for one in addresses_in(text):
        if not _ADDRESS.fullmatch(one):
            return Finding(
                level=Level.STOP,
                code="address",
                what=_("To: “{typed}” is no mail address.").format(typed=one),
                allowed=_(
                    "An address is a name, one @ and a place, such as pat@example.org; commas or "
                    "semicolons set several apart."
                ),
                mend=_("Correct it, or clear the line and enter it in the draft."),
            )
    return None


def draft_for(order: ReportOrder) -> MailDraft:
    """Return the usual words to the owner of the house, in the language of the reports."""
    job, branding = order.source.job, order.source.branding
    with speaking(order.language):
        what = " ".join(part.strip() for part in (job.number, job.title) if part.strip())
        subject = _("Duct leakage test {job}").format(job=what).strip()
        hello = _("Hello {name},") if job.client.name.strip() else _("Hello,")
        where = job.site.address.strip()
        place = _("attached are the papers on the duct leakage test at {address}.")
        told = place if where else _("attached are the papers on the duct leakage test.")
        lines = (
            hello.format(name=job.client.name.strip()),
            "",
            told.format(address=where),
            _("Please ask if anything in them is not clear."),
            "",
            _("Kind regards"),
            job.tester.name.strip(),
            (branding.company or job.tester.company).strip(),
            branding.phone.strip(),
        )
    kept = [line for at, line in enumerate(lines) if line or at in (1, 4)]
    return MailDraft(job.client.email.strip(), subject, "\n".join(kept))


def open_with_files(
    draft: MailDraft,
    system: str = sys.platform,
    run: Callable[[Sequence[str]], int] | None = None,
) -> bool:
    """Open a draft with its files in the mail program; return False where that cannot be done.

    Args:
        draft: what to open.
        system: as in `sys.platform`; each has its own documented way.
        run: runs a command and returns its exit code.
    """
    if system == "win32":
        from deskapp.session.mail_windows import open_draft

        return open_draft(draft.addresses, draft.subject, draft.text, draft.files)
    command = _command(draft, system)
    return command is not None and (run or _run)(command) == 0


def _command(draft: MailDraft, system: str) -> list[str] | None:
    files = [str(path.absolute()) for path in draft.files]
    if system == "darwin":
        from deskapp.domain.data_files import resources_folder

        script = str(resources_folder() / "mail" / "draft.applescript")
        return ["osascript", script, "\n".join(draft.addresses), draft.subject, draft.text, *files]
    program = shutil.which("xdg-email")
    if program is None:
        return None
    attached = _each_after("--attach", files)
    words = ["--utf8", "--subject", draft.subject, "--body", draft.text]
    return [program, *words, *attached, *(draft.addresses or ("mailto:",))]


def _each_after(option: str, values: Iterable[str]) -> list[str]:
    return [word for value in values for word in (option, value)]


def _run(command: Sequence[str]) -> int:
    try:
        return subprocess.run(command, check=False, timeout=_SECONDS).returncode
    except (OSError, subprocess.TimeoutExpired):
        return 1
