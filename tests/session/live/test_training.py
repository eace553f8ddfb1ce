"""Training sessions on the invented data that ships with the program."""

from __future__ import annotations

import pytest

from deskapp.domain.finding import Finding
from deskapp.session.live.training import REPEATS, TrainingResult, run_training
from deskapp.session.live.training_data import FILE, draw_case, load_training
from deskapp.units.convert import from_unit


def session(training, rules, formatter, **options) -> tuple[TrainingResult, list[str]]:
    told: list[str] = []
    result = run_training(training, rules, formatter, told.append, **options)
    return result, [line.replace("\N{NO-BREAK SPACE}", " ") for line in told]


@pytest.mark.parametrize("seed", range(8))
def test_that_calm_weather_gives_the_hidden_leakage_within_one_percent(
    training, rules, formatter, seed
):
    result, _told = session(training, rules, formatter, seed=seed)
    assert result.percent_off is not None
    assert abs(result.percent_off) < 1.0
    assert len(result.captures) == REPEATS + 2


@pytest.mark.parametrize("seed", range(8))
def test_that_a_breeze_costs_no_more_than_it_must(training, rules, formatter, seed):
    # Gusts of 0.5 Pa that last 2 s: the mean of 10 s has a standard deviation of about
    # 0.5 (2 * 2 / 10)^0.5 = 0.32 Pa. Three readings less the mean of two baselines: 0.29 Pa of
    # 25 Pa, times an exponent of 0.6, is 0.7 % of the flow; three of these deviations are allowed.
    result, _told = session(training, rules, formatter, seed=seed, weather_id="breezy")
    assert result.percent_off is not None
    assert abs(result.percent_off) < 2.1


def test_that_gusts_are_waited_out_and_nothing_is_made_up(training, rules, formatter):
    result, told = session(training, rules, formatter, seed=1, weather_id="gusty")
    assert (result.measured, result.percent_off, result.captures) == (None, None, ())
    assert any("Too gusty" in line for line in told)
    assert told[-1].startswith("Nothing was measured; the hidden leakage is ")


def test_that_a_session_is_told_and_repeats_itself(training, rules, formatter):
    waits: list[float] = []
    result, told = session(training, rules, formatter, seed=1, wait=waits.append)
    again, told_again = session(training, rules, formatter, seed=1)
    assert (result, told) == (again, told_again)
    assert told[0] == "A simulated duct system; all of it is invented."
    assert sum("Captured" in line for line in told) == REPEATS + 2
    assert any("Steady: " in line for line in told)
    assert any("turn the fan up by hand" in line for line in told)
    assert told[-1].startswith("Measured ")
    assert set(waits) == {0.5}
    assert result.captures[-1].began < sum(waits) < 600.0


def test_that_seeds_draw_systems_of_all_sizes_with_a_ring_that_fits(training):
    drawn = [draw_case(training, seed) for seed in range(60)]
    flows = [case.leakage(25.0) for case, _ring in drawn]
    assert min(flows) < from_unit(90.0, "cfm")
    assert max(flows) > from_unit(500.0, "cfm")
    for case, ring in drawn:
        signal = (case.leakage(25.0) / case.ring_coefficient) ** (1.0 / case.ring_exponent)
        assert 25.0 <= signal <= 250.0, ring.key
    assert {case.direction for case, _ring in drawn} == {-1, 1}
    assert {ring.key for _case, ring in drawn} == {"r1", "r2", "r3"}


def test_that_an_unknown_weather_is_a_mistake_of_the_caller(training):
    with pytest.raises(KeyError, match="hail"):
        draw_case(training, 1, "hail")


@pytest.mark.parametrize(
    "change",
    [
        ("0.500", "half"),
        ('gust = "0.15 Pa"', 'gust = "0.15 cfm"'),
        ("[houses]", "[mansions]"),
        ("exponent_low = 0.55", "exponent_low = 5.5"),
        ("[fan]", "[fan"),
    ],
)
def test_that_damaged_data_are_told_in_words(resources, tmp_path, change):
    text = (resources / FILE).read_text(encoding="utf-8")
    assert change[0] in text
    (tmp_path / FILE).parent.mkdir()
    (tmp_path / FILE).write_text(text.replace(*change), encoding="utf-8")
    found = load_training(tmp_path)
    assert isinstance(found, Finding)
    assert FILE.name in found.what


def test_that_missing_data_are_told_in_words(tmp_path):
    assert isinstance(load_training(tmp_path), Finding)
