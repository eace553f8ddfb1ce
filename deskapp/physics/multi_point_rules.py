"""What the envelope standards ask of a test at several pressures, as data with its standing."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from itertools import pairwise

from deskapp.physics.guards import OutOfRangeError


class FigureStatus(StrEnum):
    """How well a figure of a standard is known."""

    CODE_TEXT = "code_text"
    SECONDARY = "secondary"
    MEMORY = "memory"


class Rule(StrEnum):
    """A rule of a standard about a test at several pressures.

    No reading lies below LOWEST_PRESSURE or above HIGHEST_PRESSURE, one at least comes up to
    PRESSURE_REACHED, and the lowest is BASELINES_BELOW_LOWEST times the baseline or more.
    """

    FEWEST_POINTS = "fewest_points"
    LOWEST_PRESSURE = "lowest_pressure"
    BASELINES_BELOW_LOWEST = "baselines_below_lowest"
    PRESSURE_REACHED = "pressure_reached"
    HIGHEST_PRESSURE = "highest_pressure"
    LARGEST_STEP = "largest_step"
    LARGEST_BASELINE = "largest_baseline"
    LOWEST_EXPONENT = "lowest_exponent"
    HIGHEST_EXPONENT = "highest_exponent"
    LOWEST_R_SQUARED = "lowest_r_squared"
    LARGEST_HEIGHT_TIMES_DIFFERENCE = "largest_height_times_difference"
    LARGEST_WIND_SPEED = "largest_wind_speed"


@dataclass(frozen=True, slots=True)
class StandardFigure:
    """A number of a standard in SI units, and how well it is known."""

    value: float
    standing: FigureStatus


@dataclass(frozen=True, slots=True)
class StandardEdition:
    """A standard and its figures; a rule it does not have is absent.

    Units: pressures in Pa, wind in m/s, height times temperature difference in m K, the rest
    plain numbers. `notes` holds what is known in words only.
    """

    title: str
    figures: dict[Rule, StandardFigure]
    notes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class MultiPointTest:
    """What the rules are asked about; None when it is not known.

    Pressures are induced ones as sizes, `baselines` the averages before and after, signed, all
    in Pa; `height_times_difference` in m K; `wind_speed` in m/s.
    """

    pressures: tuple[float, ...]
    baselines: tuple[float, ...] = ()
    exponent: float | None = None
    r_squared: float | None = None
    height_times_difference: float | None = None
    wind_speed: float | None = None


@dataclass(frozen=True, slots=True)
class Missed:
    """A rule that a test does not keep: what was found, the bound, and the bound's standing.

    `found` and `bound` are in the unit that StandardEdition gives for the rule.
    """

    rule: Rule
    found: float
    bound: float
    standing: FigureStatus


def _memory(value: float) -> StandardFigure:
    return StandardFigure(value, FigureStatus.MEMORY)


def _secondary(value: float) -> StandardFigure:
    return StandardFigure(value, FigureStatus.SECONDARY)


ASTM_E779 = StandardEdition(
    title="ASTM E779",
    figures={
        Rule.FEWEST_POINTS: _memory(5),
        Rule.LOWEST_PRESSURE: _secondary(10.0),
        Rule.HIGHEST_PRESSURE: _secondary(60.0),
        Rule.LARGEST_STEP: _memory(10.0),
        Rule.LOWEST_EXPONENT: _memory(0.5),
        Rule.HIGHEST_EXPONENT: _memory(1.0),
        Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: _memory(200.0),
        Rule.LARGEST_WIND_SPEED: _memory(2.0),
    },
    notes=(
        "Steps of 5 Pa to 10 Pa.",
        "Baseline averaged for 10 s or more before and after.",
        "The wind speed is a preference. Confidence limits are reported.",
    ),
)
"""Source: ASTM E779; each figure has its own standing, none was checked against the text."""

ISO_9972 = StandardEdition(
    title="ISO 9972:2015",
    figures={
        Rule.FEWEST_POINTS: _memory(5),
        Rule.LOWEST_PRESSURE: _secondary(10.0),
        Rule.BASELINES_BELOW_LOWEST: _secondary(5.0),
        Rule.PRESSURE_REACHED: _memory(50.0),
        Rule.LARGEST_STEP: _memory(10.0),
        Rule.LARGEST_BASELINE: _secondary(5.0),
        Rule.LOWEST_EXPONENT: _memory(0.5),
        Rule.HIGHEST_EXPONENT: _memory(1.0),
        Rule.LOWEST_R_SQUARED: _memory(0.98),
        Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: _memory(250.0),
        Rule.LARGEST_WIND_SPEED: _memory(6.0),
    },
    notes=(
        "The lowest pressure is 10 Pa or five times the baseline, whichever is greater.",
        "Baseline averaged for 30 s or more before and after, 10 values or more each; its"
        " positive and its negative values are averaged apart as well.",
        "Wind up to Beaufort force 3.",
    ),
)
"""Source: ISO 9972:2015; each figure has its own standing, none was checked against the text."""

CGSB_149_10 = StandardEdition(
    title="CAN/CGSB-149.10",
    figures={
        Rule.FEWEST_POINTS: _memory(8),
        Rule.LOWEST_PRESSURE: _memory(15.0),
        Rule.HIGHEST_PRESSURE: _secondary(60.0),
        Rule.LOWEST_EXPONENT: _memory(0.5),
        Rule.HIGHEST_EXPONENT: _memory(1.0),
        Rule.LOWEST_R_SQUARED: _memory(0.990**2),
        Rule.LARGEST_WIND_SPEED: _memory(20.0 / 3.6),
    },
    notes=(
        "Earlier editions: eight pressures from 15 Pa to 50 Pa. Edition of 2019: up to 60 Pa.",
        "The correlation r is 0.990 or more, held here as r squared.",
        "The relative standard error is 7% or less; of which figure is not known here.",
        "The baseline is recorded and subtracted.",
    ),
)
"""Source: CAN/CGSB-149.10; each figure has its own standing, none was checked against the text."""

EDITIONS = (ASTM_E779, ISO_9972, CGSB_149_10)

_AT_LEAST = frozenset(
    {
        Rule.FEWEST_POINTS,
        Rule.LOWEST_PRESSURE,
        Rule.BASELINES_BELOW_LOWEST,
        Rule.PRESSURE_REACHED,
        Rule.LOWEST_EXPONENT,
        Rule.LOWEST_R_SQUARED,
    }
)


def missed_rules(edition: StandardEdition, test: MultiPointTest) -> tuple[Missed, ...]:
    """List the rules of a standard that a test at several pressures does not keep.

    Plain floats only. What is not known of the test is not asked.

    Args:
        edition: the standard [Edition].
        test: the test [MultiPointTest].

    Returns:
        The rules missed, each with what was found and the bound [Missed].

    Range: rules that are numbers; the notes of the edition hold the others.

    Raises:
        ValueError: the test has no pressure.

    Source: ASTM E779, ISO 9972:2015 and CAN/CGSB-149.10; from memory or secondary sources as each
        figure says, not checked against the text.
    """
    if not test.pressures:
        raise OutOfRangeError("number of pressures", 0, "1 or more")
    missed: list[Missed] = []
    for rule, found in _found(test).items():
        figure = edition.figures.get(rule)
        if figure is None or found is None:
            continue
        if found < figure.value if rule in _AT_LEAST else found > figure.value:
            missed.append(Missed(rule, found, figure.value, figure.standing))
    return tuple(missed)


def _found(test: MultiPointTest) -> dict[Rule, float | None]:
    """Return what each rule looks at; None where it is not known."""
    rising = sorted(test.pressures)
    baseline = max((abs(value) for value in test.baselines), default=None)
    steps = [above - below for below, above in pairwise(rising)]
    return {
        Rule.FEWEST_POINTS: len(rising),
        Rule.LOWEST_PRESSURE: rising[0],
        Rule.BASELINES_BELOW_LOWEST: rising[0] / baseline if baseline else None,
        Rule.PRESSURE_REACHED: rising[-1],
        Rule.HIGHEST_PRESSURE: rising[-1],
        Rule.LARGEST_STEP: max(steps, default=None),
        Rule.LARGEST_BASELINE: baseline,
        Rule.LOWEST_EXPONENT: test.exponent,
        Rule.HIGHEST_EXPONENT: test.exponent,
        Rule.LOWEST_R_SQUARED: test.r_squared,
        Rule.LARGEST_HEIGHT_TIMES_DIFFERENCE: test.height_times_difference,
        Rule.LARGEST_WIND_SPEED: test.wind_speed,
    }
