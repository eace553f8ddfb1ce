"""What is the matter with data that does not make an edition, in plain words."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, cast

from deskapp.i18n import N_, _, labeled

if TYPE_CHECKING:
    from pydantic import ValidationError
    from pydantic_core import ErrorDetails

_WORDS = {
    "missing": N_("it is missing"),
    "extra_forbidden": N_("it is not an entry known here"),
    "string_type": N_("it should be text"),
    "string_too_short": N_("it may not be empty"),
    "too_short": N_("it needs at least {min_length}"),
    "float_type": N_("it should be a number"),
    "float_parsing": N_("it should be a number"),
    "int_type": N_("it should be a whole number"),
    "int_parsing": N_("it should be a whole number"),
    "int_from_float": N_("it should be a whole number"),
    "finite_number": N_("it should be a finite number"),
    "greater_than": N_("it should be above {gt}"),
    "greater_than_equal": N_("it should be {ge} or more"),
    "less_than_equal": N_("it should be {le} or less"),
    "bool_type": N_("it should be true or false"),
    "bool_parsing": N_("it should be true or false"),
    "date_type": N_("it should be a date, such as 2026-03-11"),
    "date_parsing": N_("it should be a date, such as 2026-03-11"),
    "date_from_datetime_parsing": N_("it should be a date, such as 2026-03-11"),
    "date_from_datetime_inexact": N_("it should be a date without a time, such as 2026-03-11"),
    "enum": N_("it should be one of: {expected}"),
    "literal_error": N_("it should be {expected}"),
    "union_tag_invalid": N_("it should be one of: {expected_tags}"),
    "union_tag_not_found": N_("its kind is missing"),
    "tuple_type": N_("it should be a list"),
    "model_type": N_("it should be a table of entries"),
    "model_attributes_type": N_("it should be a table of entries"),
}
_LISTS = {"rows": N_("row {number}"), "waivers": N_("waiver {number}")}


@dataclass(frozen=True, slots=True)
class Fault:
    """One fault: the entry as a path (``rows.1.rule.rate``), the same in words, and what it is."""

    path: str
    place: str
    what: str

    @property
    def text(self) -> str:
        """Place and fault as one clause, without a full stop."""
        return labeled(self.place, self.what) if self.place else self.what


def faults_of(error: ValidationError, data: Mapping[str, Any]) -> tuple[Fault, ...]:
    """Return what is the matter with `data`, in its order, naming row and entry of each fault."""
    return tuple(_fault(detail, data) for detail in error.errors(include_url=False))


def _fault(detail: ErrorDetails, data: Mapping[str, Any]) -> Fault:
    places = list(detail["loc"])
    path = ".".join(str(place) for place in places)
    where: list[str] = []
    if len(places) > 1 and places[0] in _LISTS and isinstance(places[1], int):
        where.append(_row_name(data, str(places[0]), places[1]))
        places = places[2:]
    if places:
        where.append(".".join(str(place) for place in places))
    return Fault(path, ", ".join(where), _what(detail))


def _what(detail: ErrorDetails) -> str:
    words = _WORDS.get(detail["type"])
    if words is None:
        return detail["msg"].removeprefix("Value error, ").rstrip(".")
    return _(words).format(**detail.get("ctx", {}))


def _row_name(data: Mapping[str, Any], list_name: str, position: int) -> str:
    name = _(_LISTS[list_name]).format(number=position + 1)
    rows = data.get(list_name)
    row: object = cast("list[object]", rows)[position] if isinstance(rows, list | tuple) else None
    if isinstance(row, dict):
        row_id = cast("dict[str, object]", row).get("id")
        return f'{name} ("{row_id}")' if row_id else name
    return name
