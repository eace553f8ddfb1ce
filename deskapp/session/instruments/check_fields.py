"""The fields of a field check, as a table like that of the job."""

from __future__ import annotations

from deskapp.domain.choices import FlowBasis
from deskapp.domain.field_spec import FieldSpec, Span, Units
from deskapp.domain.field_words import choice, day, paragraph, quantity, reference, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

PREFIX = "check."

USUAL_COEFFICIENT = 0.60
"""Discharge coefficient where none is typed [1]: a free sharp edge in a thin flat plate.

Common practice, no source; theory gives 0.611 for the ideal edge."""

USUAL_TOLERANCE = 0.05
"""Tolerance where none is typed, as a share of the expected flow [1].

House rule of this program, at the strict end of the 5 to 7% that hole and fan may disagree by
together; those from memory, not checked against a text."""

USUAL_TEMPERATURE = 293.15
"""Air temperature where none is typed, 20 °C [K]."""

CHECK_FIELDS: tuple[FieldSpec, ...] = (
    day("check.done_on", N_("Checked on"), needed=True),
    text("check.tester", N_("Checked by")),
    reference("check.gauge", "gauges", N_("Gauge used")),
    quantity(
        "check.hole_diameter",
        Kind.LENGTH,
        N_("Hole diameter"),
        N_("A round hole with a free, sharp edge in a thin plate, taped over the end of the duct."),
        units=Units("in", "mm"),
        allowed=Span(1, 2_000, "mm"),
        usual=Span(20, 400, "mm"),
        example="4 in",
    ),
    quantity(
        "check.hole_area",
        Kind.AREA,
        N_("Hole area"),
        N_("Instead of the diameter: for another shape, or where a certificate states the area."),
        units=Units("in2", "cm2"),
        allowed=Span(0.01, 31_416, "cm2"),
        usual=Span(3, 1_300, "cm2"),
        example="12.57 in2",
    ),
    quantity(
        "check.discharge_coefficient",
        Kind.NUMBER,
        N_("Discharge coefficient"),
        N_("0.60 if left empty: a free sharp edge, still air before it and free space behind it."),
        allowed=Span(0.3, 1, "1"),
        usual=Span(0.58, 0.63, "1"),
        example="0.60",
    ),
    quantity(
        "check.plate_pressure",
        Kind.PRESSURE,
        N_("Pressure across the plate"),
        N_("Duct just before the plate against the room, without a sign, baseline taken off."),
        allowed=Span(1, 5_000, "Pa"),
        usual=Span(10, 300, "Pa"),
        example="25 Pa",
    ),
    quantity(
        "check.air_temperature",
        Kind.TEMPERATURE,
        N_("Air temperature"),
        N_("In duct and fan; 20 °C (68 °F) if left empty."),
        allowed=Span(-50, 80, "degC"),
        usual=Span(-10, 45, "degC"),
        example="68 °F",
    ),
    quantity(
        "check.barometer",
        Kind.PRESSURE,
        N_("Barometric pressure"),
        N_("At the site, not reduced to sea level; 101.325 kPa if left empty."),
        units=Units("inHg", "kPa"),
        allowed=Span(30, 120, "kPa"),
        usual=Span(65, 107, "kPa"),
        example="98.9 kPa",
    ),
    quantity(
        "check.humidity",
        Kind.FRACTION,
        N_("Relative humidity"),
        N_("Dry air is taken if left empty; it moves the flow by less than 1% indoors."),
        allowed=Span(0, 100, "percent"),
        example="50%",
    ),
    reference("check.ring", "rings", N_("Ring fitted")),
    quantity(
        "check.fan_signal",
        Kind.PRESSURE,
        N_("Fan signal"),
        N_("Pressure at the fan's flow sensor, without a sign."),
        allowed=Span(0.01, 10_000, "Pa"),
        example="36 Pa",
    ),
    quantity(
        "check.indicated_flow",
        Kind.FLOW,
        N_("Flow shown by the gauge"),
        N_("Only where the gauge shows a flow instead of a fan signal."),
        allowed=Span(0.01, 200_000, "cfm"),
        example="67 cfm",
    ),
    choice(
        "check.flow_basis",
        FlowBasis,
        N_("The flow shown is"),
        N_("As indicated, if left open. A flow from ring and signal is always corrected here."),
    ),
    quantity(
        "check.tolerance",
        Kind.FRACTION,
        N_("Tolerance"),
        N_("5% if left empty, a rule of this program; 5 to 7% is common (from memory)."),
        allowed=Span(0.1, 50, "percent"),
        usual=Span(2, 10, "percent"),
        example="5%",
    ),
    paragraph("check.comments", N_("Comments on the check")),
)

CHECK_FIELD: dict[str, FieldSpec] = {spec.path: spec for spec in CHECK_FIELDS}
"""The fields by their paths, such as ``check.hole_diameter``."""
