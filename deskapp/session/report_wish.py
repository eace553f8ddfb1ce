"""What a person wishes of the reports of several jobs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from pathlib import Path

    from deskapp.session.report_kinds import Naming, ReportKind


@dataclass(frozen=True, slots=True)
class ReportsWish:
    """What a person wishes: kinds, language, place and names, and how they are handed out.

    Without `issued` nothing is recorded; without a passphrase nothing is signed.
    """

    kinds: tuple[ReportKind, ...]
    language: str
    folder: Path
    naming: Naming
    over: bool
    issued: bool = False
    by: str = ""
    reason: str = ""
    passphrase: str | None = None
