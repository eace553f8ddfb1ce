"""Field checks against worked orifice flows. The fan and its checks are invented."""

from __future__ import annotations

from datetime import date

import pytest
from fluids.flow_meter import flow_meter_discharge
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.constants import foot, inch, minute

from deskapp.domain.choices import FlowBasis
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.finding import Level
from deskapp.domain.instrument import Ring
from deskapp.domain.measured import Measured
from deskapp.domain.register import CheckEntries, InstrumentRegister, RegisteredFan
from deskapp.session.instruments.check_fields import CHECK_FIELDS
from deskapp.session.instruments.check_history import outcome_words
from deskapp.session.instruments.check_sheet import CheckSheet
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Preferences()
CFM = foot**3 / minute
GOOD = {
    "check.done_on": "11 Mar 2026",
    "check.tester": "R. Example",
    "check.hole_diameter": "4 in",
    "check.plate_pressure": "25 Pa",
    "check.air_temperature": "20 °C",
    "check.barometer": "101.325 kPa",
    "check.humidity": "0 %",
    "check.fan_signal": "36 Pa",
}
# Air of 1.0 kg/m3: dry, 20 °C, at the pressure of 1.0 x 287.055 x 293.15 Pa.
THIN = {"check.barometer": "84150.17 Pa"}


def sheet_of(register: InstrumentRegister, entries: dict[str, str], ring: str = "r1") -> CheckSheet:
    sheet = CheckSheet(register.fans[0], register.gauges, IP, today=date(2026, 6, 1))
    sheet.choose("check.ring", ring)
    for path, text in entries.items():
        sheet.enter(path, text)
    return sheet


@pytest.fixture
def sheet(register: InstrumentRegister) -> CheckSheet:
    return sheet_of(register, GOOD)


@pytest.mark.parametrize(
    ("hole", "coefficient", "pressure", "air", "cfm"),
    # Orifice equation, ASHRAE Handbook—Fundamentals (from memory, not checked against the text),
    # worked by hand for a round hole at 1.2041 kg/m3 and at 1.0 kg/m3.
    [
        ("1 in", "0.6", "25 Pa", {}, 4.1512),
        ("2 in", "0.6", "25 Pa", {}, 16.6046),
        ("4 in", "0.6", "25 Pa", {}, 66.4184),
        ("101.6 mm", "", "25 Pa", {}, 66.4184),
        ("4 in", "0.611", "25 Pa", {}, 67.6361),
        ("1 in", "0.6", "50 Pa", {}, 5.8706),
        ("2 in", "0.6", "50 Pa", {}, 23.4825),
        ("4 in", "0.6", "50 Pa", {}, 93.9299),
        ("1 in", "0.6", "25 Pa", THIN, 4.5551),
        ("2 in", "0.6", "25 Pa", THIN, 18.2205),
        ("4 in", "0.6", "25 Pa", THIN, 72.8819),
    ],
)
def test_that_the_expected_flow_is_the_one_worked_by_hand(
    register: InstrumentRegister,
    hole: str,
    coefficient: str,
    pressure: str,
    air: dict[str, str],
    cfm: float,
):
    typed = {
        "check.hole_diameter": hole,
        "check.discharge_coefficient": coefficient,
        "check.plate_pressure": pressure,
    }
    outcome = sheet_of(register, GOOD | air | typed).outcome
    assert outcome is not None
    assert outcome.expected / CFM == pytest.approx(cfm, rel=2e-5)


def test_that_a_hole_given_by_area_gives_the_flow_worked_by_hand(register: InstrumentRegister):
    # 1 in2, discharge coefficient 0.6, 25 Pa: 5.2854 cfm by the same equation.
    sheet = sheet_of(register, GOOD | {"check.hole_diameter": "", "check.hole_area": "1 in2"})
    assert sheet.outcome is not None
    assert sheet.outcome.expected / CFM == pytest.approx(5.2854, abs=5e-5)


def test_that_the_expected_flow_agrees_with_the_fluids_library(sheet: CheckSheet):
    sheet.enter("check.air_temperature", "31 °C")
    sheet.enter("check.humidity", "60 %")
    found = sheet.outcome
    assert found is not None
    mass_flow = flow_meter_discharge(
        D=100.0, Do=4.0 * inch, P1=101_350.0, P2=101_325.0, rho=found.density, C=0.6
    )
    assert found.expected == pytest.approx(mass_flow / found.density, rel=1e-6)


