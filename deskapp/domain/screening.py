"""Pressure-pan readings at the registers: screening for large leaks, never a flow."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from typing import Self

from pydantic import Field, model_validator

from deskapp.domain import paths
from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide
from deskapp.domain.fields import field_at
from deskapp.domain.limit import Verification
from deskapp.domain.measured import Measured
from deskapp.domain.trial import LeakageTest

_TESTS = "tests.*."


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


class DoneBy(Frozen):
    """The answer `value` to the choice `field` of a test says that a step was taken."""

    field: str
    value: str

    @model_validator(mode="after")
    def _is_an_answer_of_a_test(self) -> Self:
        spec = field_at(self.field)
        if not self.field.startswith(_TESTS) or spec.choices is None:
            raise ValueError(f"{self.field} is no choice of a test")
        spec.choices(self.value)
        return self

    def holds(self, test: LeakageTest) -> bool:
        """Say whether `test` has that answer."""
        return paths.get(test, self.field.removeprefix(_TESTS)) == self.value


class Guidance(Frozen):
    """One step of advice in a fixed order: what to try, and why.

    `topic` groups the steps; the finding codes it belongs to are in `codes`. `done` tells of a test
    for which it was taken already.
    """

    id: str = Field(min_length=1)
    topic: str = Field(min_length=1)
    codes: tuple[str, ...] = ()
    text: str = Field(min_length=1)
    why: str = ""
    done: DoneBy | None = None
    source: str = Field(min_length=1)
    status: Verification

    @model_validator(mode="after")
    def _says_something(self) -> Self:
        if not self.text.endswith("."):
            raise ValueError("text is a sentence and ends with a period")
        return self


def still_to_try(
    steps: Iterable[Guidance], codes: Collection[str], tests: Sequence[LeakageTest]
) -> tuple[Guidance, ...]:
    """Return the steps for findings of these codes, but those taken in each of the `tests`."""
    return tuple(
        step
        for step in steps
        if any(code in codes for code in step.codes)
        and not (step.done and tests and all(step.done.holds(test) for test in tests))
    )
