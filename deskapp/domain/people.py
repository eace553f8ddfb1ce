"""Who tested and who signs."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.leak import Photo
from deskapp.domain.measured import Day


class Tester(Frozen):
    """The person who made the test, and the signature block.

    `signature` is a picture of a signature to print above the line; it proves nothing by itself.
    """

    __test__ = False

    name: str = ""
    company: str = ""
    phone: str = ""
    certification: str = ""
    certification_expires: Day | None = None
    statement: str = ""
    signed_by: str = ""
    signed_on: Day | None = None
    signature: Photo | None = None
