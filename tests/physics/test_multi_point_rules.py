"""Rules of the envelope standards: each one missed alone, and the data in good order."""

from __future__ import annotations

from dataclasses import replace

import pytest

from deskapp.physics.guards import OutOfRangeError
from deskapp.physics.multi_point_rules import (
    ASTM_E779,
    CGSB_149_10,
    EDITIONS,
    ISO_9972,
    FigureStatus,
    MultiPointTest,
    Rule,
    StandardEdition,
    missed_rules,
)

# Invented test that keeps the rules of all three standards.
GOOD = MultiPointTest(
    pressures=(15.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0),
    baselines=(-0.4, 0.6),
    exponent=0.65,
    r_squared=0.999,
    height_times_difference=100.0,
    wind_speed=1.5,
)


def missed(edition: StandardEdition, test: MultiPointTest) -> set[Rule]:
    return {one.rule for one in missed_rules(edition, test)}


@pytest.mark.parametrize("edition", EDITIONS, ids=lambda edition: edition.title)
def test_that_a_good_test_misses_no_rule(edition: StandardEdition) -> None:
    assert missed(edition, GOOD) == set()


@pytest.mark.parametrize(
    ("edition", "change", "rule"),
    # Bounds of ASTM E779, ISO 9972:2015 and CAN/CGSB-149.10, from memory or secondary sources, not
    # checked against the texts; each value lies just beyond one of them.
    [
        (ASTM_E779, {"pressures": (10.0, 20.0, 30.0, 40.0)}, Rule.FEWEST_POINTS),
        (ASTM_E779, {"pressures": (9.9, 18.0, 28.0, 38.0, 48.0)}, Rule.LOWEST_PRESSURE),
        (ASTM_E779, {"pressures": (25.0, 33.0, 42.0, 51.0, 60.1)}, Rule.HIGHEST_PRESSURE),
        (ASTM_E779, {"pressures": (10.0, 20.0, 30.1, 40.0, 50.0)}, Rule.LARGEST_STEP),
        (ASTM_E779, {"exponent": 0.49}, Rule.LOWEST_EXPONENT),
        (ASTM_E779, {"exponent": 1.01}, Rule.HIGHEST_EXPONENT),
        (ASTM_E779, {"height_times_difference": 201.0}, Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE),
        (ASTM_E779, {"wind_speed": 2.1}, Rule.LARGEST_WIND_SPEED),
        (ISO_9972, {"pressures": (20.0, 30.0, 40.0, 50.0)}, Rule.FEWEST_POINTS),
        (ISO_9972, {"baselines": (-3.1, 0.5)}, Rule.BASELINES_BELOW_LOWEST),
        (ISO_9972, {"pressures": (15.0, 20.0, 30.0, 40.0, 49.9)}, Rule.PRESSURE_REACHED),
        (ISO_9972, {"r_squared": 0.979}, Rule.LOWEST_R_SQUARED),
        (ISO_9972, {"height_times_difference": 251.0}, Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE),
        (ISO_9972, {"wind_speed": 6.1}, Rule.LARGEST_WIND_SPEED),
        (CGSB_149_10, {"pressures": GOOD.pressures[1:]}, Rule.FEWEST_POINTS),
        (CGSB_149_10, {"r_squared": 0.98}, Rule.LOWEST_R_SQUARED),
        (CGSB_149_10, {"wind_speed": 5.6}, Rule.LARGEST_WIND_SPEED),
    ],
)
def test_that_a_bound_passed_is_the_one_rule_missed(
    edition: StandardEdition, change: dict[str, object], rule: Rule
) -> None:
    assert missed(edition, GOOD) == set()
    assert missed(edition, replace(GOOD, **change)) == {rule}


@pytest.mark.parametrize(
    ("edition", "secondary", "memory"),
    # The same sources; figures read in a secondary source apart from those known from memory.
    [
        (
            ASTM_E779,
            {Rule.LOWEST_PRESSURE: 10.0, Rule.HIGHEST_PRESSURE: 60.0},
            {
                Rule.FEWEST_POINTS: 5,
                Rule.LARGEST_STEP: 10.0,
                Rule.LOWEST_EXPONENT: 0.5,
                Rule.HIGHEST_EXPONENT: 1.0,
                Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: 200.0,
                Rule.LARGEST_WIND_SPEED: 2.0,
            },
        ),
        (
            ISO_9972,
            {
                Rule.LOWEST_PRESSURE: 10.0,
                Rule.BASELINES_BELOW_LOWEST: 5.0,
                Rule.LARGEST_BASELINE: 5.0,
            },
            {
                Rule.FEWEST_POINTS: 5,
                Rule.PRESSURE_REACHED: 50.0,
                Rule.LARGEST_STEP: 10.0,
                Rule.LOWEST_EXPONENT: 0.5,
                Rule.HIGHEST_EXPONENT: 1.0,
                Rule.LOWEST_R_SQUARED: 0.98,
                Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: 250.0,
                Rule.LARGEST_WIND_SPEED: 6.0,
            },
        ),
        (
            CGSB_149_10,
            {Rule.HIGHEST_PRESSURE: 60.0},
            {
                Rule.FEWEST_POINTS: 8,
                Rule.LOWEST_PRESSURE: 15.0,
                Rule.LOWEST_EXPONENT: 0.5,
                Rule.HIGHEST_EXPONENT: 1.0,
                Rule.LOWEST_R_SQUARED: 0.9801,
                Rule.LARGEST_WIND_SPEED: 5.5556,
            },
        ),
    ],
    ids=lambda value: getattr(value, "title", ""),
)
def test_that_the_figures_are_those_known(
    edition: StandardEdition, secondary: dict[Rule, float], memory: dict[Rule, float]
) -> None:
    for standing, known in ((FigureStatus.SECONDARY, secondary), (FigureStatus.MEMORY, memory)):
        held = {
            rule: figure.value
            for rule, figure in edition.figures.items()
            if figure.standing is standing
        }
        assert held == pytest.approx(known, rel=1e-5)


def test_that_a_large_baseline_voids_a_test_by_either_sign() -> None:
    for baselines in ((5.1, 0.0), (0.0, -5.1)):
        found = missed_rules(ISO_9972, replace(GOOD, baselines=baselines))
        assert {one.rule for one in found} == {Rule.LARGEST_BASELINE, Rule.BASELINES_BELOW_LOWEST}
        largest = next(one for one in found if one.rule is Rule.LARGEST_BASELINE)
        assert (largest.found, largest.bound) == (5.1, 5.0)
        assert largest.standing is FigureStatus.SECONDARY


@pytest.mark.parametrize("edition", EDITIONS, ids=lambda edition: edition.title)
def test_that_what_is_not_known_is_not_asked(edition: StandardEdition) -> None:
    assert missed(edition, MultiPointTest(GOOD.pressures)) == set()


def test_that_a_calm_day_has_no_baseline_to_outweigh() -> None:
    assert missed(ISO_9972, replace(GOOD, baselines=(0.0, 0.0))) == set()


@pytest.mark.parametrize("edition", EDITIONS, ids=lambda edition: edition.title)
def test_that_no_figure_claims_to_come_from_a_text_that_was_not_read(
    edition: StandardEdition,
) -> None:
    assert edition.figures
    assert all(figure.standing is not FigureStatus.CODE_TEXT for figure in edition.figures.values())


def test_that_a_test_without_a_pressure_is_named() -> None:
    with pytest.raises(OutOfRangeError, match="number of pressures"):
        missed_rules(ISO_9972, MultiPointTest(()))
