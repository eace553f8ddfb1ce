"""Leaks found, and the pictures of them."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide, FoundBy, LeakSize, YesNo


class Photo(Frozen):
    """A picture; its bytes are kept beside the job under `digest` (SHA-256 of the stored file)."""

    digest: str
    name: str = ""
    caption: str = ""
    width: int = 0
    height: int = 0


class Leak(Frozen):
    """One leak: `location` is an id of the leak vocabulary, `place` says where in plain words."""

    key: str
    system: str = ""
    location: str = ""
    place: str = ""
    side: DuctSide | None = None
    size: LeakSize | None = None
    found_by: FoundBy | None = None
    repaired: YesNo | None = None
    repair: str = ""
    photos: tuple[Photo, ...] = ()
