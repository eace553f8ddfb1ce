"""The messages about a test as a whole."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Method, Metric
from deskapp.domain.finding import Finding, Level
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

HOUSE_TOLERANCE_PA = 1.0
"""How far the house may be from the target in a test to outside. Common practice, no source."""


CURVE_POINTS, CURVE_SPAN = 3, 2.0
"""So many readings, the highest so many times the lowest, look like a curve. House rule."""


def about_test(
    position: int, test: LeakageTest, result: TestResult, largest_spread: float | None
) -> Iterator[Finding]:
    """Yield what is to be said about a test that was worked out, and about its baseline.

    A spread of the readings above `largest_spread` [1] is told; None where worse was said of it.
    """
    path = f"tests.{position}"
    if result.readings and test.baseline_before is None and test.baseline_after is None:
        yield Finding(
            level=Level.CHECK,
            code="baseline_missing",
            path=f"{path}.baseline_before",
            what=_("No baseline is recorded for test {n}; it was taken as zero.").format(
                n=position + 1
            ),
            mend=_("Read the duct pressure with the fan off and covered, before and after."),
        )
    if result.flow is None:
        return
    yield from _extrapolated(path, position, result)
    yield from _several(path, position, test, result)
    spread = result.spread
    if spread is not None and largest_spread is not None and spread > largest_spread:
        yield Finding(
            level=Level.CHECK,
            code="spread",
            path=f"{path}.readings.0.duct_pressure",
            what=_("The readings of test {n} differ by {spread}.").format(
                n=position + 1, spread=in_sentences().show(Kind.FRACTION, spread)
            ),
            allowed=_("Repeats usually agree within 5%."),
            mend=_("Look for loose tape, wind or an open door, and read again."),
        )
    yield from _house(path, position, test, result)


def _several(path: str, position: int, test: LeakageTest, result: TestResult) -> Iterator[Finding]:
    """Yield the remark on readings at many pressures that were worked out as repeats of one."""
    sizes = [abs(row.induced_pressure) for row in result.readings if row.induced_pressure]
    if test.setup.method is Method.SEVERAL_PRESSURES or len(sizes) < CURVE_POINTS:
        return
    low, high = min(sizes), max(sizes)
    if high < CURVE_SPAN * low:
        return
    yield Finding(
        level=Level.CHECK,
        code="several_pressures_read",
        path=f"{path}.setup.method",
        what=_(
            "The readings of test {n} reach from {low} to {high}, but its method is one pressure."
        ).format(
            n=position + 1,
            low=in_sentences().show(Kind.PRESSURE, low),
            high=in_sentences().show(Kind.PRESSURE, high),
        ),
        allowed=_("So each is carried to the target with an exponent that was assumed."),
        mend=_("Choose several pressures, or take out the readings that were only tries."),
    )


def _extrapolated(path: str, position: int, result: TestResult) -> Iterator[Finding]:
    if not result.extrapolated:
        return
    held = result.mean_induced_pressure or result.highest_pressure or 0.0
    yield Finding(
        level=Level.CHECK,
        code="extrapolated",
        path=f"{path}.readings.0.duct_pressure",
        what=_(
            "Test {n} held {held} where {target} was the target; the result is extrapolated."
        ).format(
            n=position + 1,
            held=in_sentences().show(Kind.PRESSURE, held),
            target=in_sentences().show(Kind.PRESSURE, result.target_pressure or 0.0),
        ),
        allowed=" ".join(_extrapolated_range(result)),
        mend=_("The report says so."),
    )


def _extrapolated_range(result: TestResult) -> Iterator[str]:
    if result.flow_low is not None and result.flow_high is not None:
        words = (
            _("For leakage exponents from 0.5 to 0.7 it lies between {low} and {high}.")
            if result.mean_induced_pressure is not None
            else _("The curve, carried up to the target, lies between {low} and {high}.")
        )
        yield words.format(
            low=in_sentences().both(Kind.FLOW, result.flow_low),
            high=in_sentences().both(Kind.FLOW, result.flow_high),
        )
    if result.extrapolation_uncertainty is not None:
        yield _("Carrying it up to the target adds an uncertainty of ± {added} (k = 2).").format(
            added=in_sentences().both(Kind.FLOW, result.extrapolation_uncertainty)
        )


def _house(path: str, position: int, test: LeakageTest, result: TestResult) -> Iterator[Finding]:
    house = si_of(test.house_pressure)
    if test.setup.metric is not Metric.OUTSIDE or house is None or result.target_pressure is None:
        return
    if abs(abs(house) - result.target_pressure) > HOUSE_TOLERANCE_PA:
        yield Finding(
            level=Level.CHECK,
            code="house_off_target",
            path=f"{path}.house_pressure",
            what=_("The house stood at {house} in test {n}; the target is {target}.").format(
                house=in_sentences().show(Kind.PRESSURE, house),
                n=position + 1,
                target=in_sentences().show(Kind.PRESSURE, result.target_pressure),
            ),
            allowed=_("In a test to outside both should agree within 1 Pa."),
            mend=_("Bring the house to the target and read again."),
        )
