"""Fields of instruments, tests and readings."""

from __future__ import annotations

from dataclasses import replace

from deskapp.domain.choices import (
    Direction,
    FlowBasis,
    Method,
    Metric,
    Part,
    Reference,
    Stage,
    YesNo,
)
from deskapp.domain.field_spec import Compared, FieldSpec, Span, Units, When
from deskapp.domain.field_words import choice, clock, day, paragraph, quantity, reference, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

TO_OUTSIDE = When("tests.*.setup.metric", ("outside",))

GAUGES: tuple[FieldSpec, ...] = (
    text("gauges.*.description", N_("Gauge"), recalled=True),
    text("gauges.*.serial", N_("Gauge serial number"), needed=True, recalled=True),
    text("gauges.*.certificate", N_("Gauge certificate number")),
    text("gauges.*.laboratory", N_("Gauge calibrated by"), recalled=True),
    day("gauges.*.calibrated_on", N_("Gauge calibrated on"), needed=True),
    day("gauges.*.due_on", N_("Gauge calibration due"), needed=True),
    quantity(
        "gauges.*.accuracy_percent",
        Kind.FRACTION,
        N_("Gauge accuracy, share of reading"),
        N_("From its certificate. The greater of this share and the fixed amount counts."),
        allowed=Span(0, 50, "percent"),
        usual=Span(0.1, 3, "percent"),
        example="1%",
        rare=True,
    ),
    quantity(
        "gauges.*.accuracy_absolute",
        Kind.PRESSURE,
        N_("Gauge accuracy, fixed amount"),
        allowed=Span(0, 100, "Pa"),
        usual=Span(0.05, 2, "Pa"),
        example="0.25 Pa",
        rare=True,
    ),
)

FANS: tuple[FieldSpec, ...] = (
    text("fans.*.description", N_("Fan"), recalled=True),
    text("fans.*.serial", N_("Fan serial number"), needed=True, recalled=True),
    text("fans.*.certificate", N_("Fan certificate number")),
    text("fans.*.laboratory", N_("Fan calibrated by"), recalled=True),
    day("fans.*.calibrated_on", N_("Fan calibrated on"), needed=True),
    day("fans.*.due_on", N_("Fan calibration due"), needed=True),
    quantity(
        "fans.*.calibration_density",
        Kind.DENSITY,
        N_("Air density of the calibration"),
        N_("From the certificate; 1.2041 kg/m³ (20 °C, sea level, dry) where it is silent."),
        allowed=Span(0.5, 2.0, "kg/m3"),
        usual=Span(1.15, 1.25, "kg/m3"),
        example="1.2041 kg/m3",
        rare=True,
    ),
    day("fans.*.field_check_on", N_("Last field check on"), rare=True),
    quantity(
        "fans.*.field_check_error",
        Kind.FRACTION,
        N_("Field check: fan against the true flow"),
        N_("Plus means the fan reads high, minus that it reads low."),
        allowed=Span(-100, 1_000, "percent"),
        usual=Span(-7, 7, "percent"),
        rare=True,
    ),
)

RINGS: tuple[FieldSpec, ...] = (
    quantity(
        "fans.*.rings.*.flow_low",
        Kind.FLOW,
        N_("Lowest flow"),
        N_("A ring is named by its flow range."),
        allowed=Span(0, 100_000, "cfm"),
    ),
    quantity(
        "fans.*.rings.*.flow_high", Kind.FLOW, N_("Highest flow"), allowed=Span(0, 100_000, "cfm")
    ),
    quantity(
        "fans.*.rings.*.coefficient",
        Kind.COEFFICIENT,
        N_("Coefficient"),
        N_("Flow at a fan signal of 1 Pa, from the calibration certificate."),
        allowed=Span(0.000_001, 100_000, "cfm"),
        example="24.0 cfm",
    ),
    quantity(
        "fans.*.rings.*.exponent",
        Kind.NUMBER,
        N_("Exponent"),
        N_("From the calibration certificate, close to 0.5."),
        allowed=Span(0.3, 0.8, "1"),
        usual=Span(0.45, 0.55, "1"),
        example="0.500",
    ),
    quantity(
        "fans.*.rings.*.signal_low",
        Kind.PRESSURE,
        N_("Lowest signal"),
        N_("Below this fan signal the certificate does not hold."),
        allowed=Span(0, 10_000, "Pa"),
    ),
    quantity(
        "fans.*.rings.*.signal_high",
        Kind.PRESSURE,
        N_("Highest signal"),
        allowed=Span(0, 10_000, "Pa"),
    ),
    quantity(
        "fans.*.rings.*.accuracy",
        Kind.FRACTION,
        N_("Accuracy of the flow"),
        N_("Share of the flow it may be off by with this ring, from the certificate."),
        allowed=Span(0, 50, "percent"),
        usual=Span(1, 10, "percent"),
        example="3%",
    ),
)

