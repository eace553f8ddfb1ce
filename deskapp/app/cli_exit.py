"""What the command line tells the program that started it."""

from __future__ import annotations

from enum import IntEnum

from deskapp.i18n import N_


class Exit(IntEnum):
    """How a command ended; of several job files the highest counts."""

    DONE = 0
    NOT_MET = 1
    USAGE = 2
    UNREADABLE = 3
    STOPPED = 4
    UNWRITABLE = 5


EXIT_WORDS = {
    Exit.DONE: N_(
        "done; for verdict: every system of every job meets its limits, nothing has to be mended, "
        "no safety stop is open, and no danger was gone past that is not cleared"
    ),
    Exit.NOT_MET: N_(
        "verdict: a limit is not met, there is no verdict, a safety stop is open, or a danger was "
        "gone past that is not cleared; "
        "check: something is not in order"
    ),
    Exit.USAGE: N_(
        "the command was not understood or names a branding file that cannot be used, or there is "
        "no screen for the window"
    ),
    Exit.UNREADABLE: N_("a job file or a report cannot be read"),
    Exit.STOPPED: N_(
        "something in a job has to be mended before the report can be made; for verdict too, "
        "whether the limits are met or not"
    ),
    Exit.UNWRITABLE: N_("a file cannot be written"),
}
