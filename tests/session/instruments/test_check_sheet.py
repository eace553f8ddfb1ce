"""Field checks against worked orifice flows. The fan and its checks are invented."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from fluids.flow_meter import flow_meter_discharge
from scipy.constants import foot, inch, minute

from deskapp.domain.choices import FlowBasis
from deskapp.domain.finding import Level
from deskapp.domain.instrument import Ring
from deskapp.domain.register import InstrumentRegister, RegisteredFan
from deskapp.session.instruments.check_history import check_outcome_words
from deskapp.session.instruments.check_sheet import CheckSheet
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Preferences()
CFM = foot**3 / minute
# Air of 1.0 kg/m3: dry, 20 °C, at the pressure of 1.0 x 287.055 x 293.15 Pa.
THIN = {"check.barometer": "84150.17 Pa"}
SheetOf = Callable[..., CheckSheet]


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
    sheet_of: SheetOf,
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
    outcome = sheet_of(air | typed).outcome
    assert outcome is not None
    assert outcome.expected / CFM == pytest.approx(cfm, rel=2e-5)


def test_that_a_hole_given_by_area_gives_the_flow_worked_by_hand(sheet_of: SheetOf):
    # 1 in2, discharge coefficient 0.6, 25 Pa: 5.2854 cfm by the same equation.
    sheet = sheet_of({"check.hole_diameter": "", "check.hole_area": "1 in2"})
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
    sheet_of: SheetOf, sheet: CheckSheet, air: dict[str, str]
):
    other = sheet_of(air).outcome
    assert sheet.outcome is not None
    assert other is not None
    assert other.expected != pytest.approx(sheet.outcome.expected, rel=1e-4)
    assert other.share_off == pytest.approx(sheet.outcome.share_off, abs=1e-12)


def test_that_a_flow_shown_is_corrected_unless_the_gauge_did_so(sheet_of: SheetOf):
    # At 1.0 kg/m3 a fan calibrated at 1.2041 kg/m3 passes 67.8 x 1.2041^0.5 = 74.398 cfm.
    sheet = sheet_of(THIN | {"check.fan_signal": "", "check.indicated_flow": "67.8 cfm"})
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
    sheet_of: SheetOf, signal: str, tolerance: str, within: bool
):
    sheet = sheet_of({"check.fan_signal": signal, "check.tolerance": tolerance})
    assert sheet.outcome is not None
    assert sheet.outcome.within is within
    words = check_outcome_words(sheet.outcome.share_off, sheet.outcome.tolerance, IP.formatter)
    assert ("within the tolerance" in words) is within
    assert ("calibrated before" in words) is not within


def test_that_a_difference_close_to_the_tolerance_is_shown_as_it_is():
    assert "5.04%" in check_outcome_words(0.0504, 0.05, IP.formatter)
    assert "4.96%" in check_outcome_words(-0.0496, 0.05, IP.formatter)
    assert "as expected" in check_outcome_words(0.0001, 0.05, IP.formatter)


def test_that_the_arithmetic_is_shown_line_by_line(sheet: CheckSheet):
    assert sheet.outcome is not None
    lines = [
        (step.formula, step.numbers_in(IP.formatter).replace("\N{NO-BREAK SPACE}", " "))
        for step in sheet.outcome.steps
    ]
    assert lines[1] == (
        "Q = C · π/4 · d² · √(2 · p / ρ)",
        "C = 0.6, d = 4 in., p = 25.0 Pa, ρ = 0.0751693 lb/ft³",
    )
    assert lines[2] == ("Q₀ = K · s^m", "K = 11.3 cfm, s = 36.0 Pa, m = 0.5")
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
    sheet_of: SheetOf, path: str
):
    sheet = sheet_of({path: ""})
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


def test_that_a_signal_without_a_ring_asks_for_the_ring(sheet_of: SheetOf):
    sheet = sheet_of(ring=None)
    assert [finding.path for finding in sheet.wanted] == ["check.ring"]
    sheet.enter("check.indicated_flow", "67 cfm")
    assert sheet.wanted == ()
    unused = sheet.finding_at("check.ring")
    assert unused is not None
    assert unused.level is Level.CHECK
    assert sheet.outcome is not None
    assert sheet.outcome.indicated == pytest.approx(67 * CFM, rel=1e-4)


def test_that_the_only_ring_of_a_fan_is_the_one_meant(sheet_of: SheetOf, fan: RegisteredFan):
    only = fan.fan.model_copy(update={"rings": fan.fan.rings[:1]})
    sheet = sheet_of(ring=None, fan=RegisteredFan(fan=only))
    assert sheet.can_record
    assert sheet.record().ring_used == only.rings[0]


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
        sheet.enter("check.ring", "r2")
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


def test_that_a_ring_without_a_flow_range_is_named_by_its_place(register: InstrumentRegister):
    fan = register.fans[0].fan.model_copy(update={"rings": (Ring(key="r1"), Ring(key="r2"))})
    sheet = CheckSheet(RegisteredFan(fan=fan), register.gauges, IP)
    assert [option.label for option in sheet.options_at("check.ring")] == ["Ring 1", "Ring 2"]


def test_that_nothing_is_said_of_the_air_before_anything_is_read(sheet_of: SheetOf):
    def told(typed: dict[str, str]) -> set[str]:
        return {one.path for one in sheet_of(typed).findings if one.code == "air-taken"}

    air = {"check.air_temperature": "", "check.barometer": ""}
    unread = dict.fromkeys(("check.plate_pressure", "check.fan_signal", "check.indicated_flow"), "")
    assert told(air) == set(air)
    assert told(air | unread) == set()