def test_that_ring_and_signal_give_the_flow_of_the_fan(sheet: CheckSheet):
    # 11.3 cfm x 36^0.5 = 67.8 cfm; against 66.4184 cfm that is 2.0801 % high.
    found = sheet.outcome
    assert found is not None
    assert found.indicated / CFM == pytest.approx(67.8, rel=1e-4)
    assert found.share_off == pytest.approx(0.020801, abs=2e-5)
    assert found.within
    assert found.tolerance == 0.05


@pytest.mark.parametrize(
    "air", [THIN, {"check.air_temperature": "45 °C"}, {"check.humidity": "90 %"}]
)
def test_that_the_density_cancels_out_between_ring_and_hole(
    register: InstrumentRegister, sheet: CheckSheet, air: dict[str, str]
):
    other = sheet_of(register, GOOD | air).outcome
    assert sheet.outcome is not None
    assert other is not None
    assert other.expected != pytest.approx(sheet.outcome.expected, rel=1e-4)
    assert other.share_off == pytest.approx(sheet.outcome.share_off, abs=1e-12)


def test_that_a_flow_shown_is_corrected_unless_the_gauge_did_so(register: InstrumentRegister):
    # At 1.0 kg/m3 a fan calibrated at 1.2041 kg/m3 passes 67.8 x 1.2041^0.5 = 74.398 cfm.
    shown = GOOD | THIN | {"check.fan_signal": "", "check.indicated_flow": "67.8 cfm"}
    sheet = sheet_of(register, shown)
    found = sheet.outcome
    assert found is not None
    assert found.indicated / CFM == pytest.approx(74.398, rel=1e-4)
    sheet.choose("check.flow_basis", FlowBasis.ACTUAL_AIR)
    found = sheet.outcome
    assert found is not None
    assert found.indicated / CFM == pytest.approx(67.8, rel=1e-9)


@pytest.mark.parametrize(
    ("signal", "tolerance", "within"),
    # Expected 66.418 cfm; 11.3 cfm x signal^0.5 against it.
    [
        ("38.0 Pa", "", True),
        ("38.2 Pa", "", False),
        ("31.3 Pa", "", True),
        ("31.1 Pa", "", False),
        ("38.2 Pa", "7 %", True),
        ("36 Pa", "2 %", False),
    ],
)
def test_that_the_tolerance_decides_on_both_sides(
    register: InstrumentRegister, signal: str, tolerance: str, within: bool
):
    sheet = sheet_of(register, GOOD | {"check.fan_signal": signal, "check.tolerance": tolerance})
    assert sheet.outcome is not None
    assert sheet.outcome.within is within
    words = outcome_words(sheet.outcome.share_off, sheet.outcome.tolerance, IP.formatter)
    assert ("within the tolerance" in words) is within
    assert ("calibrated before" in words) is not within


def test_that_a_difference_close_to_the_tolerance_is_shown_as_it_is():
    assert "5.04%" in outcome_words(0.0504, 0.05, IP.formatter)
    assert "4.96%" in outcome_words(-0.0496, 0.05, IP.formatter)
    assert "as expected" in outcome_words(0.0001, 0.05, IP.formatter)


def test_that_the_arithmetic_is_shown_line_by_line(sheet: CheckSheet):
    assert sheet.outcome is not None
    lines = [
        (step.formula, step.numbers_in(IP.formatter).replace("\N{NO-BREAK SPACE}", " "))
        for step in sheet.outcome.steps
    ]
    assert lines[1] == (
        "Q = C · π/4 · d² · √(2 · p / ρ)",
        "C = 0.6, d = 4 in., p = 25.0 Pa, ρ = 0.07517 lb/ft³",
    )
    assert lines[2] == ("Q₀ = K · s^m", "K = 11.3000 cfm, s = 36.0 Pa, m = 0.5")
    assert [step.label for step in sheet.outcome.steps if step.value is None] == []
    assert all(step.source for step in sheet.outcome.steps[:4])
    assert "0.60 for a free sharp edge" in sheet.outcome.steps[1].source