_COMPARED = {
    **dict.fromkeys(
        (
            "stage",
            "metric",
            "part",
            "direction",
            "reference",
            "target_pressure",
            "fan_attachment",
            "tap_location",
            "flow_basis",
            "supplies_sealed",
            "returns_sealed",
            "filter_removed",
            "fresh_air_sealed",
        ),
        Compared.BREAKS,
    ),
    **dict.fromkeys(("method", "gauge", "fan", "ring", "exponent"), Compared.LESS_IN_COMMON),
}
"""What a retest has to repeat to measure the same thing, and what it had better repeat, so that
errors are shared and cancel. Common practice, no source."""


def _with_comparison(field: FieldSpec) -> FieldSpec:
    name = field.path.removeprefix("tests.*.setup.")
    return replace(field, compared=_COMPARED.get(name))


_TESTS: tuple[FieldSpec, ...] = (
    reference("tests.*.system", "systems", N_("System tested"), needed=True),
    text("tests.*.label", N_("Test name"), N_("Such as First test or Retest."), recalled=True),
    reference(
        "tests.*.retest_of",
        "tests",
        N_("Retest of"),
        N_("The test it repeats after a repair; both are kept and held against each other."),
        rare=True,
    ),
    day("tests.*.tested_on", N_("Test date"), needed=True),
    clock("tests.*.start_time", N_("Start time"), needed=True),
    clock("tests.*.end_time", N_("End time")),
    choice("tests.*.setup.stage", Stage, N_("Stage"), needed=True),
    choice("tests.*.setup.metric", Metric, N_("What was measured"), needed=True),
    choice(
        "tests.*.setup.method",
        Method,
        N_("How it was read"),
        N_("Several pressures give a curve with its own exponent; take five or more."),
    ),
    choice(
        "tests.*.setup.part",
        Part,
        N_("Part tested"),
        N_("Supply and return apart, with the way between them blocked, add up to the whole."),
        rare=True,
    ),
    choice(
        "tests.*.setup.direction",
        Direction,
        N_("Direction"),
        N_(
            "Depressurizing holds register film in place; tracer smoke needs pressure. With both, "
            "the sign of each reading says its direction."
        ),
        needed=True,
    ),
    choice("tests.*.setup.reference", Reference, N_("Duct pressure is against"), needed=True),
    quantity(
        "tests.*.setup.target_pressure",
        Kind.PRESSURE,
        N_("Target pressure"),
        N_("Without a sign; the direction gives the sign."),
        allowed=Span(1, 5_000, "Pa"),
        usual=Span(20, 2_500, "Pa"),
        needed=True,
        example="25 Pa",
    ),
    reference("tests.*.setup.gauge", "gauges", N_("Gauge used")),
    reference("tests.*.setup.fan", "fans", N_("Fan used")),
    reference(
        "tests.*.setup.ring",
        "rings",
        N_("Ring fitted"),
        N_("The ring really fitted; another one makes the flow wrong by a factor."),
        needed=True,
    ),
    text("tests.*.setup.fan_attachment", N_("Fan attached at"), needed=True, recalled=True),
    text("tests.*.setup.tap_location", N_("Pressure tap at"), needed=True, recalled=True),
    quantity(
        "tests.*.setup.averaging_time",
        Kind.TIME,
        N_("Averaging time"),
        allowed=Span(0.1, 3_600, "s"),
        usual=Span(5, 600, "s"),
    ),
    quantity(
        "tests.*.setup.exponent",
        Kind.NUMBER,
        N_("Leakage exponent"),
        N_("Used to convert to the target pressure; 0.60 for ducts if left empty."),
        allowed=Span(0.4, 1.0, "1"),
        usual=Span(0.5, 0.75, "1"),
        example="0.60",
        rare=True,
    ),
    quantity(
        "tests.*.setup.exponent_uncertainty",
        Kind.NUMBER,
        N_("Exponent may be off by"),
        N_("Widens the result where it is converted; 0.05 if left empty."),
        allowed=Span(0, 0.5, "1"),
        usual=Span(0, 0.15, "1"),
        example="0.05",
        rare=True,
    ),
    choice("tests.*.setup.flow_basis", FlowBasis, N_("Air density"), needed=True),
    quantity(
        "tests.*.setup.supplies_sealed",
        Kind.COUNT,
        N_("Supplies sealed"),
        allowed=Span(0, 500, "1"),
    ),
    quantity(
        "tests.*.setup.returns_sealed", Kind.COUNT, N_("Returns sealed"), allowed=Span(0, 100, "1")
    ),
    text("tests.*.setup.house_openings", N_("Doors and windows during the test"), recalled=True),
    choice("tests.*.setup.filter_removed", YesNo, N_("Filter taken out")),
    choice("tests.*.setup.fresh_air_sealed", YesNo, N_("Fresh-air duct sealed")),
)

