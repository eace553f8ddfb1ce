"""Who tested and who signs."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.measured import Day


class Tester(Frozen):
    """The person who made the test, and the signature block."""

    __test__ = False

    name: str = ""
    company: str = ""
    phone: str = ""
    certification: str = ""
    certification_expires: Day | None = None
    statement: str = ""
    signed_by: str = ""
    signed_on: Day | None = None
