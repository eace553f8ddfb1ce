"""Closed lists of answers; the words shown for each stand in `CHOICE_LABELS`."""

from __future__ import annotations

from enum import StrEnum

from deskapp.domain import choices_safety
from deskapp.i18n import N_


class YesNo(StrEnum):
    """A question answered yes or no; None means not answered yet."""

    YES = "yes"
    NO = "no"


class AreaSource(StrEnum):
    """Where a floor area came from."""

    PLANS = "plans"
    ESTIMATED = "estimated"
    MEASURED = "measured"


class BuildingType(StrEnum):
    """What kind of building the ducts serve."""

    DETACHED = "detached"
    ATTACHED = "attached"
    MULTIFAMILY = "multifamily"
    MANUFACTURED = "manufactured"
    COMMERCIAL = "commercial"


class FanFlowMethod(StrEnum):
    """How the air handler's flow was found."""

    NOMINAL_COOLING = "nominal_cooling"
    NOMINAL_HEATING = "nominal_heating"
    DESIGN = "design"
    MEASURED = "measured"


class DuctLocation(StrEnum):
    """Where most of the ducts run."""

    CONDITIONED = "conditioned"
    ATTIC = "attic"
    CRAWLSPACE = "crawlspace"
    BASEMENT = "basement"
    GARAGE = "garage"
    BELLY = "belly"
    SLAB = "slab"
    SEVERAL = "several"


class WorkKind(StrEnum):
    """Whether the duct system is new or changed."""

    NEW = "new"
    ALTERED = "altered"
    EXISTING = "existing"


class Stage(StrEnum):
    """When in the life of the building the test was made."""

    ROUGH_IN = "rough_in"
    FINAL = "final"
    BEFORE_REPAIR = "before_repair"
    AFTER_REPAIR = "after_repair"


class Metric(StrEnum):
    """What the test measured; `ENVELOPE` is the house itself, and belongs to no duct system."""

    TOTAL = "total"
    OUTSIDE = "outside"
    ENVELOPE = "envelope"


class Method(StrEnum):
    """Whether the readings repeat one pressure or follow a curve over several."""

    SINGLE_PRESSURE = "single_pressure"
    SEVERAL_PRESSURES = "several_pressures"


class Part(StrEnum):
    """How much of the duct system was tested; a side alone is never judged for the whole."""

    WHOLE = "whole"
    SUPPLY = "supply"
    RETURN = "return"


class Direction(StrEnum):
    """Whether the fan blew air into the ducts or drew it out.

    With `BOTH`, the sign of each reading says its direction, and the two means are averaged.
    """

    PRESSURIZE = "pressurize"
    DEPRESSURIZE = "depressurize"
    BOTH = "both"


class Reference(StrEnum):
    """What the duct pressure was measured against."""

    HOUSE_OPEN = "house_open"
    OUTSIDE = "outside"
    HOUSE_CLOSED = "house_closed"


class FlowBasis(StrEnum):
    """Whether the indicated flow is corrected for the density of the air at the fan."""

    ACTUAL_AIR = "actual_air"
    AS_INDICATED = "as_indicated"


class CompliancePath(StrEnum):
    """Why the test is made."""

    PRESCRIPTIVE = "prescriptive"
    PERFORMANCE = "performance"
    PROGRAM = "program"
    CONTRACT = "contract"
    DIAGNOSIS = "diagnosis"


class DuctSide(StrEnum):
    """The side of the duct system a leak sits on."""

    SUPPLY = "supply"
    RETURN = "return"
    EQUIPMENT = "equipment"


class LeakSize(StrEnum):
    """How big a leak looks, a guess in four classes; the names are those of older jobs."""

    MINOR = "minor"
    MODERATE = "moderate"
    MAJOR = "major"
    CRITICAL = "critical"


class Severity(StrEnum):
    """How much a leak matters where it is, from 1 (minor) to 4 (critical)."""

    MINOR = "minor"
    MODERATE = "moderate"
    MAJOR = "major"
    CRITICAL = "critical"


