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
from deskapp.domain.choices import BuildingType, Metric, Stage, WorkKind
from deskapp.domain.field_spec import FieldSpec
from deskapp.domain.fields import field_at
from deskapp.i18n import N_, _
from deskapp.units.kinds import Kind
from deskapp.units.table import UNITS, fits

INVENTED_BODY = N_("Sample program (invented)")
INVENTED_ID = "sample-"


class Verification(StrEnum):
    """How well a row of limits is known."""

    CODE_TEXT = "code_text"
    SECONDARY = "secondary"
    MEMORY = "memory"
    USER = "user"
    INVENTED = "invented"


class EditionRole(StrEnum):
    """What gives an edition its force.

    A model code binds only where it was adopted, a program only those who take part, a standard
    only where a contract or a code names it.
    """

    CODE = "code"
    MODEL_CODE = "model_code"
    PROGRAM = "program"
    STANDARD = "standard"


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


class NoNumber(Frozen):
    """A rule that asks for something else than a number: `text` says for what. It decides nothing.

    It stands in the library so that nobody looks for a number that does not exist.
    """

    kind: Literal["no_number"]
    text: str = Field(min_length=1)


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
    | NoNumber
)


class EitherOf(Frozen):
    """Meeting any one of `rules` is enough."""

    kind: Literal["either_of"]
    rules: tuple[Annotated[SingleRule, Field(discriminator="kind")], ...] = Field(min_length=2)


Rule = Annotated[SingleRule | EitherOf, Field(discriminator="kind")]


class NominalFlow(Frozen):
    """The air handler flow a rule in percent takes where none was measured or designed.

    So much for each ton of cooling and for each kBtu/h of rated heating output; the larger of both
    where a system has both.
    """

    cfm_per_ton: float = Field(gt=0)
    cfm_per_kbtu_h: float | None = Field(default=None, gt=0)
    clause: str = Field(min_length=1)
    status: Verification
    source: str = Field(min_length=1)


def _known_field(path: str) -> FieldSpec:
    try:
        spec = field_at(path)
    except KeyError as error:
        raise ValueError(f"{path} is not a field of a job") from error
    if "*" in spec.path and not spec.path.startswith("systems.*."):
        raise ValueError(f"{path} belongs neither to the job nor to a duct system")
    return spec


class Answered(Frozen):
    """The choice field at the path `field` is answered with `value`."""

    kind: Literal["answer"]
    field: str
    value: str

    @model_validator(mode="after")
    def _is_an_answer(self) -> Self:
        spec = _known_field(self.field)
        if spec.choices is None or self.value not in list(spec.choices):
            raise ValueError(f"{self.value!r} is no answer to {self.field}")
        return self


class Below(Frozen):
    """The quantity at the path `field` is less than `value` in `unit`."""

    kind: Literal["below"]
    field: str
    value: float
    unit: str

    @model_validator(mode="after")
    def _is_a_quantity(self) -> Self:
        spec = _known_field(self.field)
        if spec.kind is None or self.unit not in UNITS or not fits(self.unit, spec.kind):
            raise ValueError(f"{self.field} is no quantity in {self.unit}")
        return self


class ZoneTightness(Frozen):
    """The most air changes per hour at 50 Pa in some climate zones, named by their number."""

    zones: tuple[int, ...] = Field(min_length=1)
    air_changes: float = Field(gt=0)


class TightHouse(Frozen):
    """The house is tight enough for its climate zone."""

    kind: Literal["tight_house"]
    limits: tuple[ZoneTightness, ...] = Field(min_length=1)


class TotalWithin(Frozen):
    """The total leakage of the same system meets `rule`."""

    kind: Literal["total_within"]
    rule: Annotated[SingleRule, Field(discriminator="kind")]
    pressure_pa: float = Field(gt=0)


class Stated(Frozen):
    """Something no field of a job records; it counts only as claimed by the user with a reason."""

    kind: Literal["stated"]
    text: str = Field(min_length=1)


