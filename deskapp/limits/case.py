"""What a rule is given, and what it gives back."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.domain.base import Frozen
from deskapp.domain.fields import field_at
from deskapp.domain.limit import NominalFlow
from deskapp.domain.measured import Measured
from deskapp.i18n import _
from deskapp.limits.exact import as_written
from deskapp.units.convert import exact_in


class Case(Frozen):
    """One worked-out test of one system, to be held against a limit.

    `flow` and `first_flow` (the first test of the same system, for required reductions) are m3/s
    at `target_pressure` Pa. Areas, fan flow and capacities stay as typed, to be exact in their own
    unit. With `nominal`, a fan flow that is not given follows from the capacities.
    """

    flow: float
    target_pressure: float
    area: Measured | None = None
    fan_flow: Measured | None = None
    nominal: NominalFlow | None = None
    cooling_capacity: Measured | None = None
    heating_output: Measured | None = None
    duct_surface: Measured | None = None
    first_flow: float | None = None
    extrapolated: bool = False


@dataclass(frozen=True, slots=True)
class Comparison:
    """A measured value beside its limit, both in `unit`; `limit_flow` in m3/s.

    `at_least` turns the comparison round: the measured value must reach the limit.
    """

    measured: float
    limit: float
    unit: str
    limit_flow: float
    lines: tuple[str, ...] = ()
    at_least: bool = False

    @property
    def margin(self) -> float:
        """What is to spare; negative if the limit is not met."""
        spare = float(as_written(self.limit) - as_written(self.measured))
        return -spare if self.at_least else spare

    @property
    def is_met(self) -> bool:
        """Simple acceptance: a value just at the limit meets it."""
        return self.measured >= self.limit if self.at_least else self.measured <= self.limit


@dataclass(frozen=True, slots=True)
class Undecided:
    """A rule that cannot be applied, and why: what is missing and how to mend it.

    `field` is the path of the field that is missing, such as ``systems.*.fan_flow``.
    """

    reason: str
    field: str = ""


def positive_in(unit: str, measured: Measured | None, path: str) -> float | Undecided:
    """Return a typed quantity in `unit`, or the reason why the rule cannot use it."""
    label = _(field_at(path).label)
    if measured is None:
        text = _("{field} is missing. Enter it for this system.").format(field=label)
        return Undecided(text, path)
    if measured.si is None:
        return Undecided(
            _('{field} reads "{typed}", which is not understood yet. Enter a number.').format(
                field=label, typed=measured.typed
            ),
            path,
        )
    if measured.si <= 0:
        return Undecided(
            _('{field} reads "{typed}". Enter a number above zero.').format(
                field=label, typed=measured.typed
            ),
            path,
        )
    try:
        return exact_in(measured, unit)
    except ValueError:
        return Undecided(
            _("{field} is given in {given}, which is not a unit for it. Enter it again.").format(
                field=label, given=measured.unit
            ),
            path,
        )
