"""What all blocks of a report template share: when they are printed and the names they use."""

from __future__ import annotations

from enum import StrEnum
from string import Formatter as _Braces
from typing import ClassVar, Self

from pydantic import BaseModel, ConfigDict, model_validator

from deskapp.domain.base import Frozen

COMMON_NAMES = (
    "company",
    "phone",
    "license",
    "owner",
    "address",
    "job_number",
    "test_day",
    "issued_on",
    "tester",
    "system_count",
    "comments",
    "issue",
)
"""Names any wording may use, written ``{owner}``."""


class Situation(StrEnum):
    """What can be the case; a block or a sentence is printed `when` all it names are the case."""

    VERDICT_PASS = "verdict_pass"
    VERDICT_FAIL = "verdict_fail"
    VERDICT_NONE = "verdict_none"
    ONE_SYSTEM = "one_system"
    SEVERAL_SYSTEMS = "several_systems"
    MANY_SYSTEMS = "many_systems"
    TWO_SYSTEMS = "two_systems"
    NO_SYSTEMS = "no_systems"
    TESTED = "tested"
    RETESTED = "retested"
    ROUGH_IN = "rough_in"
    EXISTING_HOUSE = "existing_house"
    TO_OUTSIDE = "to_outside"
    PRESSURIZED = "pressurized"
    DEPRESSURIZED = "depressurized"
    EXTRAPOLATED = "extrapolated"
    LEAKS_FOUND = "leaks_found"
    LEAKS_OPEN = "leaks_open"
    LEAKS_ALL_SEALED = "leaks_all_sealed"
    LEAKS_UNANSWERED = "leaks_unanswered"
    VENTS_OPEN = "vents_open"
    STOPPED = "stopped"
    PASSES_NOT_FINAL = "passes_not_final"
    DANGER = "danger"
    FUMES_SPILLED = "fumes_spilled"
    FUMES_STOPPED = "fumes_stopped"
    CO_RAISED = "co_raised"
    NO_CO_ALARM = "no_co_alarm"
    CO_ALARM_UNKNOWN = "co_alarm_unknown"
    BURNS_FUEL = "burns_fuel"
    NATURAL_DRAFT = "natural_draft"
    NOT_RESTORED = "not_restored"
    NOT_A_HOME = "not_a_home"
    AREA_ESTIMATED = "area_estimated"
    HOUSE_HIDES = "house_hides"
    FROM_MEMORY = "from_memory"
    LIMIT_INVENTED = "limit_invented"
    LIMIT_MISFIT = "limit_misfit"
    LIMIT_UNSETTLED = "limit_unsettled"
    FAN_FLOW_LIMIT = "fan_flow_limit"
    PROGRAM = "program"
    EXEMPTION_CLAIMED = "exemption_claimed"
    STATEMENT_GIVEN = "statement_given"
    PHOTOS = "photos"


class Wording(Frozen):
    """A record of a template whose texts may hold names in braces; `names` are its own ones."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=False)

    names: ClassVar[tuple[str, ...]] = ()

    @model_validator(mode="after")
    def _names_are_known(self) -> Self:
        allowed = {*COMMON_NAMES, *self.names}
        for field in type(self).model_fields:
            value: object = getattr(self, field)
            for text in _texts(value):
                _check(field, text, allowed)
        return self


class Sentence(Wording):
    """A text that is printed `when` all situations named there hold and none of `unless` does."""

    text: str
    when: tuple[Situation, ...] = ()
    unless: tuple[Situation, ...] = ()


class BlockSpec(Wording):
    """One block of a template; one not `shown` stays in the file and is not printed."""

    shown: bool = True
    heading: str = ""
    level: int = 2
    when: tuple[Situation, ...] = ()
    unless: tuple[Situation, ...] = ()
    new_page: bool = False


def _texts(value: object) -> tuple[str, ...]:
    if isinstance(value, StrEnum):
        return ()
    if isinstance(value, str):
        return (value,)
    if isinstance(value, tuple):
        parts: tuple[object, ...] = value  # pyright: ignore[reportUnknownVariableType]
        return tuple(
            text for part in parts if not isinstance(part, BaseModel) for text in _texts(part)
        )
    return ()


def _check(field: str, text: str, allowed: set[str]) -> None:
    try:
        names = [name for _text, name, _spec, _turn in _Braces().parse(text) if name is not None]
    except ValueError as error:
        raise ValueError(f"{field}: a brace stands alone; write {{{{ for a printed one") from error
    for name in names:
        if name not in allowed:
            raise ValueError(
                f"{field}: {{{name}}} is not known here; allowed are {', '.join(sorted(allowed))}"
            )
