"""Leaks found, and the pictures of them."""

from __future__ import annotations

from typing import Annotated, Self

from pydantic import Field, model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide, FoundBy, LeakSize, LeakSpace, Severity, YesNo
from deskapp.domain.drawing import ON_PHOTO, Item
from deskapp.domain.measured import Day


class PhotoPlace(Frozen):
    """Where a picture was taken, in degrees; south and west are negative."""

    latitude: Annotated[float, Field(ge=-90.0, le=90.0)]
    longitude: Annotated[float, Field(ge=-180.0, le=180.0)]


class Photo(Frozen):
    """A picture; its bytes are kept beside the job under `digest` (SHA-256 of the stored file).

    `original` is the SHA-256 of the file as it was taken in, whose bytes are kept as well where
    `original_kept` says so. `taken` is what the camera's clock said, such as
    ``2026-11-04T09:31:12``; `place` is empty unless the person asked to keep it. `shows` is an id
    of the checklists of photos, `marks` what is drawn on the picture.
    """

    digest: str
    name: str = ""
    caption: str = ""
    width: int = 0
    height: int = 0
    original: str = ""
    original_kept: bool = False
    taken: str = ""
    place: PhotoPlace | None = None
    shows: str = ""
    marks: tuple[Item, ...] = ()

    @model_validator(mode="after")
    def _marks_fit(self) -> Self:
        if any(mark.shape not in ON_PHOTO for mark in self.marks):
            raise ValueError("only marks of a photo are drawn on it")
        return self

    @property
    def digests(self) -> tuple[str, ...]:
        """The digests of the files kept for this picture."""
        return (self.digest, self.original) if self.original_kept else (self.digest,)


class Leak(Frozen):
    """One leak: `location` is an id of the leak vocabulary, `place` says where in plain words.

    `severity` is one given by a person, with its reason; without it the severity is worked out.
    `reread` is the key of the first quick reading after the repair. `material` and
    `other_material` are ids of the sealing materials; `repair` tells the rest, or why the leak was
    left.
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
    reread: str = ""
    material: str = ""
    other_material: str = ""
    repair: str = ""
    severity: Severity | None = None
    severity_reason: str = ""
    photos: tuple[Photo, ...] = ()
