"""Pressure-pan readings at the registers: screening for large leaks, never a flow."""

from __future__ import annotations

from typing import Self

from pydantic import Field, model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide
from deskapp.domain.limit import Verification
from deskapp.domain.measured import Measured


class Register(Frozen):
    """One register or grille, and what the pan over it read before and after the work."""

    key: str
    system: str = ""
    name: str = ""
    side: DuctSide | None = None
    pan_before: Measured | None = None
    pan_after: Measured | None = None


class PanScreening(Frozen):
    """How far the house was from outdoors while the pan was read, with its sign."""

    house_pressure_before: Measured | None = None
    house_pressure_after: Measured | None = None


class PanBand(Frozen):
    """What a pan reading tells, from `above_pa` up to the band above; in words, not in flow.

    `urgency` counts from 0 (nothing to do) and orders the bands.
    """

    id: str = Field(min_length=1)
    above_pa: float = Field(ge=0)
    urgency: int = Field(ge=0)
    label: str = Field(min_length=1)
    text: str = Field(min_length=1)
    source: str = Field(min_length=1)
    status: Verification


class PanReading(Frozen):
    """A register in words: its reading [Pa, a size] and the band it falls into, before and after.

    A band is "" where there is no reading, or none that can be used.
    """

    key: str
    before: float | None = None
    before_band: str = ""
    after: float | None = None
    after_band: str = ""

    @property
    def latest_band(self) -> str:
        """The band of the reading after the work; of the one before where there is no other."""
        return self.after_band or self.before_band


class Guidance(Frozen):
    """One step of advice in a fixed order: what to try, and why.

    `topic` groups the steps; the finding codes it belongs to are in `codes`.
    """

    id: str = Field(min_length=1)
    topic: str = Field(min_length=1)
    codes: tuple[str, ...] = ()
    text: str = Field(min_length=1)
    why: str = ""
    source: str = Field(min_length=1)
    status: Verification

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.text.endswith("."):
            raise ValueError("text is a sentence and ends with a period")
        return self
