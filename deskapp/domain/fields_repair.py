"""Fields of leaks and of their repair."""

from __future__ import annotations

from deskapp.domain.choices import DuctSide, FoundBy, LeakSize, LeakSpace, Severity, YesNo
from deskapp.domain.field_spec import FieldSpec, Span, When
from deskapp.domain.field_words import choice, clock, day, quantity, reference, text
from deskapp.i18n import N_
from deskapp.units.kinds import Kind

_REPAIRED = When("leaks.*.repaired", (YesNo.YES.value,))

LEAKS: tuple[FieldSpec, ...] = (
    reference("leaks.*.system", "systems", N_("System")),
    reference("leaks.*.location", "leak_locations", N_("Kind of place")),
    text("leaks.*.place", N_("Where exactly")),
    choice("leaks.*.side", DuctSide, N_("Side")),
    choice(
        "leaks.*.space",
        LeakSpace,
        N_("What surrounds it"),
        N_("If left empty, where the ducts of the system run decides."),
    ),
    choice("leaks.*.accessible", YesNo, N_("Within reach")),
    choice("leaks.*.found_by", FoundBy, N_("Found")),
    choice("leaks.*.size", LeakSize, N_("Size"), N_("A guess by eye or hand, not a measurement.")),
    choice(
        "leaks.*.severity",
        Severity,
        N_("Severity, if not as worked out"),
        N_("Left empty it follows from the kind of place, its side and what surrounds it."),
        rare=True,
    ),
    text(
        "leaks.*.severity_reason",
        N_("Reason for that severity"),
        shown_when=When("leaks.*.severity"),
    ),
    choice("leaks.*.repaired", YesNo, N_("Repaired")),
    day("leaks.*.repaired_on", N_("Repaired on"), shown_when=_REPAIRED),
    reference(
        "leaks.*.reread",
        "rereadings",
        N_("Read again after it"),
        N_("The first quick reading after the repair; its gain is put down to this leak."),
        shown_when=When("rereadings"),
    ),
    reference("leaks.*.material", "materials", N_("Sealed with"), shown_when=_REPAIRED),
    reference("leaks.*.other_material", "materials", N_("And with"), shown_when=_REPAIRED),
    text("leaks.*.repair", N_("Repair in words, or why it was left")),
)

REREADINGS: tuple[FieldSpec, ...] = (
    reference("rereadings.*.test", "tests", N_("Follows test")),
    day("rereadings.*.read_on", N_("Date")),
    clock("rereadings.*.read_time", N_("Time")),
    reference("rereadings.*.ring", "rings", N_("Ring fitted")),
    quantity(
        "rereadings.*.duct_pressure",
        Kind.PRESSURE,
        N_("Duct pressure"),
        N_("With its sign, set up as in the test it follows."),
        allowed=Span(-5_000, 5_000, "Pa"),
    ),
    quantity(
        "rereadings.*.fan_signal",
        Kind.PRESSURE,
        N_("Fan signal"),
        allowed=Span(0, 10_000, "Pa"),
    ),
    quantity(
        "rereadings.*.indicated_flow",
        Kind.FLOW,
        N_("Flow shown by the gauge"),
        allowed=Span(0, 200_000, "cfm"),
    ),
)
