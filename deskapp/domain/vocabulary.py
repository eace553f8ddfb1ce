"""Words kept as data: where ducts leak, what to be careful about, what keeps a test back."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field, field_validator, model_validator

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctSide, Severity
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import field_at
from deskapp.domain.limit import Verification
from deskapp.units.convert import kind_of


class LeakLocation(Frozen):
    """A kind of place where ducts leak.

    `side` is where it usually sits (None: supply or return alike), `severity` how much such a leak
    usually matters, `repair` how it is usually closed, `sealing` what rules say about closing it.
    """

    id: str = Field(min_length=1)
    label: str = Field(min_length=1)
    side: DuctSide | None = None
    severity: Severity | None = None
    repair: str = ""
    sealing: str = ""
    source: str = ""
    status: Verification | None = None


class SealingMaterial(Frozen):
    """Something leaks are closed with; `rule` says what to mind, with its source and status."""

    id: str = Field(min_length=1)
    label: str = Field(min_length=1)
    rule: str = ""
    source: str = Field(min_length=1)
    status: Verification


class CautionLevel(StrEnum):
    """How urgent a caution is: something to act on at once, to watch, or to know."""

    DANGER = "danger"
    WARNING = "warning"
    NOTE = "note"


class Audience(StrEnum):
    """Whose report a caution belongs into."""

    HOMEOWNER = "homeowner"
    COMPLIANCE = "compliance"
    BOTH = "both"


class Operator(StrEnum):
    """How a condition looks at its field."""

    IS = "is"
    IS_NOT = "is_not"
    ANSWERED = "answered"
    UNANSWERED = "unanswered"
    ABOVE = "above"
    AT_LEAST = "at_least"
    BELOW = "below"
    AT_MOST = "at_most"
    BELOW_FIELD = "below_field"
    NOT_BELOW_FIELD = "not_below_field"


_BESIDE_A_FIELD = (Operator.BELOW_FIELD, Operator.NOT_BELOW_FIELD)
_COMPARISONS = (Operator.ABOVE, Operator.AT_LEAST, Operator.BELOW, Operator.AT_MOST)


class Condition(Frozen):
    """A question about one field of the job.

    `field` is a path of the field table; with ``*`` in it, one row that fits is enough. `value` is
    the answer compared with (``is``, ``is_not``), a number in `unit` (``above`` to ``at_most``), or
    the path of another field (``below_field``, ``not_below_field``). An unanswered field is never
    compared, except that it is not any given answer.
    """

    field: str
    operator: Operator
    value: str | float = ""
    unit: str = ""

    @field_validator("field")
    @classmethod
    def _is_a_field(cls, path: str) -> str:
        _known(path)
        return path

    @model_validator(mode="after")
    def _value_fits(self) -> Condition:
        spec = field_at(self.field)
        if self.operator in _COMPARISONS:
            if not isinstance(self.value, float) or spec.kind is None:
                raise ValueError(f"{self.operator} compares a quantity with a number")
            if kind_of(self.unit) is not spec.kind:
                raise ValueError(f"{self.unit} does not measure the {spec.kind} of {self.field}")
        elif self.operator in _BESIDE_A_FIELD:
            other = _known(str(self.value))
            if other.kind is not spec.kind or spec.kind is None or "*" in other.path:
                raise ValueError(f"{self.field} and {self.value} cannot be compared")
        elif self.operator in (Operator.IS, Operator.IS_NOT):
            if spec.form is Form.CHOICE and spec.choices is not None:
                spec.choices(str(self.value))
            elif spec.form is not Form.REFERENCE:
                raise ValueError(f"{self.field} is neither a choice nor a reference")
        return self


class CautionConditions(Frozen):
    """Conditions that must all hold, and conditions one of which must hold; none means always.

    Those `same_row` must hold together in one row of a list; of `none` none may hold.
    """

    all: tuple[Condition, ...] = ()
    any: tuple[Condition, ...] = ()
    same_row: tuple[Condition, ...] = ()
    none: tuple[Condition, ...] = ()

    @property
    def fields(self) -> tuple[str, ...]:
        """The fields looked at, once each, with those they are compared with."""
        conditions = (*self.all, *self.any, *self.same_row, *self.none)
        beside = (Operator.BELOW_FIELD, Operator.NOT_BELOW_FIELD)
        compared = (str(one.value) for one in conditions if one.operator in beside)
        return tuple(dict.fromkeys((*(one.field for one in conditions), *compared)))

    @model_validator(mode="after")
    def _share_a_list(self) -> CautionConditions:
        lists = {condition.field.partition(".*.")[0] for condition in self.same_row}
        if len(lists) > 1 or any(".*." not in one.field for one in self.same_row):
            raise ValueError("conditions of the same row look at fields of one list")
        return self


class CautionTopic(StrEnum):
    """What a caution can be asked for by, also where the job does not call for it."""

    TRACER_SMOKE = "tracer_smoke"


class Caution(Frozen):
    """A few words of care: when they apply, for whom, where they come from, how well known."""

    id: str = Field(min_length=1)
    level: CautionLevel
    audience: Audience = Audience.BOTH
    topic: CautionTopic | None = None
    when: CautionConditions = CautionConditions()
    text: str = Field(min_length=1)
    source: str = Field(min_length=1)
    status: Verification


class Stop(Frozen):
    """Answers on which no test starts until somebody has acknowledged them by name and reason.

    `text` says why, `todo` what to do first.
    """

    id: str = Field(min_length=1)
    when: CautionConditions
    text: str = Field(min_length=1)
    todo: str = Field(min_length=1)
    source: str = Field(min_length=1)
    status: Verification

    @field_validator("when")
    @classmethod
    def _asks_something(cls, when: CautionConditions) -> CautionConditions:
        if not when.fields:
            raise ValueError("a stop needs answers that call for it")
        return when


class ArrivalThing(Frozen):
    """A thing testers change on arrival; a `grave` one can hurt someone if it is left changed.

    `seals` are the fields of a test that tell of seals put on it, or that it was taken out.
    """

    id: str = Field(min_length=1)
    label: str = Field(min_length=1)
    grave: bool = False
    seals: tuple[str, ...] = ()
    source: str = Field(min_length=1)
    status: Verification

    @field_validator("seals")
    @classmethod
    def _are_of_a_test(cls, seals: tuple[str, ...]) -> tuple[str, ...]:
        for path in seals:
            if not _known(path).path.startswith("tests.*."):
                raise ValueError(f"{path} is no field of a test")
        return seals


def _known(path: str) -> FieldSpec:
    try:
        return field_at(path)
    except KeyError as error:
        raise ValueError(f"{path} is not in the field table") from error
