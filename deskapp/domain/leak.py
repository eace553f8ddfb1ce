"""Leaks found, and the pictures of them."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide, FoundBy, LeakSize, LeakSpace, Severity, YesNo
from deskapp.domain.measured import Day


class Photo(Frozen):
    """A picture; its bytes are kept beside the job under `digest` (SHA-256 of the stored file)."""

    digest: str
    name: str = ""
    caption: str = ""
    width: int = 0
    height: int = 0


class Leak(Frozen):
    """One leak: `location` is an id of the leak vocabulary, `place` says where in plain words.

    `severity` is one given by a person, with its reason; without it the severity is worked out.
    `material` and `other_material` are ids of the sealing materials; `repair` tells the rest, or
    why the leak was left.
    """

    key: str
    system: str = ""
    location: str = ""
    place: str = ""
    side: DuctSide | None = None
    space: LeakSpace | None = None
    accessible: YesNo | None = None
    size: LeakSize | None = None
    found_by: FoundBy | None = None
    repaired: YesNo | None = None
    repaired_on: Day | None = None
    material: str = ""
    other_material: str = ""
    repair: str = ""
    severity: Severity | None = None
    severity_reason: str = ""
    photos: tuple[Photo, ...] = ()
