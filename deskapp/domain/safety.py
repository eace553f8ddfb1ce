"""What the tester saw of things that can hurt people, and who answered for going on."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import YesNo
from deskapp.domain.choices_safety import (
    AlarmPanel,
    ApplianceKind,
    AppliancePlace,
    Fuel,
    Tracer,
    Vent,
)
from deskapp.domain.measured import Measured


class Appliance(Frozen):
    """An appliance that burns fuel; `own_air` says whether its air comes from outdoors."""

    key: str
    kind: ApplianceKind | None = None
    fuel: Fuel | None = None
    vent: Vent | None = None
    place: AppliancePlace | None = None
    own_air: YesNo | None = None


class Safety(Frozen):
    """Answers of the safety walk; they choose the cautions and stops of a job.

    `ambient_co`, `zone_pressure` and `spillage_time` were taken on arrival; those that end in
    ``_after`` are the same again once leaks are sealed.
    """

    combustion_appliances: YesNo | None = None
    natural_draft_appliance: YesNo | None = None
    appliances: str = ""
    burners_off: YesNo | None = None
    gas_smell: YesNo | None = None
    ambient_co: Measured | None = None
    co_alarm: YesNo | None = None
    smoke_alarm: YesNo | None = None
    alarm_panel: AlarmPanel | None = None
    zone_pressure: Measured | None = None
    zone_limit: Measured | None = None
    spillage_time: Measured | None = None
    asbestos_suspected: YesNo | None = None
    vermiculite_suspected: YesNo | None = None
    mold_suspected: YesNo | None = None
    fireplace: YesNo | None = None
    fire_out: YesNo | None = None
    lung_trouble: YesNo | None = None
    tracer: Tracer | None = None
    ambient_co_after: Measured | None = None
    zone_pressure_after: Measured | None = None
    spillage_time_after: Measured | None = None
    equipment_restored: YesNo | None = None
    notes: str = ""


class Acknowledgment(Frozen):
    """Who went on in spite of a stop, why, and when (``2026-04-09T08:40``).

    `text` is the stop as it was read and `answer` what called for it, both as printed. `cause`
    holds the answers in a form that can be compared: it stands only while they stay the same.
    """

    stop: str
    cause: tuple[str, ...]
    text: str
    answer: str
    name: str
    reason: str
    at: str
