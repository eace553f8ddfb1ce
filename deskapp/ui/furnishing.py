"""What the window may ask of its furniture, known before the furniture is loaded."""

from __future__ import annotations

from typing import TYPE_CHECKING, Protocol

if TYPE_CHECKING:
    from collections.abc import Callable, Iterable
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.session.settings import Preferences
    from deskapp.ui.workbench import Workbench


class Furnishing(Protocol):
    """The commands of the window."""

    @property
    def bench(self) -> Workbench | None:
        """What shows the open job; None before the first one is opened."""
        ...

    @property
    def has_unsaved(self) -> bool:
        """Whether there is a job with unsaved changes."""
        ...

    @property
    def opening_words(self) -> str:
        """What there is to say about files that could not be read at the start."""
        ...

    def leave(self, then: Callable[[], object]) -> None:
        """Go on with `then`, after asking once if there are unsaved changes."""

    def offer_recovery(self) -> object:
        """Ask about jobs that were not saved when the program last ended, if there are any."""

    def close_down(self) -> None:
        """Leave nothing behind that a closed program should not leave."""

    def keep_copy(self) -> bool:
        """Write a recovery copy at once; say whether all changes are in one now."""
        ...

    def report_on(self, trace: str, log: Iterable[str]) -> str:
        """Return the problem report about an error."""
        ...

    def settle(self) -> None:
        """Take typed text over into the job."""

    def new(self) -> None:
        """Open a new job."""

    def ask_what_to_open(self) -> None:
        """Ask for a job file and open it."""

    def open(self, path: Path) -> None:
        """Open a job file."""

    def open_sample(self) -> None:
        """Open a copy of the default sample."""

    def show_jobs(self) -> None:
        """List all jobs."""

    def save(self) -> None:
        """Save the job."""

    def save_as(self) -> None:
        """Save the job in another file."""

    def show_units(self, value: str) -> None:
        """Show values in inch-pound (``ip``) or metric (``si``) units."""

    def prefer(self, wanted: Preferences) -> Finding | None:
        """Use other preferences from now on; return why they could not be kept, if so."""

    def show_preferences(self) -> None:
        """Let the preferences be changed."""

    def edit_limits(self) -> None:
        """Let limits of one's own be copied, changed and shared."""

    def sample_units(self) -> None:
        """Let some units of a building be checked instead of all."""

    def check_report(self) -> None:
        """Let a report be checked."""

    def edit_signing_key(self) -> None:
        """Let the key to sign reports with be made, taken or removed."""

    def show_preview(self, on: bool) -> None:
        """Show the preview of the reports beside every page, or no longer."""

    def show_instruments(self) -> None:
        """Let the company's gauges and fans be edited."""

    def edit_branding(self) -> None:
        """Let name, logo and color of the reports be edited."""

    def edit_usual(self) -> None:
        """Let what new jobs start with be edited."""

    def keep_as_usual(self) -> None:
        """Let new jobs start with the usual entries of the open job."""

    def forget_entries(self) -> str:
        """Forget the entries of earlier jobs; return words that say so."""
        ...

    def help(self) -> None:
        """Explain the field that has the cursor, or the page."""

    def list_topics(self) -> None:
        """List all topics of help."""

    def show_around(self) -> None:
        """Open the sample and lead through it."""

    def about(self) -> None:
        """Say what the program is and what it is not."""