def test_that_a_complete_check_can_be_recorded_with_all_it_takes(sheet: CheckSheet):
    assert sheet.wanted == ()
    assert sheet.can_record
    check = sheet.record()
    assert sheet.outcome is not None
    assert check.entries == sheet.entries
    assert check.gauge == "Two-channel gauge, GA-01"
    assert check.ring == "40 to 200\N{NO-BREAK SPACE}cfm"
    assert check.ring_used == sheet.ring
    assert (check.expected, check.share_off) == (sheet.outcome.expected, sheet.outcome.share_off)
    assert check.within


@pytest.mark.parametrize(
    "path",
    ["check.done_on", "check.hole_diameter", "check.plate_pressure", "check.fan_signal"],
)
def test_that_what_is_missing_is_named_and_keeps_the_check_from_the_record(
    register: InstrumentRegister, path: str
):
    sheet = sheet_of(register, GOOD | {path: ""})
    [finding] = sheet.wanted
    assert finding.path == path
    assert finding.mend
    assert not sheet.can_record
    assert (sheet.outcome is None) == (path != "check.done_on")
    with pytest.raises(ValueError, match="not complete"):
        sheet.record()


def test_that_an_empty_sheet_says_what_it_needs_and_finds_no_fault(register: InstrumentRegister):
    sheet = CheckSheet(register.fans[0], register.gauges, IP)
    assert [finding.path for finding in sheet.wanted] == [
        "check.done_on",
        "check.hole_diameter",
        "check.plate_pressure",
        "check.fan_signal",
    ]
    assert all(finding.level is Level.NOTE for finding in sheet.findings)
    assert sheet.outcome is None


def test_that_a_signal_without_a_ring_asks_for_the_ring(register: InstrumentRegister):
    sheet = CheckSheet(register.fans[0], register.gauges, IP)
    for path, text in GOOD.items():
        sheet.enter(path, text)
    assert [finding.path for finding in sheet.wanted] == ["check.ring"]
    sheet.enter("check.indicated_flow", "67 cfm")
    assert sheet.wanted == ()
    unused = sheet.finding_at("check.ring")
    assert unused is not None
    assert unused.level is Level.CHECK
    assert sheet.outcome is not None
    assert sheet.outcome.indicated == pytest.approx(67 * CFM, rel=1e-4)


def test_that_the_only_ring_of_a_fan_is_the_one_meant(
    register: InstrumentRegister, fan: RegisteredFan
):
    only = fan.fan.model_copy(update={"rings": fan.fan.rings[:1]})
    sheet = CheckSheet(RegisteredFan(fan=only), register.gauges, IP)
    for path, text in GOOD.items():
        sheet.enter(path, text)
    assert sheet.can_record
    assert sheet.record().ring_used == only.rings[0]


QUANTITIES = [spec for spec in CHECK_FIELDS if spec.form is Form.QUANTITY]
NONSENSE = ["twelve-ish", "-", "NaN", "inf", "1e999", "0x10", "?" * 300, "3,5", "1e308", "-1e9"]


@pytest.mark.parametrize("spec", QUANTITIES, ids=[spec.path for spec in QUANTITIES])
@pytest.mark.parametrize("text", [*NONSENSE, "9 mol"])
def test_that_what_cannot_be_used_is_kept_and_named(sheet: CheckSheet, spec: FieldSpec, text: str):
    path, label = spec.path, spec.label
    sheet.enter(path, text)
    assert sheet.entry_text(path) == text or sheet.value_at(path).si is not None
    found = sheet.finding_at(path)
    assert found is not None
    assert found.level is Level.STOP
    assert label in found.what
    assert found.allowed
    assert found.mend
    assert sheet.outcome is None
    assert not sheet.can_record
    sheet.enter(path, "")
    assert sheet.finding_at(path) is None or sheet.finding_at(path).level is not Level.STOP