class LeakSpace(StrEnum):
    """What surrounds a leak, which decides what it draws in or loses."""

    INSIDE = "inside"
    OUTSIDE = "outside"
    BURNER_ROOM = "burner_room"


class FoundBy(StrEnum):
    """How a leak was found."""

    HAND = "hand"
    LIGHT = "light"
    SMOKE = "smoke"
    PRESSURE_PAN = "pressure_pan"
    CAMERA = "camera"
    EYE = "eye"


CHOICE_LABELS: dict[type[StrEnum], dict[str, str]] = {
    YesNo: {"yes": N_("Yes"), "no": N_("No")},
    AreaSource: {
        "plans": N_("From the plans"),
        "estimated": N_("Estimated"),
        "measured": N_("Measured on site"),
    },
    BuildingType: {
        "detached": N_("Detached house"),
        "attached": N_("Attached house"),
        "multifamily": N_("Apartment in a multifamily building"),
        "manufactured": N_("Manufactured home"),
        "commercial": N_("Commercial building"),
    },
    FanFlowMethod: {
        "nominal_cooling": N_("Nominal, from cooling capacity"),
        "nominal_heating": N_("Nominal, from heating output"),
        "design": N_("From the design"),
        "measured": N_("Measured"),
    },
    DuctLocation: {
        "conditioned": N_("Inside conditioned space"),
        "attic": N_("Attic"),
        "crawlspace": N_("Crawl space"),
        "basement": N_("Unconditioned basement"),
        "garage": N_("Garage"),
        "belly": N_("Belly under the floor"),
        "slab": N_("In or under the slab"),
        "several": N_("Several places"),
    },
    WorkKind: {
        "new": N_("New system"),
        "altered": N_("Altered or extended system"),
        "existing": N_("Existing system, unchanged"),
    },
    Stage: {
        "rough_in": N_("Rough-in"),
        "final": N_("After construction (final)"),
        "before_repair": N_("Existing, before repair"),
        "after_repair": N_("Existing, after repair"),
    },
    Metric: {
        "total": N_("Total leakage"),
        "outside": N_("Leakage to outside"),
        "envelope": N_("Air tightness of the house"),
    },
    Method: {
        "single_pressure": N_("One pressure, repeated"),
        "several_pressures": N_("Several pressures, with a curve"),
    },
    Part: {
        "whole": N_("Whole system or section"),
        "supply": N_("Supply side only"),
        "return": N_("Return side only"),
    },
    Direction: {
        "pressurize": N_("Pressurized"),
        "depressurize": N_("Depressurized"),
        "both": N_("Both directions, averaged"),
    },
    Reference: {
        "house_open": N_("House, with a door or window open to outside"),
        "outside": N_("Outside"),
        "house_closed": N_("House, closed"),
    },
    FlowBasis: {
        "actual_air": N_("Corrected to the air at the fan"),
        "as_indicated": N_("As indicated, no density correction"),
    },
    CompliancePath: {
        "prescriptive": N_("Code, prescriptive path"),
        "performance": N_("Code, performance or rating path"),
        "program": N_("Rebate or voluntary program"),
        "contract": N_("Contract specification"),
        "diagnosis": N_("Diagnosis for the owner"),
    },
    DuctSide: {"supply": N_("Supply"), "return": N_("Return"), "equipment": N_("Equipment")},
    LeakSize: {
        "minor": N_("Small"),
        "moderate": N_("Medium"),
        "major": N_("Large"),
        "critical": N_("Very large"),
    },
    Severity: {
        "minor": N_("1, minor"),
        "moderate": N_("2, moderate"),
        "major": N_("3, major"),
        "critical": N_("4, critical"),
    },
    LeakSpace: {
        "inside": N_("Inside the thermal envelope"),
        "outside": N_("Outside the thermal envelope"),
        "burner_room": N_("Room of a fuel-burning appliance"),
    },
    FoundBy: {
        "hand": N_("By hand"),
        "light": N_("With a light"),
        "smoke": N_("With tracer smoke"),
        "pressure_pan": N_("With a pressure pan"),
        "camera": N_("With a camera or mirror"),
        "eye": N_("By eye"),
    },
    **choices_safety.LABELS,
}
