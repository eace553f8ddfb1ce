"""What the tester saw of things that can hurt people."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import YesNo
from deskapp.domain.measured import Measured


class Safety(Frozen):
    """Answers of the safety walk; they choose the cautions that are shown and printed."""

    combustion_appliances: YesNo | None = None
    natural_draft_appliance: YesNo | None = None
    appliances: str = ""
    burners_off: YesNo | None = None
    gas_smell: YesNo | None = None
    ambient_co: Measured | None = None
    co_alarm: YesNo | None = None
    zone_pressure: Measured | None = None
    zone_limit: Measured | None = None
    spillage_time: Measured | None = None
    asbestos_suspected: YesNo | None = None
    mold_suspected: YesNo | None = None
    fireplace: YesNo | None = None
    equipment_restored: YesNo | None = None
    notes: str = ""
