"""Quick readings between repairs, so that what each repair gained can be told."""

from __future__ import annotations

from deskapp.domain.measured import Day
from deskapp.domain.trial import Reading


class Rereading(Reading):
    """One reading taken between repairs, with the set-up and the baseline of the test it follows.

    `ring` is the one fitted now; empty for that of the test. Leaks point at the first reading
    taken after they were closed.
    """

    key: str
    test: str = ""
    read_on: Day | None = None
    read_time: str = ""
    ring: str = ""
