"""Field checks over the years, the line against scipy. The checks are invented."""

from __future__ import annotations

from datetime import date, timedelta

import pytest
from scipy import stats

from deskapp.domain.measured import Day
from deskapp.domain.register import CheckEntries, FieldCheck, RegisteredFan
from deskapp.session.instruments.check_history import history_of, with_check
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Preferences()
SI = Preferences(unit_system=UnitSystem.SI, number_style=NumberStyle.COMMA)
START = date(2021, 3, 1)
DRIFTING = [(0, 0.004), (360, -0.003), (740, 0.012), (1100, 0.021), (1460, 0.026)]
SCATTERED = [(0, 0.012), (360, -0.015), (740, 0.01), (1100, -0.012), (1460, 0.008)]


def check(days: int | None, share: float, ring: str = "") -> FieldCheck:
    day = None if days is None else Day(value=START + timedelta(days=days), typed=str(days))
    return FieldCheck(
        entries=CheckEntries(done_on=day),
        ring=ring,
        density=1.2,
        expected=0.03,
        indicated=0.03 * (1 + share),
        share_off=share,
        tolerance=0.05,
        within=abs(share) <= 0.05,
    )


def checked(fan: RegisteredFan, checks: list[tuple[int, float]]) -> RegisteredFan:
    for days, share in checks:
        fan = with_check(fan, check(days, share), IP)
    return fan


def test_that_the_line_is_that_of_scipy(fan: RegisteredFan):
    line = history_of(checked(fan, DRIFTING), IP.formatter).line
    # A mean year of the Gregorian calendar has 365.2425 days.
    years = [days / 365.2425 for days, _share in DRIFTING]
    wanted = stats.linregress(years, [share for _days, share in DRIFTING])
    half = stats.t.ppf(0.975, len(DRIFTING) - 2) * wanted.stderr
    assert line is not None
    assert line.per_year == pytest.approx(wanted.slope, rel=1e-9)
    assert line.start == (START, pytest.approx(wanted.intercept, abs=1e-12))
    end = wanted.intercept + wanted.slope * years[-1]
    assert line.end == (START + timedelta(days=1460), pytest.approx(end, abs=1e-12))
    assert line.lowest == pytest.approx(wanted.slope - half, rel=1e-6)
    assert line.highest == pytest.approx(wanted.slope + half, rel=1e-6)
    assert line.beyond_scatter is bool(wanted.pvalue < 0.05)


def test_that_a_drift_beyond_scatter_is_told_from_one_within(fan: RegisteredFan):
    drifting = history_of(checked(fan, DRIFTING), IP.formatter)
    scattered = history_of(checked(fan, SCATTERED), IP.formatter)
    assert drifting.line is not None
    assert drifting.line.beyond_scatter is True
    assert "more than the scatter" in drifting.words
    assert "+0.68% a year" in drifting.words
    assert "5 field checks from Mar\N{NO-BREAK SPACE}1, 2021" in drifting.words
    assert scattered.line is not None
    assert scattered.line.beyond_scatter is False
    assert "no drift is shown" in scattered.words


@pytest.mark.parametrize("share", [0.0, 0.0123, -0.031])
def test_that_checks_all_alike_show_no_drift(fan: RegisteredFan, share: float):
    alike = checked(fan, [(days, share) for days, _other in DRIFTING])
    found = history_of(alike, IP.formatter)
    assert found.line is not None
    assert found.line.beyond_scatter is False
    assert "by 0.00% a year" in found.words


def test_that_points_come_by_day_whatever_the_order_of_recording(fan: RegisteredFan):
    mixed = checked(fan, [DRIFTING[2], DRIFTING[0], DRIFTING[1]])
    points = history_of(mixed, IP.formatter).points
    assert [point.position for point in points] == [1, 2, 0]
    assert [point.share_off for point in points] == [0.004, -0.003, 0.012]


@pytest.mark.parametrize(
    ("checks", "words"),
    [
        ([], "No field check is taken down here yet; a drift shows from two on."),
        ([(0, 0.01)], "One field check"),
        ([(0, 0.01), (0, 0.02)], "one day"),
        ([(0, 0.01), (800, 0.02)], "Two checks cannot tell"),
        ([(0, 0.01), (100, 0.02)], "less than a year"),
    ],
)
def test_that_too_few_checks_are_said_to_be_too_few(
    fan: RegisteredFan, checks: list[tuple[int, float]], words: str
):
    found = history_of(checked(fan, checks), IP.formatter)
    assert words in found.words
    assert len(found.points) == len(checks)
    assert (found.line is None) == (len({days for days, _share in checks}) < 2)
    if found.line is not None:
        assert found.line.beyond_scatter is None


def test_that_one_ring_can_be_looked_at_alone(fan: RegisteredFan):
    small, large = fan.fan.rings
    for days, share in DRIFTING:
        fan = with_check(fan, check(days, share).model_copy(update={"ring_used": small}), IP)
    fan = with_check(fan, check(30, 0.2).model_copy(update={"ring_used": large}), IP)
    alone = history_of(fan, IP.formatter, small.key)
    assert len(alone.points) == 5
    assert len(history_of(fan, IP.formatter, large.key).points) == 1
    assert len(history_of(fan, IP.formatter).points) == 6
    assert history_of(fan, IP.formatter, "r9").points == ()


def test_that_the_latest_check_is_copied_into_the_fields_of_the_fan(fan: RegisteredFan):
    fan = with_check(fan, check(100, 0.012345), IP)
    assert fan.fan.field_check_on == Day(value=START + timedelta(days=100), typed="100")
    assert fan.fan.field_check_error is not None
    assert fan.fan.field_check_error.typed == "1.23 %"
    assert fan.fan.field_check_error.si == pytest.approx(0.0123)
    assert fan.checks[0].share_off == 0.012345


def test_that_an_earlier_check_joins_the_history_and_leaves_those_fields(fan: RegisteredFan):
    later = with_check(fan, check(100, 0.01), IP)
    both = with_check(later, check(50, -0.04), IP)
    assert len(both.checks) == 2
    assert both.fan == later.fan
    same_day = with_check(both, check(100, -0.02), SI)
    assert same_day.fan.field_check_error is not None
    assert same_day.fan.field_check_error.typed == "-2 %"


def test_that_a_day_typed_by_hand_counts_as_known(fan: RegisteredFan):
    known = fan.fan.model_copy(update={"field_check_on": Day(value=date(2030, 1, 1))})
    fan = with_check(fan.model_copy(update={"fan": known}), check(100, 0.01), IP)
    assert fan.fan == known


def test_that_an_undated_check_has_no_place_in_the_line(fan: RegisteredFan):
    fan = with_check(fan, check(None, 0.01), IP)
    assert history_of(fan, IP.formatter).points == ()
    assert fan.fan.field_check_on is None
