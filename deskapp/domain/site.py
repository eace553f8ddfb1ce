"""Who the job is for, where it is, and the building."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import AreaSource, BuildingType
from deskapp.domain.measured import Day, Measured


class Client(Frozen):
    """The owner or customer."""

    name: str = ""
    phone: str = ""
    email: str = ""
    utility_account: str = ""


class Site(Frozen):
    """The place of the job and its paperwork."""

    address: str = ""
    lot: str = ""
    city: str = ""
    region: str = ""
    postcode: str = ""
    jurisdiction: str = ""
    permit_number: str = ""
    permit_date: Day | None = None
    program_id: str = ""
    builder: str = ""
    builder_license: str = ""
    climate_zone: str = ""


class House(Frozen):
    """The building as a whole.

    `bill_low` and `bill_high` are what heating and cooling cost in a year, plain numbers in
    `currency`; the temperatures are usual ones of the season, for the owner's figures.
    """

    building_type: BuildingType | None = None
    floor_area: Measured | None = None
    area_source: AreaSource | None = None
    area_uncertainty: Measured | None = None
    volume: Measured | None = None
    air_changes_50: Measured | None = None
    stories: Measured | None = None
    year_built: Measured | None = None
    elevation: Measured | None = None
    foundation: str = ""
    height: Measured | None = None
    envelope_area: Measured | None = None
    room_winter: Measured | None = None
    room_summer: Measured | None = None
    outdoor_winter: Measured | None = None
    outdoor_summer: Measured | None = None
    bill_low: Measured | None = None
    bill_high: Measured | None = None
    currency: str = ""