WaiverCondition = Annotated[
    Answered | Below | TightHouse | TotalWithin | Stated, Field(discriminator="kind")
]


class Waiver(Frozen):
    """When a test is not asked for; never a pass, and said with its clause and status.

    `rows` are the ids of the rows it waives, none for all. Each of `ways` is a set of conditions;
    where all of one set hold, the test is waived.
    """

    id: str = Field(min_length=1)
    clause: str = Field(min_length=1)
    text: str = Field(min_length=1)
    rows: tuple[str, ...] = ()
    ways: tuple[Annotated[tuple[WaiverCondition, ...], Field(min_length=1)], ...] = Field(
        min_length=1
    )
    status: Verification
    source: str = Field(min_length=1)
    verified_by: str = ""
    verified_on: date | None = None

    def covers(self, row_id: str) -> bool:
        """Say whether it waives the row with this id."""
        return not self.rows or row_id in self.rows


class LimitRow(Frozen):
    """One row of an edition. A condition left out does not restrict the row.

    `pressure_pa` is the pressure the limit is written for; only a duct-surface class, which then
    means the pressure of the test itself, and a rule without a number may leave it out. A row with
    `alternative_to` may be met instead of the row it names, and never takes its place unasked. A
    row with `in_addition` asks for a test beside the one the other rows of its stage ask for.
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
    in_addition: bool = False
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
            self.rule, SurfaceClass | SurfaceLeakageClass | NoNumber
        ):
            raise ValueError(f"row {self.id!r}: a {self.rule.kind} limit needs its pressure_pa")
        return self


class Edition(Frozen):
    """One edition of one body's rules.

    `buildings` are the kinds of building it is for, none for all. Dates are given where known.
    """

    id: str = Field(min_length=1)
    body: str
    title: str
    edition: str = ""
    country: str = ""
    region: str = ""
    role: EditionRole | None = None
    buildings: tuple[BuildingType, ...] = ()
    unit: str
    in_force_from: date | None = None
    in_force_to: date | None = None
    nominal_flow: NominalFlow | None = None
    note: str = ""
    rows: tuple[LimitRow, ...] = Field(min_length=1)
    waivers: tuple[Waiver, ...] = ()

    @model_validator(mode="after")
    def _is_consistent(self) -> Self:
        if self.unit not in UNITS or not fits(self.unit, Kind.FLOW):
            raise ValueError(f"unit: {self.unit!r} is not a unit of air flow")
        if self.nominal_flow is not None and self.unit != "cfm":
            raise ValueError(f"nominal_flow counts in cfm, but the unit is {self.unit!r}")
        first, last = self.in_force_from, self.in_force_to
        if first is not None and last is not None and last < first:
            raise ValueError(f"in_force_to: {last} lies before in_force_from, {first}")
        ids = [row.id for row in self.rows]
        for row in self.rows:
            if ids.count(row.id) > 1:
                raise ValueError(f"two rows have the id {row.id!r}")
            if row.alternative_to and row.alternative_to not in ids:
                other = row.alternative_to
                raise ValueError(f"row {row.id!r}: alternative_to names {other!r}, no row here")
        named = [waiver.id for waiver in self.waivers]
        for waiver in self.waivers:
            if named.count(waiver.id) > 1:
                raise ValueError(f"two waivers have the id {waiver.id!r}")
            for other in waiver.rows:
                if other not in ids:
                    raise ValueError(f"waiver {waiver.id!r}: rows names {other!r}, no row here")
        return self

    @property
    def name(self) -> str:
        """Title and edition, for people; an invented one says so wherever it is named."""
        name = f"{self.title} {self.edition}".strip()
        return _("{name} (invented)").format(name=name) if self.is_invented else name

    @property
    def is_invented(self) -> bool:
        """Whether it is an example of the program's own, which binds nobody.

        Told by who publishes it and by its id, so that jobs of any age tell it too. A copy under an
        id of one's own is whose it is.
        """
        return self.body == INVENTED_BODY and self.id.startswith(INVENTED_ID)

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