@pytest.mark.parametrize(
    ("path", "text"),
    [
        ("check.hole_diameter", "0 in"),
        ("check.hole_diameter", "-4 in"),
        ("check.hole_area", "0 in2"),
        ("check.plate_pressure", "0 Pa"),
        ("check.plate_pressure", "-25 Pa"),
        ("check.discharge_coefficient", "0"),
        ("check.discharge_coefficient", "1.2"),
        ("check.air_temperature", "100 °C"),
        ("check.barometer", "0 kPa"),
        ("check.humidity", "120 %"),
        ("check.fan_signal", "0 Pa"),
        ("check.indicated_flow", "0 cfm"),
        ("check.tolerance", "0 %"),
        ("check.tolerance", "60 %"),
        ("check.done_on", "03.04.26"),
    ],
)
def test_that_zero_sign_and_size_are_asked_about(sheet: CheckSheet, path: str, text: str):
    sheet.enter(path, text)
    found = sheet.finding_at(path)
    assert found is not None
    assert found.level is Level.STOP
    assert not sheet.can_record


@pytest.mark.parametrize("spec", QUANTITIES, ids=[spec.path for spec in QUANTITIES])
def test_that_the_example_of_each_field_is_taken(sheet: CheckSheet, spec: FieldSpec):
    sheet.enter(spec.path, spec.example)
    found = sheet.finding_at(spec.path)
    assert found is None or found.level is not Level.STOP
    assert sheet.shown_text(spec.path)


def test_that_a_hole_given_twice_must_be_one_hole(sheet: CheckSheet):
    sheet.enter("check.hole_area", "12.57 in2")
    assert sheet.can_record
    sheet.enter("check.hole_area", "3.14 in2")
    found = sheet.finding_at("check.hole_area")
    assert found is not None
    assert found.level is Level.STOP
    assert sheet.outcome is None


def test_that_a_signal_outside_the_range_of_its_ring_gives_no_result(sheet: CheckSheet):
    for text in ("11.9 Pa", "311 Pa"):
        sheet.enter("check.fan_signal", text)
        found = sheet.finding_at("check.fan_signal")
        assert found is not None
        assert found.level is Level.STOP
        assert "12.0\N{NO-BREAK SPACE}Pa" in found.allowed
        assert sheet.outcome is None


def test_that_a_ring_and_a_flow_shown_that_differ_are_asked_about(sheet: CheckSheet):
    sheet.enter("check.indicated_flow", "67.9 cfm")
    assert sheet.finding_at("check.indicated_flow") is None
    sheet.enter("check.indicated_flow", "270 cfm")
    found = sheet.finding_at("check.indicated_flow")
    assert found is not None
    assert found.level is Level.CHECK
    assert sheet.outcome is not None
    assert sheet.outcome.indicated / CFM == pytest.approx(67.8, rel=1e-4)


@pytest.mark.parametrize(
    "change",
    [
        {"coefficient": None},
        {"exponent": None},
        {"exponent": Measured(si=5.0, unit="1", typed="5")},
        {"coefficient": Measured(si=-1.0, unit="cfm", typed="-2000")},
        {"coefficient": Measured(si=None, typed="eleven")},
    ],
)
def test_that_a_ring_without_a_usable_law_is_asked_about(
    register: InstrumentRegister, fan: RegisteredFan, change: dict[str, object]
):
    ring = fan.fan.rings[0].model_copy(update=change)
    bare = fan.fan.model_copy(update={"rings": (ring,)})
    sheet = CheckSheet(RegisteredFan(fan=bare), register.gauges, IP)
    for path, text in GOOD.items():
        sheet.enter(path, text)
    found = sheet.finding_at("check.ring")
    assert found is not None
    assert found.level is Level.STOP
    assert sheet.outcome is None


def test_that_air_that_cannot_be_is_asked_about(sheet: CheckSheet):
    sheet.enter("check.air_temperature", "80 °C")
    sheet.enter("check.humidity", "100 %")
    sheet.enter("check.barometer", "30 kPa")
    found = sheet.finding_at("check.humidity")
    assert found is not None
    assert found.level is Level.STOP
    assert sheet.outcome is None


def test_that_what_is_taken_for_the_air_is_said(register: InstrumentRegister):
    bare = GOOD | {"check.air_temperature": "", "check.barometer": ""}
    sheet = sheet_of(register, bare)
    about = {finding.path: finding.level for finding in sheet.findings}
    assert about == {"check.air_temperature": Level.NOTE, "check.barometer": Level.NOTE}
    assert sheet.outcome is not None
    assert sheet.outcome.expected / CFM == pytest.approx(66.4184, rel=2e-5)
    sheet.enter("check.fan_signal", "")
    sheet.enter("check.indicated_flow", "67 cfm")
    sheet.choose("check.flow_basis", "actual_air")
    assert {finding.level for finding in sheet.findings} == {Level.CHECK}


