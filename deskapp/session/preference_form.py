"""The dialog of preferences as a table, read off the model of the preferences."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import TYPE_CHECKING, Any, cast

from pydantic import ValidationError

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import N_, _
from deskapp.session.options import Option
from deskapp.session.settings import Preferences

if TYPE_CHECKING:
    from pydantic.fields import FieldInfo

OTHER = N_("Other")
"""Section of preferences that name none."""


class PreferenceInput(StrEnum):
    """How a preference is set."""

    CHOICE = "choice"
    SWITCH = "switch"
    FOLDER = "folder"
    TEXT = "text"


@dataclass(frozen=True, slots=True)
class PreferenceField:
    """One preference to show: `help` says what it does, `options` what may be chosen."""

    name: str
    section: str
    label: str
    help: str
    entry: PreferenceInput
    options: tuple[Option, ...] = ()


def preference_fields() -> tuple[PreferenceField, ...]:
    """Return the preferences a person sets, in the order of the model, in the language in use."""
    found = (_field(name, info) for name, info in Preferences.model_fields.items())
    return tuple(field for field in found if field.section)


def _field(name: str, info: FieldInfo) -> PreferenceField:
    extra = cast("dict[str, Any]", info.json_schema_extra or {})
    words: dict[str, str] = extra.get("words", {})
    kind = info.annotation
    options: tuple[Option, ...] = ()
    entry = PreferenceInput.FOLDER if extra.get("folder") else PreferenceInput.TEXT
    if kind is bool:
        entry = PreferenceInput.SWITCH
    elif isinstance(kind, type) and issubclass(kind, StrEnum):
        entry = PreferenceInput.CHOICE
        options = tuple(Option(one.value, _(words.get(one.value, one.value))) for one in kind)
    return PreferenceField(
        name=name,
        section=extra.get("section", OTHER),
        label=_(info.title) if info.title else name.replace("_", " ").capitalize(),
        help=_(info.description) if info.description else "",
        entry=entry,
        options=options,
    )


def with_value(preferences: Preferences, name: str, value: object) -> Preferences | Finding:
    """Return `preferences` with another value under `name`, or why it cannot be that value.

    Raises KeyError for a name that is no preference.
    """
    info = Preferences.model_fields[name]
    try:
        one = Preferences.model_validate({name: value})
    except ValidationError:
        return Finding(
            level=Level.CHECK,
            code="preference-not-taken",
            path=name,
            what=_("{label}: “{typed}” cannot be kept.").format(
                label=_(info.title or name), typed=str(value)[:40]
            ),
            mend=_("Type something shorter, or choose from the list."),
        )
    return preferences.with_choice(name, getattr(one, name))
