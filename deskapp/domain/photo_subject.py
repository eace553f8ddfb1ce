"""What photos are to show: the rows of the photo checklist, kept as data."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.domain.limit import Verification
from deskapp.domain.vocabulary import Audience


class Each(StrEnum):
    """How often a photo is wanted: once, for each leak, or for each leak repaired."""

    JOB = "job"
    LEAK = "leak"
    REPAIR = "repair"


class PhotoSubject(Frozen):
    """Something a photo can show, and whose papers are better for it."""

    id: str = Field(min_length=1)
    label: str = Field(min_length=1)
    why: str = ""
    reports: tuple[Audience, ...] = ()
    each: Each = Each.JOB
    source: str = Field(min_length=1)
    status: Verification
