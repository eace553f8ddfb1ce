"""An invented fan with two rings and an invented gauge, as a register holds them."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date

import pytest
from scipy.constants import foot, minute

from deskapp.domain.instrument import Fan, Gauge, Ring
from deskapp.domain.measured import Day, Measured
from deskapp.domain.register import InstrumentRegister, RegisteredFan, RegisteredGauge
from deskapp.session.instruments.check_sheet import CheckSheet
from deskapp.session.settings import Preferences

CFM = foot**3 / minute


def flow(cfm: float) -> Measured:
    return Measured(si=cfm * CFM, unit="cfm", typed=f"{cfm:g} cfm")


def pressure(pascal: float) -> Measured:
    return Measured(si=pascal, unit="Pa", typed=f"{pascal:g} Pa")


def number(value: float) -> Measured:
    return Measured(si=value, unit="1", typed=f"{value:g}")


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


@pytest.fixture
def fan() -> RegisteredFan:
    small = Ring(
        key="r1",
        flow_low=flow(40),
        flow_high=flow(200),
        coefficient=flow(11.3),
        exponent=number(0.5),
        signal_low=pressure(12),
        signal_high=pressure(310),
    )
    large = small.model_copy(
        update={
            "key": "r2",
            "flow_low": flow(150),
            "flow_high": flow(800),
            "coefficient": flow(45),
        }
    )
    return RegisteredFan(
        fan=Fan(
            key="f1",
            description="Duct fan",
            serial="FA-01",
            due_on=day("2026-11-30"),
            calibration_density=Measured(si=1.2041, unit="kg/m3", typed="1.2041 kg/m3"),
            rings=(small, large),
        )
    )


@pytest.fixture
def gauge() -> RegisteredGauge:
    return RegisteredGauge(
        gauge=Gauge(
            key="g1", description="Two-channel gauge", serial="GA-01", due_on=day("2026-08-15")
        )
    )


@pytest.fixture
def register(gauge: RegisteredGauge, fan: RegisteredFan) -> InstrumentRegister:
    return InstrumentRegister(gauges=(gauge,), fans=(fan,))


@pytest.fixture
def good_check() -> dict[str, str]:
    """A field check with a 4-inch hole at 25 Pa in air of 1.2041 kg/m3."""
    return {
        "check.done_on": "11 Mar 2026",
        "check.tester": "R. Example",
        "check.hole_diameter": "4 in",
        "check.plate_pressure": "25 Pa",
        "check.air_temperature": "20 °C",
        "check.barometer": "101.325 kPa",
        "check.humidity": "0 %",
        "check.fan_signal": "36 Pa",
    }


@pytest.fixture
def sheet_of(register: InstrumentRegister, good_check: dict[str, str]) -> Callable[..., CheckSheet]:
    """What fills in a sheet with the good check and some changes to it."""

    def fill(
        changes: dict[str, str] | None = None,
        ring: str | None = "r1",
        fan: RegisteredFan = register.fans[0],
    ) -> CheckSheet:
        sheet = CheckSheet(fan, register.gauges, Preferences(), today=date(2026, 6, 1))
        sheet.choose("check.ring", ring)
        for path, text in (good_check | (changes or {})).items():
            sheet.enter(path, text)
        return sheet

    return fill


@pytest.fixture
def sheet(sheet_of: Callable[..., CheckSheet]) -> CheckSheet:
    return sheet_of()
