"""What the window does about preferences: shows them, and lets each change hold at once."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding
from deskapp.i18n import N_, _
from deskapp.session.habits import guess, system_locale_name
from deskapp.session.options import Option
from deskapp.session.preference_form import (
    PreferenceField,
    PreferenceInput,
    preference_fields,
    with_value,
)
from deskapp.session.settings import FILES, WRITING
from deskapp.ui.company.preferences_dialog import Link, PreferencesDialog
from deskapp.ui.theme import Appearance

if TYPE_CHECKING:
    from deskapp.ui.desk import Desk
    from deskapp.ui.furnishing import Furnishing
    from deskapp.ui.main_window import MainWindow

COMPANY = N_("Company")
_APPEARANCE = "appearance"


def show_preferences(window: MainWindow, desk: Desk, furniture: Furnishing) -> PreferencesDialog:
    """Open the dialog of preferences over the window; `furniture` does what they ask for."""
    usual = guess(system_locale_name()).model_dump()
    defaults = {**usual, _APPEARANCE: Appearance.SYSTEM}

    def fields() -> list[PreferenceField]:
        return [*preference_fields(), _appearance()]

    def values() -> dict[str, object]:
        return {**desk.preferences.model_dump(), _APPEARANCE: window.theme.appearance}

    dialog = PreferencesDialog(fields(), values(), defaults, _links(furniture), window)

    def tell_anew() -> None:
        dialog.fill(fields(), values(), defaults, _links(furniture))

    connection = window.language_changed.connect(tell_anew)
    dialog.finished.connect(lambda: window.disconnect(connection))

    def take(name: str, value: object) -> None:
        if name == _APPEARANCE:
            window.choose_appearance(Appearance(str(value)))
            return
        wanted = with_value(desk.preferences, name, value)
        told = wanted if isinstance(wanted, Finding) else furniture.prefer(wanted)
        if told is not None:
            dialog.rows[name].tell(told)

    dialog.chosen.connect(take)
    dialog.open()
    return dialog


def _appearance() -> PreferenceField:
    """Return the one preference kept apart, since the first paint needs it."""
    words = {
        Appearance.SYSTEM: _("Same as the system"),
        Appearance.LIGHT: _("Light"),
        Appearance.DARK: _("Dark"),
    }
    options = tuple(Option(value.value, label) for value, label in words.items())
    help_text = _("Colors of the window; reports are always printed on white.")
    return PreferenceField(
        _APPEARANCE, WRITING, _("Appearance"), help_text, PreferenceInput.CHOICE, options
    )


def _links(furniture: Furnishing) -> list[Link]:
    return [
        Link(
            FILES,
            _("Forget earlier entries"),
            _("Deletes what earlier jobs taught the fields. Jobs stay as they are."),
            furniture.forget_entries,
        ),
        Link(
            COMPANY,
            _("Look of the reports…"),
            _("Name, logo and color at the head of every report."),
            furniture.edit_branding,
        ),
        Link(
            COMPANY,
            _("Your instruments…"),
            _("Gauges, fans and rings to copy into jobs, with their calibration."),
            furniture.show_instruments,
        ),
        Link(
            COMPANY,
            _("What new jobs start with…"),
            _("Tester, license, usual set-up and limits that every new job begins with."),
            furniture.edit_usual,
        ),
    ]
