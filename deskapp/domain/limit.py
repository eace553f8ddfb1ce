"""A published leakage limit as data: its rule, its conditions, and who says so.

Numbers are kept in the unit the code itself writes, since a limit is decided in that unit. Rules
per floor area or duct surface say their unit; a rule in percent takes flows in `Edition.unit`.
"""

from __future__ import annotations

from datetime import date
from enum import StrEnum
from typing import Annotated, Literal, Self

from pydantic import Field, model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.choices import Metric, Stage, WorkKind
from deskapp.units.kinds import Kind
from deskapp.units.table import UNITS, fits


class Verification(StrEnum):
    """How well a row of limits is known."""

    CODE_TEXT = "code_text"
    SECONDARY = "secondary"
    MEMORY = "memory"
    USER = "user"


class PerFloorArea(Frozen):
    """At most `rate` cfm per 100 ft2 of floor area served."""

    kind: Literal["per_floor_area"]
    rate: float = Field(gt=0)


class GreaterOf(Frozen):
    """At most the greater of `rate` cfm per 100 ft2 of floor area served and `floor` cfm."""

    kind: Literal["greater_of"]
    rate: float = Field(gt=0)
    floor: float = Field(gt=0)


class Absolute(Frozen):
    """At most `flow` cfm, whatever the area."""

    kind: Literal["absolute"]
    flow: float = Field(gt=0)


class FloorAreaFraction(Frozen):
    """At most `fraction` cfm per ft2 of floor area served."""

    kind: Literal["floor_area_fraction"]
    fraction: float = Field(gt=0)


class PercentOfFanFlow(Frozen):
    """At most `percent` % of the air handler's flow."""

    kind: Literal["percent_of_fan_flow"]
    percent: float = Field(gt=0, le=100)


class PercentReduction(Frozen):
    """At least `percent` % less than the first test of the same system."""

    kind: Literal["percent_reduction"]
    percent: float = Field(gt=0, le=100)


class SurfaceClass(Frozen):
    """At most `k` * p**0.65 L/s per m2 of duct surface, p in Pa."""

    kind: Literal["surface_class"]
    k: float = Field(gt=0)


class SurfaceLeakageClass(Frozen):
    """At most `cl` * P**0.65 cfm per 100 ft2 of duct surface, P in inches of water."""

    kind: Literal["surface_leakage_class"]
    cl: float = Field(gt=0)


class PerDuctSurface(Frozen):
    """At most `rate` cfm per 100 ft2 of duct surface, at the pressure of the row."""

    kind: Literal["per_duct_surface"]
    rate: float = Field(gt=0)


SingleRule = (
    PerFloorArea
    | GreaterOf
    | Absolute
    | FloorAreaFraction
    | PercentOfFanFlow
    | PercentReduction
    | SurfaceClass
    | SurfaceLeakageClass
    | PerDuctSurface
)


class EitherOf(Frozen):
    """Meeting any one of `rules` is enough."""

    kind: Literal["either_of"]
    rules: tuple[Annotated[SingleRule, Field(discriminator="kind")], ...] = Field(min_length=2)


Rule = Annotated[SingleRule | EitherOf, Field(discriminator="kind")]


class LimitRow(Frozen):
    """One row of an edition. A condition left out does not restrict the row.

    `pressure_pa` is the pressure the limit is written for; only a duct-surface class may leave it
    out, and then means the pressure of the test itself. A row with `alternative_to` may be met
    instead of the row it names, and never takes its place unasked.
    """

    id: str = Field(min_length=1)
    title: str
    clause: str = Field(min_length=1)
    stages: tuple[Stage, ...] = ()
    metric: Metric
    pressure_pa: float | None = Field(default=None, gt=0)
    air_handler_installed: bool | None = None
    all_inside: bool | None = None
    works: tuple[WorkKind, ...] = ()
    returns_min: int | None = None
    returns_max: int | None = None
    area_above_ft2: float | None = None
    area_up_to_ft2: float | None = None
    alternative_to: str = ""
    rule: Rule
    exceptions: str = ""
    note: str = ""
    status: Verification
    source: str = Field(min_length=1)
    verified_by: str = ""
    verified_on: date | None = None

    @model_validator(mode="after")
    def _names_its_pressure(self) -> Self:
        if self.pressure_pa is None and not isinstance(
            self.rule, SurfaceClass | SurfaceLeakageClass
        ):
            raise ValueError(f"row {self.id!r}: a {self.rule.kind} limit needs its pressure_pa")
        return self


class Edition(Frozen):
    """One edition of one body's rules."""

    id: str = Field(min_length=1)
    body: str
    title: str
    edition: str = ""
    country: str = ""
    region: str = ""
    unit: str
    in_force_from: date | None = None
    in_force_to: date | None = None
    note: str = ""
    rows: tuple[LimitRow, ...] = Field(min_length=1)

    @model_validator(mode="after")
    def _is_consistent(self) -> Self:
        if self.unit not in UNITS or not fits(self.unit, Kind.FLOW):
            raise ValueError(f"unit: {self.unit!r} is not a unit of air flow")
        ids = [row.id for row in self.rows]
        for row in self.rows:
            if ids.count(row.id) > 1:
                raise ValueError(f"two rows have the id {row.id!r}")
            if row.alternative_to and row.alternative_to not in ids:
                other = row.alternative_to
                raise ValueError(f"row {row.id!r}: alternative_to names {other!r}, no row here")
        return self

    @property
    def name(self) -> str:
        """Title and edition, for people."""
        return f"{self.title} {self.edition}".strip()

    def row(self, row_id: str) -> LimitRow | None:
        """Return the row with this id."""
        return next((row for row in self.rows if row.id == row_id), None)


class ChosenLimit(Frozen):
    """A limit the job is judged by.

    The whole edition is copied into the job, so an old job never changes its verdict. `row` is the
    id of the row the user fixed, or empty to let the job's own facts choose it.
    """

    key: str
    edition: Edition
    row: str = ""
