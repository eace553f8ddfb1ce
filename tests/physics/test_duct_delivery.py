"""One whole duct system against the worked case, and heating and cooling of invented houses."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import Btu, degree_Fahrenheit, foot, hour, minute, pound, zero_Celsius

from deskapp.physics.duct_delivery import DeliverySystem, Side, cooling_delivery, heating_delivery
from deskapp.physics.guards import OutOfRangeError

CFM = foot**3 / minute
SQUARE_FOOT = foot**2
R_VALUE = foot**2 * degree_Fahrenheit * hour / Btu


def kelvin(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) * degree_Fahrenheit + zero_Celsius


def worked_system(supply_leak: float, return_leak: float, regain: float) -> DeliverySystem:
    cold = kelvin(32.0)
    return DeliverySystem(
        supply=Side(540.0 * SQUARE_FOOT, 6.0 * R_VALUE, supply_leak * CFM, cold, regain),
        returns=Side(100.0 * SQUARE_FOOT, 6.0 * R_VALUE, return_leak * CFM, cold, regain),
        room_k=kelvin(70.0),
        fan_flow=1000.0 * CFM,
        density=0.075 * pound / foot**3,
        specific_heat=0.24 * Btu / (pound * degree_Fahrenheit),
    )


@pytest.mark.parametrize(
    ("supply_leak", "return_leak", "effectiveness", "with_regain"),
    # ASHRAE Standard 152, equations 6-23 and 6-40 (read in a secondary source, not checked against
    # the text), worked outside in inch-pound units.
    [
        (0.0, 0.0, 0.823554, 0.841199),
        (50.0, 50.0, 0.738225, 0.759351),
        (100.0, 100.0, 0.657543, 0.681686),
        (150.0, 50.0, 0.660517, 0.689414),
    ],
)
def test_that_the_worked_case_comes_out_in_si_units(
    supply_leak: float, return_leak: float, effectiveness: float, with_regain: float
) -> None:
    found = heating_delivery(worked_system(supply_leak, return_leak, 0.1), 40_000.0 * Btu / hour)
    assert found.without_regain == pytest.approx(effectiveness, abs=5.1e-7)
    assert found.effectiveness == pytest.approx(with_regain, abs=5.1e-7)
    assert found.supply_conduction == pytest.approx(0.9200444, abs=5.1e-8)
    assert found.return_conduction == pytest.approx(0.9846864, abs=5.1e-8)
    assert found.rise / degree_Fahrenheit == pytest.approx(37.03704, abs=5.1e-6)
    assert found.supply_carried == pytest.approx(1.0 - supply_leak / 1000.0)
    assert found.return_carried == pytest.approx(1.0 - return_leak / 1000.0)


def summer(supply_leak: float = 0.0, return_leak: float = 0.0) -> DeliverySystem:
    """Invented house: ducts in an attic at 45 °C, room at 24 °C."""
    return DeliverySystem(
        supply=Side(40.0, 1.0, supply_leak, 318.15),
        returns=Side(10.0, 1.0, return_leak, 318.15),
        room_k=297.15,
        fan_flow=0.5,
    )


def test_that_cooling_in_a_dry_house_is_heating_with_the_sign_turned() -> None:
    # All sensible, and the attic as dry as the room: the same balance with colder and warmer
    # exchanged.
    system = summer(0.03, 0.04)
    mirrored = replace(
        system,
        supply=replace(system.supply, space_k=276.15),
        returns=replace(system.returns, space_k=276.15),
    )
    cooled = cooling_delivery(system, 9000.0, 1.0, system.specific_heat * 21.0)
    heated = heating_delivery(mirrored, 9000.0)
    assert cooled.effectiveness == pytest.approx(heated.effectiveness, rel=1e-12)
    assert cooled.rise == pytest.approx(-heated.rise)


@given(st.floats(0.0, 0.1), st.floats(0.0, 0.1), st.floats(0.001, 0.1))
def test_that_more_leakage_delivers_less(supply: float, returns: float, more: float) -> None:
    enthalpy = summer().specific_heat * 21.0 + 5000.0
    once = cooling_delivery(summer(supply, returns), 9000.0, 0.75, enthalpy)
    for worse in (summer(supply + more, returns), summer(supply, returns + more)):
        found = cooling_delivery(worse, 9000.0, 0.75, enthalpy)
        assert found.effectiveness < once.effectiveness


def test_that_nothing_is_regained_unless_it_is_said() -> None:
    found = heating_delivery(summer(0.03, 0.04), 9000.0)
    assert found.effectiveness == found.without_regain


def test_that_tight_ducts_without_surface_deliver_everything() -> None:
    bare = Side(0.0, 1.0, 0.0, 318.15)
    system = replace(summer(), supply=bare, returns=bare)
    assert cooling_delivery(system, 9000.0, 0.75, 30_000.0).effectiveness == pytest.approx(1.0)
    assert heating_delivery(system, 9000.0).effectiveness == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("change", "named"),
    [
        ({"room_k": 21.0}, "room_k"),
        ({"fan_flow": 0.0}, "fan_flow"),
        ({"supply": Side(40.0, 1.0, 0.6, 318.15)}, "leak_flow"),
        ({"returns": Side(40.0, 0.0, 0.0, 318.15)}, "resistance"),
        ({"returns": Side(40.0, 1.0, 0.0, 45.0)}, "space_k"),
        ({"supply": Side(40.0, 1.0, 0.0, 318.15, 1.5)}, "supply_regain"),
    ],
)
def test_that_a_value_out_of_range_is_named(change: dict[str, object], named: str) -> None:
    system = replace(summer(), **change)
    with pytest.raises(OutOfRangeError, match=named):
        heating_delivery(system, 9000.0)
    with pytest.raises(OutOfRangeError, match=named):
        cooling_delivery(system, 9000.0, 0.75, 20_000.0)


@pytest.mark.parametrize("share", [0.0, 1.01, float("nan")])
def test_that_a_sensible_share_out_of_range_is_named(share: float) -> None:
    with pytest.raises(OutOfRangeError, match="sensible_share"):
        cooling_delivery(summer(), 9000.0, share, 20_000.0)
