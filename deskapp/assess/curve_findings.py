"""The messages about a test at several pressures and its curve."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.result import ReadingResult
from deskapp.domain.result_parts import CurveResult
from deskapp.i18n import N_, _
from deskapp.physics.curve_doubts import CurveDoubt, Doubt
from deskapp.physics.leakage_curve import NoCurve
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

# Why no curve can be drawn: what is the matter, what is allowed, how to mend it.
_NO_CURVE: dict[NoCurve, tuple[str, str, str]] = {
    NoCurve.TOO_FEW_POINTS: (
        N_("{test} has fewer than two readings to draw a curve through."),
        N_("A curve wants five pressures or more."),
        N_("Read at more pressures, or choose one pressure in the set-up."),
    ),
    NoCurve.NOT_A_SIZE: (
        N_("{row} has a pressure or a flow of zero, and no curve passes through it."),
        N_("Every point needs a pressure and a flow other than zero."),
        N_("Read it again, or remove it."),
    ),
    NoCurve.MIXED_SIGNS: (
        N_("{test} holds pressures above and below zero."),
        N_("One curve belongs to one direction."),
        N_("Correct a sign, or choose both directions in the set-up."),
    ),
    NoCurve.ONE_PRESSURE: (
        N_("All readings of {test} were taken at one pressure."),
        N_("A curve wants five pressures or more, spread as far as the fan allows."),
        N_("Read at more pressures, or choose one pressure in the set-up."),
    ),
    NoCurve.ABSURD_EXPONENT: (
        N_("The flows of {test} change with pressure as no opening lets them."),
        N_("Between pressure and flow the exponent lies from 0.5 to 1."),
        N_("Check rings, signals and pressures of every reading."),
    ),
}


def no_curve(path: str, reason: NoCurve, at_fault: ReadingResult | None) -> Finding:
    """Return the stop for readings that no curve can be drawn through; it names which."""
    what, allowed, mend = _NO_CURVE.get(reason, _NO_CURVE[NoCurve.NOT_A_SIZE])
    row = f"{path}.readings.{0 if at_fault is None else at_fault.index}"
    return Finding(
        level=Level.STOP,
        code=f"curve_{reason.value}",
        path=f"{row}.{_field_at_fault(at_fault)}",
        what=_(what).format(test=label_of(path), row=label_of(row)),
        allowed=_(allowed),
        mend=_(mend),
    )


def _field_at_fault(reading: ReadingResult | None) -> str:
    """Return which entry of a reading keeps a curve from being drawn."""
    if reading is None or not reading.induced_pressure or reading.actual_flow:
        return "duct_pressure"
    return "indicated_flow" if reading.fan_signal is None else "fan_signal"


def low_point(path: str, size: float, lowest: float) -> Finding:
    """Return the remark on a point of a curve below the pressure wind leaves steady [Pa]."""
    return Finding(
        level=Level.CHECK,
        code="point_low",
        path=f"{path}.duct_pressure",
        what=_("{label}: after the baseline is taken off, {pressure} is left.").format(
            label=label_of(f"{path}.duct_pressure"), pressure=_pa(size)
        ),
        allowed=_("Below {lowest} wind weighs more than the leak; the point stays in.").format(
            lowest=_pa(lowest)
        ),
        mend=_("Read at a higher pressure instead, if the fan allows."),
    )


def all_low(path: str, highest: float, lowest: float) -> Finding:
    """Return the stop for a curve that nowhere reaches the lowest pressure for a verdict [Pa]."""
    return Finding(
        level=Level.STOP,
        code="pressure_too_low",
        path=f"{path}.readings.0.duct_pressure",
        what=_("The highest pressure of {test} is {highest}.").format(
            test=label_of(path).lower(), highest=_pa(highest)
        ),
        allowed=_("Below {lowest} no verdict is drawn.").format(lowest=_pa(lowest)),
        mend=_(
            "Look for an open register, damper or panel; fit a larger ring; or take the "
            "filter out, and read again."
        ),
    )


def doubted(path: str, doubt: CurveDoubt, curve: CurveResult, *, void: bool) -> Finding:
    """Return the remark on one doubt about a curve; a stop where the curve is `void`."""
    if doubt.doubt is Doubt.POINT_OFF_LINE and doubt.index is not None:
        return _off_line(path, doubt.index, curve)
    what, allowed, mend = _DOUBTS[doubt.doubt]
    digits = 0 if doubt.doubt is Doubt.TOO_FEW_POINTS else 3
    row = f"{path}.readings.0"
    if doubt.doubt is Doubt.LOW_R_SQUARED:
        farthest = max(curve.points, key=lambda point: abs(point.residual_percent))
        row = f"{path}.readings.{farthest.reading}"
    names = {
        "test": label_of(path),
        "row": label_of(row),
        "value": in_sentences().number(doubt.value, digits),
        "bound": in_sentences().number(doubt.bound, 0 if digits == 0 else 2),
    }
    return Finding(
        level=Level.STOP if void else Level.CHECK,
        code=f"curve_{doubt.doubt.value}",
        path=f"{row}.duct_pressure",
        what=_(what).format(**names),
        allowed=_(allowed).format(**names),
        mend=_(mend),
    )


# What is the matter, what is usual, how to mend it.
_DOUBTS: dict[Doubt, tuple[str, str, str]] = {
    Doubt.TOO_FEW_POINTS: (
        N_("The curve of {test} rests on {value} points."),
        N_("Five or more make its uncertainty trustworthy."),
        N_("Read at more pressures."),
    ),
    Doubt.NARROW_SPAN: (
        N_("The pressures of {test} lie close together: the highest is {value} times the lowest."),
        N_("The highest should be {bound} times the lowest or more."),
        N_("Spread the pressures as far as the fan allows."),
    ),
    Doubt.EXPONENT_LOW: (
        N_("The exponent of {test} comes out as {value}."),
        N_("Openings have exponents from {bound} to 1."),
        N_("Look for a register or tape that opens with pressure, and check rings and baseline."),
    ),
    Doubt.EXPONENT_HIGH: (
        N_("The exponent of {test} comes out as {value}."),
        N_("Openings have exponents from 0.5 to {bound}."),
        N_("Look for tape that lifts with pressure, and check rings and baseline."),
    ),
    Doubt.LOW_R_SQUARED: (
        N_("The points of {test} scatter about the curve: r² is {value}. Farthest off: {row}."),
        N_("{bound} or more is asked for."),
        N_("Read again in steadier air, with longer averages."),
    ),
}


def _off_line(path: str, index: int, curve: CurveResult) -> Finding:
    point = curve.points[index]
    side = _("above") if point.residual_percent > 0 else _("below")
    row = f"{path}.readings.{point.reading}"
    return Finding(
        level=Level.CHECK,
        code="point_off_line",
        path=f"{row}.duct_pressure",
        what=_("{row} lies {percent}% {side} the curve, further off than chance explains.").format(
            row=label_of(row),
            percent=in_sentences().number(abs(point.residual_percent), 1),
            side=side,
        ),
        allowed=_("It stays in the curve, as no reading is dropped silently."),
        mend=_("Check its ring, signal and pressure; read it again or remove it if it is wrong."),
    )


def unusual_exponent(path: str, exponent: float, usual: float) -> Iterator[Finding]:
    """Yield the remark on an exponent [1] that an opening can have but ducts rarely do."""
    if not usual < exponent <= 1.0:
        return
    yield Finding(
        level=Level.CHECK,
        code="curve_exponent_unusual",
        path=f"{path}.readings.0.duct_pressure",
        what=_("The exponent of {test} comes out as {value}.").format(
            test=label_of(path), value=in_sentences().number(exponent, 3)
        ),
        allowed=_("Ducts usually lie between 0.5 and {usual}.").format(
            usual=in_sentences().number(usual, 2)
        ),
        mend=_(
            "Look for tape that lifts with pressure, and check that the ring is the one entered."
        ),
    )


def target_outside(path: str, wanted: float, lowest: float, highest: float) -> Iterator[Finding]:
    """Yield the remark on a target that lies below all points of the curve [Pa]."""
    if wanted >= lowest:
        return
    yield Finding(
        level=Level.CHECK,
        code="target_below_points",
        path=f"{path}.setup.target_pressure",
        what=_("The target of {test}, {target}, lies below every reading.").format(
            test=label_of(path).lower(), target=_pa(wanted)
        ),
        allowed=_("The readings reach from {low} to {high}.").format(
            low=_pa(lowest), high=_pa(highest)
        ),
        mend=_("Read at the target pressure too; the curve is carried down to it."),
    )


def one_direction(path: str, *, pressurized: bool) -> Finding:
    """Return the stop for a test of both directions that holds one only."""
    return Finding(
        level=Level.STOP,
        code="one_direction",
        path=f"{path}.setup.direction",
        what=_("{test} is to average both directions, but holds none with the ducts {way}.").format(
            test=label_of(path), way=_("depressurized") if pressurized else _("pressurized")
        ),
        allowed=_("The sign of each reading says its direction."),
        mend=_("Read the other direction too, or choose the one direction in the set-up."),
    )


def _pa(value: float) -> str:
    return in_sentences().show(Kind.PRESSURE, value)
