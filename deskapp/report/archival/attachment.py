"""A file that a report carries inside it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Relationship(StrEnum):
    """What a carried file is to the report, in the words of ISO 19005-3, Annex E."""

    SOURCE = "Source"
    SUPPLEMENT = "Supplement"


@dataclass(frozen=True, slots=True)
class Attachment:
    """A file inside a report: its name, what it holds, and `description` for a person."""

    name: str
    data: bytes
    description: str
    media_type: str
    relationship: Relationship = Relationship.SOURCE
