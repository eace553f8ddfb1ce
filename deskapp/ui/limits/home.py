"""The country this computer is set to, as a hint where a job names no place."""

from __future__ import annotations

from PySide6.QtCore import QLocale

from deskapp.session import habits


def home_country() -> str:
    """Return the country of the system's locale by its two letters, or an empty text."""
    return habits.country_of(habits.system_locale_name() or QLocale.system().name())
