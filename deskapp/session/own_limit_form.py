"""A limit of one's own as a form: which entries it has, and taking typed text into them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import TYPE_CHECKING, Any, cast

from deskapp.domain import paths
from deskapp.domain.choices import CHOICE_LABELS, BuildingType, Metric, Stage, WorkKind
from deskapp.domain.finding import Finding, Level
from deskapp.domain.limit import Edition, EditionRole, EitherOf, LimitRow, SingleRule
from deskapp.i18n import N_, _, labeled
from deskapp.limits.own import OwnLimitProblem, changed
from deskapp.limits.words import rule_text
from deskapp.session.options import Option
from deskapp.units.entry import Problem, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import write_decimals
from deskapp.units.when import read_day

if TYPE_CHECKING:
    from deskapp.session.settings import Preferences


class LimitInput(StrEnum):
    """How an entry is filled in: typed as text, number, count or day; one answer; several."""

    TEXT = "text"
    PARAGRAPH = "paragraph"
    NUMBER = "number"
    COUNT = "count"
    DAY = "day"
    ANSWER = "answer"
    ANSWERS = "answers"


@dataclass(frozen=True, slots=True)
class OwnField:
    """One entry of the form: its path in the edition, its words, and what stands in it.

    `options` are the answers offered, `chosen` those that hold; `unit` is printed behind a number.
    """

    path: str
    label: str
    entry: LimitInput
    text: str = ""
    unit: str = ""
    options: tuple[Option, ...] = ()
    chosen: tuple[str, ...] = ()
    needed: bool = False


@dataclass(frozen=True, slots=True)
class OwnSection:
    """The entries of the edition (`row_id` empty) or of one row, in the order of the form."""

    title: str
    row_id: str
    fields: tuple[OwnField, ...]


_ROLES = {
    EditionRole.CODE: N_("Code"),
    EditionRole.MODEL_CODE: N_("Model code, binding where adopted"),
    EditionRole.PROGRAM: N_("Program, binding who takes part"),
    EditionRole.STANDARD: N_("Standard, binding where it is named"),
}
_ANY = ""
_YES_OR_NO = (
    Option(_ANY, N_("Makes no difference")),
    Option("yes", N_("Yes")),
    Option("no", N_("No")),
)
# Entry of the edition: label, how it is filled in, whether it is needed.
_EDITION: dict[str, tuple[str, LimitInput, bool]] = {
    "title": (N_("Title"), LimitInput.TEXT, True),
    "body": (N_("Who publishes it"), LimitInput.TEXT, True),
    "edition": (N_("Edition"), LimitInput.TEXT, False),
    "country": (N_("Country, two letters"), LimitInput.TEXT, False),
    "region": (N_("State or province"), LimitInput.TEXT, False),
    "role": (N_("What gives it force"), LimitInput.ANSWER, False),
    "buildings": (N_("For these buildings only"), LimitInput.ANSWERS, False),
    "in_force_from": (N_("In force from"), LimitInput.DAY, False),
    "in_force_to": (N_("In force to"), LimitInput.DAY, False),
    "note": (N_("Note"), LimitInput.PARAGRAPH, False),
}
_ROW: dict[str, tuple[str, LimitInput, bool]] = {
    "title": (N_("Title"), LimitInput.TEXT, True),
    "clause": (N_("Clause"), LimitInput.TEXT, True),
    "metric": (N_("What is measured"), LimitInput.ANSWER, True),
    "pressure_pa": (N_("Pressure of the limit"), LimitInput.NUMBER, False),
    "stages": (N_("At these stages only"), LimitInput.ANSWERS, False),
    "works": (N_("For these systems only"), LimitInput.ANSWERS, False),
    "air_handler_installed": (N_("Air handler in place"), LimitInput.ANSWER, False),
    "all_inside": (N_("All ducts and air handler inside"), LimitInput.ANSWER, False),
    "returns_min": (N_("Ducted returns, at least"), LimitInput.COUNT, False),
    "returns_max": (N_("Ducted returns, at most"), LimitInput.COUNT, False),
    "area_above_ft2": (N_("Floor area served, above"), LimitInput.NUMBER, False),
    "area_up_to_ft2": (N_("Floor area served, up to"), LimitInput.NUMBER, False),
}
_ROW_END: dict[str, tuple[str, LimitInput, bool]] = {
    "exceptions": (N_("Exceptions"), LimitInput.PARAGRAPH, False),
    "note": (N_("Note"), LimitInput.PARAGRAPH, False),
    "source": (N_("What it was read in"), LimitInput.TEXT, True),
    "verified_by": (N_("Compared with the code text by"), LimitInput.TEXT, False),
    "verified_on": (N_("Compared on"), LimitInput.DAY, False),
}
_UNITS = {
    "pressure_pa": "Pa",
    "area_above_ft2": "ft²",
    "area_up_to_ft2": "ft²",
    "floor": "cfm",
    "flow": "cfm",
    "fraction": "cfm/ft²",
    "percent": "%",
}
_NUMBERS = {
    "rate": N_("Rate"),
    "floor": N_("But never less than"),
    "flow": N_("Flow"),
    "fraction": N_("Fraction of the floor area"),
    "percent": N_("Percent"),
    "k": N_("Coefficient k"),
    "cl": N_("Leakage class"),
}
_ANSWERS: dict[str, type[StrEnum]] = {
    "metric": Metric,
    "stages": Stage,
    "works": WorkKind,
    "buildings": BuildingType,
}


def own_form(edition: Edition, preferences: Preferences) -> tuple[OwnSection, ...]:
    """Return the form of an edition: first what holds for all of it, then one section a row."""
    sections = [OwnSection(_("Edition"), "", tuple(_fields(edition, "", _EDITION, preferences)))]
    for position, row in enumerate(edition.rows):
        start = f"rows.{position}."
        fields = (
            *_fields(row, start, _ROW, preferences),
            *_rule_fields(row, start, preferences),
            *_fields(row, start, _ROW_END, preferences),
        )
        sections.append(OwnSection(row.title, row.id, fields))
    return tuple(sections)


def _fields(
    record: Edition | LimitRow,
    start: str,
    table: dict[str, tuple[str, LimitInput, bool]],
    preferences: Preferences,
) -> Iterator[OwnField]:
    for name, (label, entry, needed) in table.items():
        value: object = getattr(record, name)
        options = _options(name) if entry in (LimitInput.ANSWER, LimitInput.ANSWERS) else ()
        yield OwnField(
            path=start + name,
            label=_(label),
            entry=entry,
            text="" if options else _text(value, preferences),
            unit=_UNITS.get(name, ""),
            options=options,
            chosen=_chosen(value) if options else (),
            needed=needed,
        )


def _options(name: str) -> tuple[Option, ...]:
    if name == "role":
        return tuple(Option(role.value, _(words)) for role, words in _ROLES.items())
    if name in _ANSWERS:
        labels = CHOICE_LABELS[_ANSWERS[name]]
        return tuple(Option(value, _(words)) for value, words in labels.items())
    return tuple(Option(value, _(words)) for value, words in _YES_OR_NO)


def _chosen(value: object) -> tuple[str, ...]:
    if value is None:
        return (_ANY,)
    if isinstance(value, bool):
        return ("yes",) if value else ("no",)
    if isinstance(value, tuple):
        return tuple(str(one) for one in cast("tuple[object, ...]", value))
    return (str(value),)


def _text(value: object, preferences: Preferences) -> str:
    if value is None:
        return ""
    if isinstance(value, date):
        return value.isoformat()
    if isinstance(value, float | int):
        return write_decimals(f"{value:.12g}", preferences.number_style)
    return str(value)


def _rule_fields(row: LimitRow, start: str, preferences: Preferences) -> Iterator[OwnField]:
    if isinstance(row.rule, EitherOf):
        for number, rule in enumerate(row.rule.rules):
            words = _("Alternative {number}: {rule}").format(
                number=number + 1, rule=rule_text(rule)
            )
            yield from _numbers(rule, f"{start}rule.rules.{number}.", preferences, f"{words}. ")
    else:
        yield from _numbers(row.rule, f"{start}rule.", preferences)


def _numbers(
    rule: SingleRule, start: str, preferences: Preferences, before: str = ""
) -> Iterator[OwnField]:
    per_area = {
        "per_floor_area": "cfm/100 ft²",
        "greater_of": "cfm/100 ft²",
        "per_duct_surface": _("cfm/100 ft² of duct surface"),
    }
    for name in type(rule).model_fields:
        if name in {"kind", "text"}:
            continue
        unit = per_area.get(rule.kind, "") if name == "rate" else _UNITS.get(name, "")
        yield OwnField(
            path=start + name,
            label=before + _(_NUMBERS[name]),
            entry=LimitInput.NUMBER,
            text=_text(getattr(rule, name), preferences),
            unit=unit,
            needed=True,
        )


def enter_own(
    edition: Edition, path: str, text: str, preferences: Preferences
) -> Edition | Finding:
    """Return the edition with `text` typed into the entry at `path`, or why it cannot be taken.

    Raises KeyError for a path that is no typed entry of the form.
    """
    field = _field_at(edition, path, preferences)
    if field.entry in (LimitInput.ANSWER, LimitInput.ANSWERS):
        raise KeyError(f"{path} is chosen, not typed")
    if text == field.text:
        return edition
    value: object = text.strip() if field.entry is LimitInput.TEXT else text
    if field.entry is LimitInput.DAY:
        style, system = preferences.number_style, preferences.unit_system
        value = read_day(text, style, system) if text.strip() else None
    elif field.entry in (LimitInput.NUMBER, LimitInput.COUNT):
        kind = Kind.NUMBER if field.entry is LimitInput.NUMBER else Kind.COUNT
        found = parse(text, kind, "1", preferences.number_style) if text.strip() else None
        value = found if found is None or isinstance(found, Problem) else found.si
    if isinstance(value, Problem):
        what = labeled(field.label, value.what)
        return _refused(path, what, value.allowed, value.mend)
    if field.entry is LimitInput.COUNT and isinstance(value, float):
        value = int(value)
    return _changed(edition, path, value, field.label)


def choose_own(
    edition: Edition, path: str, answers: Iterable[str], preferences: Preferences
) -> Edition | Finding:
    """Return the edition with the entry at `path` answered; no answer clears it.

    Raises KeyError for a path that is no chosen entry, ValueError for an answer not offered.
    """
    field, given = _field_at(edition, path, preferences), tuple(answers)
    offered = {option.value for option in field.options}
    if not offered:
        raise KeyError(f"{path} is typed, not chosen")
    if not set(given) <= offered:
        raise ValueError(f"{', '.join(set(given) - offered)} is no answer to {path}")
    value: Any = given
    if field.entry is LimitInput.ANSWER:
        one = given[0] if given else _ANY
        is_yes_no = offered == {option.value for option in _YES_OR_NO}
        value = {_ANY: None, "yes": True, "no": False}[one] if is_yes_no else one or None
    return _changed(edition, path, value, field.label)


def _field_at(edition: Edition, path: str, preferences: Preferences) -> OwnField:
    for section in own_form(edition, preferences):
        for field in section.fields:
            if field.path == path:
                return field
    raise KeyError(f"{path} is no entry of this limit")


def _changed(edition: Edition, path: str, value: object, label: str) -> Edition | Finding:
    if paths.get(edition, path) == value:
        return edition
    try:
        return changed(edition, path, value)
    except OwnLimitProblem as problem:
        return _refused(path, f"{label}: {problem.text}", "", _("Type it again, or leave it."))


def _refused(path: str, what: str, allowed: str, mend: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="own-limit-entry",
        path=path,
        what=what,
        allowed=allowed,
        mend=mend,
    )
