"""Fields of client, site, house, compliance, duct systems, tester."""

from __future__ import annotations

from deskapp.domain.choices import (
    AreaSource,
    BuildingType,
    CompliancePath,
    DuctLocation,
    FanFlowMethod,
    WorkKind,
    YesNo,
)
from deskapp.domain.field_spec import FieldSpec, Span, Units, When
from deskapp.domain.field_words import choice, day, paragraph, quantity, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

HOUSE_TEST = When("tests.*.setup.metric", ("envelope",))

_PROGRAM = When("compliance.path", ("program",))
"""What certificates for a program ask for besides."""

CLIENT_AND_SITE: tuple[FieldSpec, ...] = (
    text("number", N_("Job number"), N_("Your own number for this job."), needed=True),
    text("title", N_("Job name"), N_("A few words you will find it by.")),
    text("client.name", N_("Owner or customer")),
    text("client.phone", N_("Owner's phone")),
    text("client.email", N_("Owner's e-mail")),
    text("client.utility_account", N_("Utility account"), rare=True, shown_when=_PROGRAM),
    text(
        "site.address",
        N_("Street address"),
        N_("Address or lot: at least one."),
        needed=True,
        recalled=True,
    ),
    text("site.lot", N_("Lot or unit")),
    text("site.city", N_("City"), needed=True, recalled=True),
    text("site.region", N_("State or province"), needed=True, recalled=True),
    text("site.postcode", N_("Postal code"), needed=True, recalled=True),
    text("site.climate_zone", N_("Climate zone"), recalled=True),
    text(
        "site.jurisdiction",
        N_("Enforcement agency"),
        N_("Who enforces the code."),
        needed=True,
        recalled=True,
    ),
    text("site.permit_number", N_("Permit number"), needed=True),
    day("site.permit_date", N_("Permit date"), N_("Decides which edition of a code applies.")),
    text("site.program_id", N_("Program or project ID"), rare=True, shown_when=_PROGRAM),
    text("site.builder", N_("Builder or contractor"), recalled=True),
    text("site.builder_license", N_("Builder's license"), rare=True, recalled=True),
)

COMPLIANCE: tuple[FieldSpec, ...] = (
    choice("compliance.path", CompliancePath, N_("Reason for the test"), needed=True),
    choice("compliance.exemption_claimed", YesNo, N_("Exemption claimed"), needed=True),
    text(
        "compliance.exemption_reason",
        N_("Reason for the exemption"),
        shown_when=When("compliance.exemption_claimed", ("yes",)),
    ),
    text(
        "compliance.calibration_override",
        N_("Reason for reporting with an overdue calibration"),
        N_("Only where a calibration had run out on the test day; it is printed."),
        rare=True,
    ),
)

HOUSE: tuple[FieldSpec, ...] = (
    choice("house.building_type", BuildingType, N_("Building type")),
    quantity(
        "house.floor_area",
        Kind.AREA,
        N_("Conditioned floor area"),
        N_("The whole building. The areas of the systems must add up to it within 5%."),
        allowed=Span(1, 1_000_000, "ft2"),
        usual=Span(200, 20_000, "ft2"),
        needed=True,
        example="2,640 ft2",
    ),
    choice(
        "house.area_source",
        AreaSource,
        N_("Where the areas come from"),
        N_("Limits per floor area rest on it: there an estimate earns a remark in the report."),
        needed=True,
    ),
    quantity(
        "house.area_uncertainty",
        Kind.FRACTION,
        N_("Areas may be off by"),
        N_("If left empty: 1% when measured, 2% from plans, 10% when estimated."),
        allowed=Span(0, 50, "percent"),
        usual=Span(0, 15, "percent"),
        example="2%",
        rare=True,
    ),
    quantity(
        "house.volume",
        Kind.VOLUME,
        N_("Conditioned volume"),
        allowed=Span(1, 100_000_000, "ft3"),
        example="21,000 ft3",
    ),
    quantity(
        "house.air_changes_50",
        Kind.NUMBER,
        N_("Air changes per hour of the house at 50 Pa"),
        N_("From a test of the whole house. Some programs waive a duct test in a tight house."),
        allowed=Span(0, 200, "1"),
        usual=Span(0.2, 30, "1"),
        example="2.4",
        rare=True,
    ),
    quantity("house.stories", Kind.COUNT, N_("Stories"), allowed=Span(1, 100, "1")),
    quantity(
        "house.year_built", Kind.COUNT, N_("Year built"), allowed=Span(1000, 2100, "1"), needed=True
    ),
    quantity(
        "house.elevation",
        Kind.LENGTH,
        N_("Elevation above sea level"),
        N_("Used for the air density where no barometer was read."),
        allowed=Span(-1_500, 20_000, "ft"),
        usual=Span(-300, 12_000, "ft"),
        example="420 ft",
    ),
    text("house.foundation", N_("Foundation"), recalled=True),
    quantity(
        "house.height",
        Kind.LENGTH,
        N_("Height of the part tested"),
        N_("For a test of the house itself; height and cold decide how steady the air stands."),
        allowed=Span(3, 3_000, "ft"),
        usual=Span(7, 100, "ft"),
        example="18 ft",
        shown_when=HOUSE_TEST,
    ),
    quantity(
        "house.envelope_area",
        Kind.AREA,
        N_("Area of the envelope"),
        N_("Walls, roof and floor around the conditioned volume, for a test of the house itself."),
        allowed=Span(1, 1_000_000, "ft2"),
        example="5,400 ft2",
        shown_when=HOUSE_TEST,
    ),
)

