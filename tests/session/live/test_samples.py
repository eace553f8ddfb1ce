from __future__ import annotations

import pytest

from deskapp.session.live.samples import LARGEST, LATEST_S, Sample

FIELDS = ("seconds", "duct_pressure", "fan_signal", "flow", "house_pressure")


@pytest.mark.parametrize("name", FIELDS)
@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf"), LATEST_S * 1.01])
def test_that_a_sample_never_holds_what_no_gauge_shows(name, value):
    values = dict.fromkeys(FIELDS, 1.0) | {name: value}
    with pytest.raises(ValueError, match=name):
        Sample(**values)


def test_that_a_sample_needs_a_time_and_a_duct_pressure_only():
    sample = Sample(0.0, -25.0)
    assert (sample.fan_signal, sample.flow, sample.house_pressure) == (None, None, None)


def test_that_seconds_since_1970_are_a_time_and_such_a_pressure_is_none():
    assert Sample(1.7e9, -25.0).seconds == 1.7e9
    with pytest.raises(ValueError, match="duct_pressure"):
        Sample(1.7e9, LARGEST * 1.01)
