from __future__ import annotations

import pytest

from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.live_words import (
    aim_words,
    capture_words,
    reading_texts,
    steadiness_words,
    too_low_words,
)
from deskapp.session.live.ring_fit import RingFault, ring_laws
from deskapp.session.live.sources import ReceivedLine, SourceNotice, SourceState
from deskapp.session.live.steadiness import Capture, Steadiness
from deskapp.session.live.watch import Aim, LiveView, LiveWatch, Plan
from deskapp.units.convert import from_unit
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

HEADER = ReceivedLine("time [s],duct pressure [Pa],fan signal [Pa]", 0.0)


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def lines(pressure: float, signal: float, seconds: float, begin: float = 0.0) -> list[ReceivedLine]:
    times = [begin + 0.5 * n for n in range(round(2 * seconds) + 1)]
    return [ReceivedLine(f"{time},{pressure},{signal}", time) for time in times]


@pytest.fixture
def watch(rules, formatter, training) -> LiveWatch:
    laws = ring_laws(training.fan, formatter)
    plan = Plan(10.0, target=-25.0, baseline=-1.0, rings=laws, ring="r2")
    watch = LiveWatch(CommaReader(), rules, plan, formatter)
    watch.take([HEADER])
    return watch


def test_that_before_any_sample_there_is_nothing_to_show(watch):
    assert watch.view == LiveView(tally=watch.view.tally)
    assert watch.view.tally.passed_over == 1


def test_that_lines_lead_to_a_capture_with_flow_and_aim(watch):
    view = watch.take(lines(-26.0, 100.0, 10.0))
    assert view.progress is not None
    assert view.progress.state is Steadiness.STEADY
    assert view.induced == pytest.approx(-25.0)
    assert view.aim is Aim.ON_TARGET
    assert view.flow == pytest.approx(from_unit(240.0, "cfm"))
    (capture,) = view.captures
    assert (capture.duct_pressure, capture.fan_signal) == (-26.0, 100.0)
    watch.discard(0)
    assert watch.view.captures == ()


@pytest.mark.parametrize(
    ("pressure", "aim", "word"),
    [
        (-26.0, Aim.ON_TARGET, "On target"),
        (-25.1, Aim.ON_TARGET, "On target"),
        (-24.9, Aim.BELOW, "1.1 Pa below the target: turn the fan up by hand."),
        (-27.1, Aim.ABOVE, "1.1 Pa above the target: turn the fan down by hand."),
        (-1.5, Aim.BELOW, "24.5 Pa below"),
        (24.0, Aim.OTHER_SIDE, "another sign"),
    ],
)
def test_that_the_induced_pressure_is_held_against_the_target(
    watch, formatter, pressure, aim, word
):
    view = watch.take(lines(pressure, 100.0, 1.0))
    assert view.aim is aim
    assert word in plain(aim_words(view, watch.plan, formatter))


def test_that_a_baseline_has_no_target_and_judges_no_ring(rules, formatter):
    watch = LiveWatch(CommaReader(), rules, Plan(10.0), formatter)
    view = watch.take([HEADER, *lines(0.4, 0.1, 10.0)])
    assert (view.aim, view.ring_fit) == (Aim.NO_TARGET, None)
    assert aim_words(view, watch.plan, formatter) == ""
    assert len(view.captures) == 1


def test_that_a_low_signal_is_remarked_at_the_target_but_not_on_the_way_there(watch):
    on_its_way = watch.take(lines(-11.0, 10.0, 3.0))
    assert on_its_way.ring_fit is not None
    assert on_its_way.ring_fit.fault is None
    there = watch.take(lines(-26.0, 10.0, 6.0, begin=20.0))
    assert there.ring_fit is not None
    assert there.ring_fit.fault is RingFault.SIGNAL_LOW
    stuck = watch.take(lines(-11.0, 10.0, 6.0, begin=40.0))
    assert stuck.ring_fit is not None
    assert (stuck.aim, stuck.ring_fit.fault) == (Aim.BELOW, RingFault.SIGNAL_LOW)


def test_that_a_high_signal_is_remarked_at_once(watch):
    view = watch.take(lines(-5.0, 600.0, 1.0))
    assert view.ring_fit is not None
    assert view.ring_fit.fault is RingFault.SIGNAL_HIGH