SYSTEMS: tuple[FieldSpec, ...] = (
    text("systems.*.name", N_("System name"), N_("Such as System 1."), needed=True),
    text("systems.*.serves", N_("Rooms or floor served"), needed=True, recalled=True),
    quantity(
        "systems.*.area_served",
        Kind.AREA,
        N_("Floor area served"),
        N_("The part of the floor area that this system serves, not the whole house."),
        allowed=Span(1, 1_000_000, "ft2"),
        usual=Span(100, 20_000, "ft2"),
        needed=True,
        example="1,520 ft2",
    ),
    choice("systems.*.work", WorkKind, N_("New or existing")),
    choice(
        "systems.*.air_handler_installed",
        YesNo,
        N_("Air handler in place during the test"),
        N_("Many codes allow less leakage when the air handler is not yet installed."),
        needed=True,
    ),
    choice(
        "systems.*.air_handler_inside", YesNo, N_("Air handler in conditioned space"), needed=True
    ),
    choice(
        "systems.*.all_ducts_inside",
        YesNo,
        N_("All ducts and air handler inside the thermal envelope"),
        N_("Some codes exempt such systems or allow more."),
    ),
    choice("systems.*.duct_location", DuctLocation, N_("Where the ducts run")),
    quantity(
        "systems.*.outside_fraction",
        Kind.FRACTION,
        N_("Share of ducts outside"),
        allowed=Span(0, 100, "percent"),
        rare=True,
    ),
    quantity(
        "systems.*.accessible_fraction",
        Kind.FRACTION,
        N_("Share of ducts within reach"),
        allowed=Span(0, 100, "percent"),
        rare=True,
        shown_when=_PROGRAM,
    ),
    quantity(
        "systems.*.unconditioned_length",
        Kind.LENGTH,
        N_("Duct length outside conditioned space"),
        N_("Some codes ask for no test of short ducts."),
        allowed=Span(0, 100_000, "ft"),
        example="35 ft",
        rare=True,
    ),
    choice(
        "systems.*.ventilation_only",
        YesNo,
        N_("Ventilation only, not joined to heating or cooling ducts"),
        N_("Some codes leave such ducts out."),
        rare=True,
    ),
    text("systems.*.return_location", N_("Where the returns are"), recalled=True),
    quantity("systems.*.supplies", Kind.COUNT, N_("Supply registers"), allowed=Span(0, 500, "1")),
    quantity(
        "systems.*.returns",
        Kind.COUNT,
        N_("Ducted returns"),
        N_("Some codes allow more with three or more."),
        allowed=Span(0, 100, "1"),
    ),
    text("systems.*.equipment", N_("Heating and cooling equipment"), needed=True, recalled=True),
    quantity(
        "systems.*.cooling_capacity",
        Kind.POWER,
        N_("Nominal cooling capacity"),
        N_("In tons, kBtu/h or kW."),
        units=Units("ton", "kW"),
        allowed=Span(0.1, 1_000, "ton"),
        usual=Span(0.5, 10, "ton"),
        example="3 tons",
    ),
    quantity(
        "systems.*.heating_output",
        Kind.POWER,
        N_("Rated heating output"),
        allowed=Span(0.5, 20_000, "kBtu/h"),
        example="80 kBtu/h",
    ),
    quantity(
        "systems.*.fan_flow",
        Kind.FLOW,
        N_("Air handler flow"),
        N_("Nominal or measured; limits in percent of fan flow are taken from it."),
        allowed=Span(1, 200_000, "cfm"),
        usual=Span(100, 6_000, "cfm"),
        example="1,200 cfm",
    ),
    choice("systems.*.fan_flow_method", FanFlowMethod, N_("How the flow was found")),
    quantity(
        "systems.*.fan_flow_uncertainty",
        Kind.FRACTION,
        N_("Air handler flow may be off by"),
        N_("If left empty: 7% when measured, 10% from a design; a nominal flow counts as exact."),
        allowed=Span(0, 50, "percent"),
        usual=Span(0, 20, "percent"),
        example="7%",
        rare=True,
    ),
    quantity(
        "systems.*.duct_surface",
        Kind.AREA,
        N_("Duct surface of the tested section"),
        N_("For limits per duct surface."),
        allowed=Span(0.1, 1_000_000, "ft2"),
        rare=True,
    ),
    choice("systems.*.cloth_tape_found", YesNo, N_("Cloth-backed rubber tape on joints")),
    paragraph("systems.*.visual_notes", N_("Visual inspection: sealing, supports, insulation")),
)

OTHER_AREAS: tuple[FieldSpec, ...] = tuple(
    quantity(
        f"systems.*.{name}",
        Kind.AREA,
        label,
        N_("Shown beside the floor area served, with the verdict it would lead to."),
        allowed=Span(1, 1_000_000, "ft2"),
        usual=Span(100, 20_000, "ft2"),
        example="1,520 ft2",
        rare=True,
    )
    for name, label in (
        ("area_from_plans", N_("Area from the plans")),
        ("area_estimated", N_("Area estimated")),
        ("area_measured", N_("Area measured on site")),
    )
)

TESTER: tuple[FieldSpec, ...] = (
    text("tester.name", N_("Tester"), needed=True, recalled=True),
    text("tester.company", N_("Company"), needed=True, recalled=True),
    text("tester.phone", N_("Phone"), needed=True, recalled=True),
    text("tester.certification", N_("Certification or license number"), needed=True, recalled=True),
    day("tester.certification_expires", N_("Certification valid until")),
    paragraph(
        "tester.statement",
        N_("Statement to sign"),
        N_(
            "Empty, the usual statement is printed in the language of the report. Wording your "
            "authority asks for is copied word for word, and printed as it stands in any language."
        ),
    ),
    text("tester.signed_by", N_("Signed by")),
    day("tester.signed_on", N_("Date of signing")),
    paragraph("comments", N_("Comments")),
)