def test_that_a_gauge_overdue_on_the_day_and_a_day_to_come_are_asked_about(sheet: CheckSheet):
    sheet.enter("check.done_on", "2026-08-15")
    assert [finding.code for finding in sheet.findings] == ["check-to-come"]
    sheet.enter("check.done_on", "2026-08-16")
    assert {finding.code for finding in sheet.findings} == {"check-to-come", "gauge-overdue"}
    sheet.enter("check.done_on", "2026-06-01")
    assert sheet.findings == ()


def test_that_retired_gauges_are_not_offered(register: InstrumentRegister):
    gone = register.gauges[0].model_copy(update={"retired": True})
    assert CheckSheet(register.fans[0], [gone], IP).options_at("check.gauge") == ()
    sheet = CheckSheet(register.fans[0], register.gauges, IP)
    [option] = sheet.options_at("check.gauge")
    sheet.choose("check.gauge", option.value)
    assert sheet.shown_text("check.gauge") == "Two-channel gauge, GA-01"
    sheet.choose("check.gauge", None)
    assert sheet.shown_text("check.gauge") == ""


def test_that_only_offered_answers_can_be_chosen(sheet: CheckSheet):
    assert [option.value for option in sheet.options_at("check.ring")] == ["r1", "r2"]
    with pytest.raises(ValueError, match="is no answer"):
        sheet.choose("check.ring", "r9")
    with pytest.raises(ValueError, match="is no answer"):
        sheet.choose("check.flow_basis", "perhaps")
    with pytest.raises(ValueError, match="typed, not chosen"):
        sheet.choose("check.tolerance", None)
    with pytest.raises(ValueError, match="chosen from a list"):
        sheet.enter("check.ring", "r1")
    with pytest.raises(KeyError):
        sheet.enter("check.nowhere", "1")


def test_that_texts_follow_the_preferences(sheet: CheckSheet):
    before = sheet.entries
    sheet.prefer(Preferences(unit_system=UnitSystem.SI, number_style=NumberStyle.COMMA))
    assert sheet.shown_text("check.hole_diameter") == "101,6\N{NO-BREAK SPACE}mm"
    assert sheet.entries == before
    sheet.enter("check.hole_diameter", "101,6")
    assert sheet.outcome is not None
    assert sheet.outcome.expected / CFM == pytest.approx(66.4184, rel=2e-5)


def test_that_a_check_can_begin_with_the_entries_of_an_earlier_one(
    register: InstrumentRegister, sheet: CheckSheet
):
    again = CheckSheet(register.fans[0], register.gauges, IP, entries=sheet.entries)
    assert again.outcome == sheet.outcome
    assert again.entry_text("check.plate_pressure") == "25 Pa"


TYPED = [spec.path for spec in CHECK_FIELDS if spec.form not in (Form.CHOICE, Form.REFERENCE)]
ANY = st.one_of(st.text(max_size=12), st.text("0123456789.,-e PainHg%°CFcm", max_size=8))


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from(TYPED), ANY), st.sampled_from(["r1", "r2", None]))
def test_that_nothing_typed_makes_it_raise(
    register: InstrumentRegister, typed: dict[str, str], ring: str | None
):
    sheet = CheckSheet(register.fans[0], register.gauges, IP, entries=CheckEntries())
    sheet.choose("check.ring", ring)
    for path, text in (GOOD | typed).items():
        sheet.enter(path, text)
    assert sheet.findings is not None
    if sheet.can_record:
        assert sheet.outcome is not None
        check = sheet.record()
        assert type(check).model_validate_json(check.model_dump_json()) == check


def test_that_a_ring_without_a_flow_range_is_named_by_its_place(register: InstrumentRegister):
    fan = register.fans[0].fan.model_copy(update={"rings": (Ring(key="r1"), Ring(key="r2"))})
    sheet = CheckSheet(RegisteredFan(fan=fan), register.gauges, IP)
    assert [option.label for option in sheet.options_at("check.ring")] == ["Ring 1", "Ring 2"]