def test_that_a_flow_of_the_gauge_is_shown_where_no_ring_is_known(rules, formatter):
    watch = LiveWatch(CommaReader(), rules, Plan(10.0, target=25.0), formatter)
    view = watch.take(
        [ReceivedLine("duct pressure [Pa],flow [m3/s]", 0.0), ReceivedLine("25,0.1", 0.5)]
    )
    assert (view.flow, view.ring_fit) == (0.1, None)


def test_that_notices_and_lost_lines_are_shown(watch):
    notice = SourceNotice(SourceState.QUIET, "Nothing has come.")
    view = watch.take([notice, ReceivedLine("", 0.0, too_long=True), ReceivedLine("rubbish", 0.0)])
    assert view.notice is notice
    assert view.tally.refused == 2
    assert view.sample is None


def test_that_another_plan_begins_the_average_anew_and_keeps_what_was_captured(watch):
    watch.take(lines(-26.0, 100.0, 10.0))
    watch.take(lines(-26.0, 100.0, 8.0, begin=10.5))
    watch.replan(Plan(5.0, target=-50.0))
    assert watch.view.progress is None
    assert len(watch.view.captures) == 1
    view = watch.take(lines(-50.0, 100.0, 5.0, begin=19.0))
    assert [round(one.duct_pressure) for one in view.captures] == [-26, -50]
    with pytest.raises(ValueError, match="averaging_time"):
        watch.replan(Plan(0.0))
    assert watch.plan.averaging_time == 5.0


def test_that_a_person_can_begin_the_average_anew(watch):
    watch.take(lines(-26.0, 100.0, 9.0))
    watch.restart()
    assert watch.take(lines(-26.0, 100.0, 9.0, begin=9.5)).captures == ()


@pytest.mark.parametrize(
    ("pressures", "words"),
    [
        ([-26.0] * 3, "Waiting for more samples."),
        ([-26.0] * 14, "Steady: 4 s to go."),
        ([-2.0 * n for n in range(14)], "Settling: the pressure moves by −20.0 Pa in 5 s."),
        ([-26.0 + 9.0 * (-1) ** n for n in range(14)], "Too gusty: the pressure scatters by"),
        ([-26.0] * 21, "Captured −26.0 Pa: average of 21 samples over 10 s, standard deviation"),
    ],
)
def test_that_each_state_has_its_words(watch, formatter, pressures, words):
    view = watch.take([ReceivedLine(f"{0.5 * n},{p},100", 0.0) for n, p in enumerate(pressures)])
    assert view.progress is not None
    assert words in plain(steadiness_words(view.progress, formatter))


def captured(signal: float | None, flow: float | None) -> Capture:
    return Capture(-25.128, signal, flow, None, 0.314, None, 21, 10.0, 0.0)


def test_that_a_capture_is_put_into_the_fields_of_a_reading(formatter):
    texts = reading_texts(captured(61.254, 0.1), formatter)
    assert {name: plain(text) for name, text in texts.items()} == {
        "duct_pressure": "-25.13 Pa",
        "fan_signal": "61.25 Pa",
        "note": "average of 21 samples over 10 s, standard deviation 0.31 Pa",
    }


def test_that_a_flow_takes_the_place_of_a_signal_only_where_there_is_none(formatter):
    comma = Formatter(UnitSystem.SI, NumberStyle.COMMA)
    assert reading_texts(captured(None, 0.1), comma)["indicated_flow"] == "100 L/s"
    assert reading_texts(captured(None, 0.1), formatter)["indicated_flow"] == "211.89 cfm"
    assert reading_texts(captured(None, None), comma).keys() == {"duct_pressure", "note"}
    assert reading_texts(captured(None, None), comma)["duct_pressure"] == "-25,13 Pa"
    assert plain(capture_words(captured(None, None), comma)).startswith("Captured −25,1 Pa")


@pytest.mark.parametrize(
    ("pressure", "baseline", "is_told"),
    [(-0.3, 0.0, True), (-12.0, -3.0, True), (-12.0, -2.0, False), (10.0, 0.0, False)],
)
def test_that_an_average_with_the_fan_off_is_no_reading(formatter, pressure, baseline, is_told):
    """Below 10 Pa no verdict is given (physics.target); such an average is not offered either."""
    capture = Capture(pressure, 60.0, None, None, 0.1, None, 21, 10.0, 0.0)
    words = too_low_words(capture, baseline, formatter)
    assert bool(words) is is_told
    if is_told:
        assert "10.0 Pa" in plain(words)
