"""What the owner's figures take where nobody has entered anything, as data with its standing."""

from __future__ import annotations

from dataclasses import dataclass

from deskapp.domain.choices import DuctLocation
from deskapp.i18n import N_

HOUSE_RULE = N_("House rule of this program; common practice, no source")

ROOM_WINTER_K, ROOM_SUMMER_K = 293.15, 298.15
"""Rooms at 20 °C in the heating season and 25 °C in the cooling season. House rule."""

OUTDOOR_WINTER_K, OUTDOOR_SUMMER_K = 278.15, 303.15
"""Outdoors at 5 °C and 30 °C while heating and cooling run. House rule."""

PLENUM_PA = 50.0
"""Pressure in a plenum while the system runs; 40 to 100 Pa is common. No source."""

PRESSURE_SPREAD = (0.5, 1.5)
"""Factors on the pressures of operation behind the lower and upper end of a cost. House rule."""

RESISTANCE = 1.0566611
"""Thermal resistance of duct walls, R-6 in inch-pound units [m2 K/W]. House rule."""

SIDE_SHARE = 0.5
"""Supply's part of the leakage where the sides were not tested apart. House rule."""

OUTSIDE_SHARE = 0.5
"""Part of the total leakage that goes outside. About half in manufactured homes that were tested
(Florida Solar Energy Center, FSEC-GP-234-03, abstract); elsewhere a house rule."""

SENSIBLE_SHARE = 0.75
"""Part of the cooling capacity that cools instead of drying. Common practice, no source."""

FLOW_PER_TON = 0.18877897728
"""Air handler flow for each ton of cooling where none is given, 400 cfm [m3/s]. Common practice."""

TON_W = 3516.8528420667
"""A ton of cooling [W]."""

MOISTURE = 0.0093
"""Humidity ratio of the air, taken alike in rooms and around ducts [1]. House rule."""


@dataclass(frozen=True, slots=True)
class Surroundings:
    """How the space around ducts follows outdoors, from 0 (as the rooms) to 1 (as outdoors).

    `sun` is added in the cooling season [K]. The losses that come back to the rooms lie between
    `regain_low` and `regain_high` [1].
    """

    follows: float
    sun: float
    regain_low: float
    regain_high: float

    @property
    def regain(self) -> float:
        """The middle of the range."""
        return (self.regain_low + self.regain_high) / 2.0


SURROUNDINGS: dict[DuctLocation, Surroundings] = {
    DuctLocation.ATTIC: Surroundings(1.0, 10.0, 0.0, 0.2),
    DuctLocation.CRAWLSPACE: Surroundings(0.5, 0.0, 0.0, 0.4),
    DuctLocation.BASEMENT: Surroundings(0.35, 0.0, 0.2, 0.7),
    DuctLocation.GARAGE: Surroundings(0.8, 0.0, 0.0, 0.2),
    DuctLocation.BELLY: Surroundings(0.8, 0.0, 0.0, 0.4),
    DuctLocation.SLAB: Surroundings(0.5, 0.0, 0.2, 0.6),
    DuctLocation.SEVERAL: Surroundings(0.75, 4.0, 0.0, 0.4),
    DuctLocation.CONDITIONED: Surroundings(0.2, 0.0, 0.5, 1.0),
}
"""Spaces around ducts. House rules of this program; common practice, no source."""

UNKNOWN = SURROUNDINGS[DuctLocation.SEVERAL]
"""Where nobody said where the ducts run."""
