"""What one user prefers, kept in a small file between sessions."""

from __future__ import annotations

from enum import StrEnum

from pydantic import Field

from deskapp.domain.base import Frozen
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

FILE_NAME = "preferences.json"


class Paper(StrEnum):
    """The paper reports are made for."""

    LETTER = "letter"
    A4 = "a4"


class Preferences(Frozen):
    """What one user prefers; each description is shown beside its field."""

    unit_system: UnitSystem = Field(
        default=UnitSystem.IP, description="Units shown, and meant where none is typed."
    )
    number_style: NumberStyle = Field(
        default=NumberStyle.POINT, description="How decimals and thousands are written."
    )
    paper: Paper = Field(default=Paper.LETTER, description="Paper size of the reports.")
    language: str = Field(
        default="", max_length=35, description="Language of the program; empty for the system's."
    )

    @property
    def formatter(self) -> Formatter:
        """What writes quantities and days in these units and this style."""
        return Formatter(self.unit_system, self.number_style)
