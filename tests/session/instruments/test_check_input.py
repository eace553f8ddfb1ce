"""What cannot be used in a field check: named, asked about, and never a crash. All is invented."""

from __future__ import annotations

from collections.abc import Callable

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from scipy.constants import foot, minute

from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.finding import Level
from deskapp.domain.measured import Measured
from deskapp.domain.register import RegisteredFan
from deskapp.session.instruments.check_fields import CHECK_FIELDS
from deskapp.session.instruments.check_sheet import CheckSheet

CFM = foot**3 / minute
SheetOf = Callable[..., CheckSheet]
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
    sheet_of: SheetOf, fan: RegisteredFan, change: dict[str, object]
):
    ring = fan.fan.rings[0].model_copy(update=change)
    bare = fan.fan.model_copy(update={"rings": (ring,)})
    sheet = sheet_of(fan=RegisteredFan(fan=bare))
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


def test_that_what_is_taken_for_the_air_is_said(sheet_of: SheetOf):
    sheet = sheet_of({"check.air_temperature": "", "check.barometer": ""})
    about = {finding.path: finding.level for finding in sheet.findings}
    assert about == {"check.air_temperature": Level.NOTE, "check.barometer": Level.NOTE}
    assert sheet.outcome is not None
    assert sheet.outcome.expected / CFM == pytest.approx(66.4184, rel=2e-5)
    sheet.enter("check.fan_signal", "")
    sheet.enter("check.indicated_flow", "67 cfm")
    sheet.choose("check.flow_basis", "actual_air")
    assert {finding.level for finding in sheet.findings} == {Level.CHECK}


TYPED = [spec.path for spec in CHECK_FIELDS if spec.form not in (Form.CHOICE, Form.REFERENCE)]
ANY = st.one_of(st.text(max_size=12), st.text("0123456789.,-e PainHg%°CFcm", max_size=8))


@settings(deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.dictionaries(st.sampled_from(TYPED), ANY), st.sampled_from(["r1", "r2", None]))
def test_that_nothing_typed_makes_it_raise(
    sheet_of: SheetOf, typed: dict[str, str], ring: str | None
):
    sheet = sheet_of(typed, ring)
    assert sheet.findings is not None
    if sheet.can_record:
        assert sheet.outcome is not None
        check = sheet.record()
        assert type(check).model_validate_json(check.model_dump_json()) == check