TESTS: tuple[FieldSpec, ...] = tuple(_with_comparison(field) for field in _TESTS)

AMBIENT: tuple[FieldSpec, ...] = (
    quantity(
        "tests.*.ambient.indoor_temperature",
        Kind.TEMPERATURE,
        N_("Indoor temperature"),
        allowed=Span(-60, 160, "degF"),
        usual=Span(30, 110, "degF"),
    ),
    quantity(
        "tests.*.ambient.outdoor_temperature",
        Kind.TEMPERATURE,
        N_("Outdoor temperature"),
        allowed=Span(-80, 150, "degF"),
        usual=Span(-40, 130, "degF"),
    ),
    quantity(
        "tests.*.ambient.fan_air_temperature",
        Kind.TEMPERATURE,
        N_("Air temperature at the fan"),
        N_("Taken as the indoor temperature if left empty."),
        allowed=Span(-60, 180, "degF"),
    ),
    quantity(
        "tests.*.ambient.barometer",
        Kind.PRESSURE,
        N_("Barometric pressure"),
        N_("At the site, not reduced to sea level. If left empty it is taken from the elevation."),
        units=Units("inHg", "kPa"),
        allowed=Span(30, 120, "kPa"),
        example="29.2 inHg",
    ),
    quantity(
        "tests.*.ambient.humidity",
        Kind.FRACTION,
        N_("Relative humidity"),
        allowed=Span(0, 100, "percent"),
        rare=True,
    ),
    quantity("tests.*.ambient.wind", Kind.SPEED, N_("Wind speed"), allowed=Span(0, 200, "mph")),
    text("tests.*.ambient.weather", N_("Weather"), recalled=True),
)

READINGS: tuple[FieldSpec, ...] = (
    quantity(
        "tests.*.readings.*.duct_pressure",
        Kind.PRESSURE,
        N_("Duct pressure"),
        N_(
            "With its sign, as the gauge shows it: minus when the ducts are depressurized. In a "
            "test of the house itself, the pressure of the house."
        ),
        allowed=Span(-5_000, 5_000, "Pa"),
    ),
    quantity(
        "tests.*.readings.*.fan_signal",
        Kind.PRESSURE,
        N_("Fan signal"),
        N_("Pressure at the fan's flow sensor, without a sign."),
        allowed=Span(0, 10_000, "Pa"),
    ),
    quantity(
        "tests.*.readings.*.indicated_flow",
        Kind.FLOW,
        N_("Flow shown by the gauge"),
        N_("Only where the gauge shows a flow instead of a fan signal."),
        allowed=Span(0, 200_000, "cfm"),
    ),
)

BASELINE_AND_HOUSE: tuple[FieldSpec, ...] = (
    quantity(
        "tests.*.baseline_before",
        Kind.PRESSURE,
        N_("Baseline before"),
        N_("Duct pressure with the fan off and covered, with its sign."),
        allowed=Span(-100, 100, "Pa"),
        usual=Span(-3, 3, "Pa"),
    ),
    quantity(
        "tests.*.baseline_after",
        Kind.PRESSURE,
        N_("Baseline after"),
        allowed=Span(-100, 100, "Pa"),
        usual=Span(-3, 3, "Pa"),
    ),
    quantity(
        "tests.*.house_pressure",
        Kind.PRESSURE,
        N_("House pressure"),
        N_("For leakage to outside: house against outside, with its sign."),
        allowed=Span(-200, 200, "Pa"),
        shown_when=TO_OUTSIDE,
    ),
    quantity(
        "tests.*.house_fan_flow",
        Kind.FLOW,
        N_("House fan flow"),
        allowed=Span(0, 200_000, "cfm"),
        shown_when=TO_OUTSIDE,
    ),
    quantity(
        "tests.*.duct_to_house_pressure",
        Kind.PRESSURE,
        N_("Duct against house"),
        N_("For leakage to outside: close to zero."),
        allowed=Span(-200, 200, "Pa"),
        usual=Span(-0.5, 0.5, "Pa"),
        shown_when=TO_OUTSIDE,
    ),
    *(
        quantity(
            f"tests.*.{side}_alone",
            Kind.FLOW,
            label,
            N_("At the target pressure, if read beside this test; the owner's figures go by it."),
            allowed=Span(0, 200_000, "cfm"),
            rare=True,
        )
        for side, label in (
            ("supply", N_("Leakage of the supply side alone")),
            ("return", N_("Leakage of the return side alone")),
        )
    ),
    text("tests.*.smoke_result", N_("Tracer smoke result")),
    choice("tests.*.witnessed", YesNo, N_("Witnessed by an official")),
    paragraph("tests.*.comments", N_("Comments on the test")),
)
