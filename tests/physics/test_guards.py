"""What lies outside a formula's range is refused by name, never turned into a strange number."""

from __future__ import annotations

from math import inf, nan
from typing import TYPE_CHECKING, Any

import pytest

from deskapp.physics import air, flow_device, leakage, statistics, target
from deskapp.physics.guards import OutOfRangeError

if TYPE_CHECKING:
    from collections.abc import Callable

    Arguments = Callable[[Callable[..., Any]], dict[str, Any]]

MAY_BE_NEGATIVE = {
    "after",
    "baseline_pa",
    "before",
    "effectiveness",
    "elevation_m",
    "plenum_difference",
    "reading_pa",
    "return_difference",
    "return_enthalpy",
    "rise",
    "supply_difference",
    "t",
    "values",
}


@pytest.mark.parametrize("bad", [nan, inf, -inf, 1e300])
def test_that_no_argument_may_be_without_a_size(
    formula: Callable[..., Any], typical: Arguments, bad: float
) -> None:
    for name, value in typical(formula).items():
        spoiled = (*value[:-1], bad) if isinstance(value, tuple) else bad
        with pytest.raises(ValueError, match=name):
            formula(**{**typical(formula), name: spoiled})


def test_that_a_size_may_not_be_negative(formula: Callable[..., Any], typical: Arguments) -> None:
    arguments = typical(formula)
    for name in arguments.keys() - MAY_BE_NEGATIVE:
        other_sign = "induced_pa" if name == "target_pa" else name
        value = arguments[name]
        turned = (*value[:-1], -value[-1]) if isinstance(value, tuple) else -value
        with pytest.raises(ValueError, match=other_sign):
            formula(**{**arguments, name: turned})


def test_that_the_message_names_argument_value_and_allowed_range() -> None:
    with pytest.raises(OutOfRangeError) as caught:
        air.standard_pressure(20_000.0)
    assert str(caught.value) == "elevation_m is 20000.0; allowed: -500 to 10000"
    assert caught.value.argument == "elevation_m"
    assert caught.value.value == 20_000.0
    assert caught.value.allowed == "-500 to 10000"


@pytest.mark.parametrize(
    ("call", "argument"),
    [
        (lambda: leakage.flow_per_area(0.02, 0.0), "area"),
        (lambda: leakage.fraction_of_fan_flow(0.02, 0.0), "fan_flow"),
        (lambda: target.target_factor(25.0, 0.0, 0.6), "induced_pa"),
        (lambda: target.target_factor(25.0, -24.0, 0.6), "induced_pa"),
        (lambda: target.target_factor(25.0, 24.0, 1.2), "exponent"),
        (lambda: flow_device.ring_flow(0.0, 0.5, 30.0), "coefficient"),
        (lambda: flow_device.ring_flow_range(0.004, 0.5, 250.0, 25.0), "highest_signal_pa"),
        (lambda: flow_device.orifice_flow(0.001, 1.1, 25.0, 1.2), "discharge_coefficient"),
        (lambda: air.moist_air_density(293.15, 101_325.0, 50.0), "relative_humidity"),
        (lambda: air.moist_air_density(20.0, 101_325.0, 0.5), "temperature_k"),
        (lambda: air.moist_air_density(353.15, 1000.0, 1.0), "vapor_pressure_pa"),
        (lambda: statistics.mean([]), "number of values"),
        (lambda: statistics.spread([25.0]), "number of values"),
        (lambda: statistics.spread([-1.0, 1.0]), "mean of values"),
        (lambda: statistics.sample_standard_deviation([25.0]), "number of values"),
    ],
)
def test_that_a_value_the_formula_cannot_take_is_named(
    call: Callable[[], float], argument: str
) -> None:
    with pytest.raises(ValueError, match=argument):
        call()


def test_that_nothing_measured_is_still_a_measurement() -> None:
    assert flow_device.ring_flow(0.0045, 0.5, 0.0) == 0.0
    assert target.flow_at_target(0.0, 25.0, 24.0, 0.6) == 0.0
    assert leakage.flow_per_area(0.0, 140.0) == 0.0
    assert leakage.round_hole_diameter(0.0) == 0.0
