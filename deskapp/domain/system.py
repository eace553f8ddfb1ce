"""A duct system and the equipment that feeds it."""

from __future__ import annotations

from deskapp.domain.base import Frozen
from deskapp.domain.choices import DuctLocation, FanFlowMethod, WorkKind, YesNo
from deskapp.domain.measured import Measured


class DuctSystem(Frozen):
    """One duct system; limits and verdicts are per system.

    `area_served` decides. The areas from plans, estimated and measured stand beside it where they
    differ, so that the verdict can be shown for each. What stands from `supply_surface` on serves
    the owner's figures only: surfaces, insulation and surroundings of the ducts, and pressures in
    the plenums while the system runs.
    """

    key: str
    name: str = ""
    serves: str = ""
    area_served: Measured | None = None
    area_from_plans: Measured | None = None
    area_estimated: Measured | None = None
    area_measured: Measured | None = None
    work: WorkKind | None = None
    equipment: str = ""
    cooling_capacity: Measured | None = None
    heating_output: Measured | None = None
    fan_flow: Measured | None = None
    fan_flow_method: FanFlowMethod | None = None
    fan_flow_uncertainty: Measured | None = None
    supplies: Measured | None = None
    returns: Measured | None = None
    air_handler_installed: YesNo | None = None
    air_handler_inside: YesNo | None = None
    all_ducts_inside: YesNo | None = None
    duct_location: DuctLocation | None = None
    outside_fraction: Measured | None = None
    accessible_fraction: Measured | None = None
    unconditioned_length: Measured | None = None
    ventilation_only: YesNo | None = None
    return_location: str = ""
    duct_surface: Measured | None = None
    cloth_tape_found: YesNo | None = None
    visual_notes: str = ""
    supply_surface: Measured | None = None
    return_surface: Measured | None = None
    supply_resistance: Measured | None = None
    return_resistance: Measured | None = None
    supply_space_winter: Measured | None = None
    return_space_winter: Measured | None = None
    supply_space_summer: Measured | None = None
    return_space_summer: Measured | None = None
    supply_plenum_pressure: Measured | None = None
    return_plenum_pressure: Measured | None = None
