"""The messages about a single reading."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Direction
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import Ring
from deskapp.domain.trial import Reading
from deskapp.i18n import _
from deskapp.physics import target
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind


def _pa(value: float) -> str:
    return in_sentences().show(Kind.PRESSURE, value)


def direction(
    path: str, reading: Reading, induced: float, wanted: Direction | None
) -> Iterator[Finding]:
    """Yield a stop when the sign of the `induced` pressure [Pa] contradicts the direction."""
    if wanted in (None, Direction.BOTH) or induced == 0:
        return
    if (induced > 0) == (wanted is Direction.PRESSURIZE):
        return
    typed = reading.duct_pressure.typed if reading.duct_pressure else ""
    lower = wanted is Direction.DEPRESSURIZE
    yield Finding(
        level=Level.STOP,
        code="wrong_direction",
        path=f"{path}.duct_pressure",
        what=_("{label}: “{typed}” has the wrong sign for ducts that are {direction}.").format(
            label=label_of(f"{path}.duct_pressure"),
            typed=typed,
            direction=_("depressurized") if lower else _("pressurized"),
        ),
        allowed=_("The gauge then shows a pressure below zero.")
        if lower
        else _("The gauge then shows a pressure above zero."),
        mend=_("Type the sign the gauge showed, or correct the direction in the set-up."),
    )


def pressure(
    path: str, induced: float, factor: float | None, wanted: float | None
) -> Iterator[Finding]:
    """Yield what is to be said about a pressure that was not held at the target.

    `induced` and the target `wanted` are in Pa; `factor` is what carries the flow to it [1].
    """
    size = abs(induced)
    if size < target.LOWEST_PRESSURE_PA:
        yield Finding(
            level=Level.STOP,
            code="pressure_too_low",
            path=f"{path}.duct_pressure",
            what=_("{label}: after the baseline is taken off, {pressure} is left.").format(
                label=label_of(f"{path}.duct_pressure"), pressure=_pa(size)
            ),
            allowed=_("Below {lowest} no verdict is drawn.").format(
                lowest=_pa(target.LOWEST_PRESSURE_PA)
            ),
            mend=_(
                "Look for an open register, damper or panel; fit a larger ring; or take the "
                "filter out, and read again."
            ),
        )
    elif wanted is not None and size > target.HIGHEST_MULTIPLE * wanted:
        yield Finding(
            level=Level.STOP,
            code="pressure_too_high",
            path=f"{path}.duct_pressure",
            what=_("{label}: {pressure} is far from the target of {target}.").format(
                label=label_of(f"{path}.duct_pressure"), pressure=_pa(size), target=_pa(wanted)
            ),
            allowed=_("Above {highest}, twice the target, no verdict is drawn.").format(
                highest=_pa(target.HIGHEST_MULTIPLE * wanted)
            ),
            mend=_(
                "Look for a lost decimal point or another unit; else turn the fan down and read "
                "again."
            ),
        )
    elif factor is not None and wanted is not None and _is_far(factor):
        yield Finding(
            level=Level.CHECK,
            code="far_from_target",
            path=f"{path}.duct_pressure",
            what=_("{label}: {pressure} is far from the target of {target}.").format(
                label=label_of(f"{path}.duct_pressure"), pressure=_pa(size), target=_pa(wanted)
            ),
            allowed=_(
                "The house rule is to convert by a factor from 0.80 to 1.25; here it is {f}."
            ).format(f=in_sentences().number(factor, 2)),
            mend=_("Read again closer to the target if you can; the report will say so."),
        )


def _is_far(factor: float) -> bool:
    return not 1.0 / target.LARGEST_FACTOR <= factor <= target.LARGEST_FACTOR


def incomplete(path: str, reading: Reading) -> Finding:
    """Return the remark on a reading that lacks its pressure or its flow."""
    pressure_missing = reading.duct_pressure is None
    name = "duct_pressure" if pressure_missing else "fan_signal"
    return Finding(
        level=Level.CHECK,
        code="reading_incomplete",
        path=f"{path}.{name}",
        what=_("{row} is left out of the mean: {field} is missing.").format(
            row=label_of(path),
            field=_("the duct pressure") if pressure_missing else _("the fan signal or flow"),
        ),
        mend=_("Fill it in, or remove the reading."),
    )


def signal_out_of_range(path: str, signal: float, low: float | None, high: float | None) -> Finding:
    """Return the stop for a fan signal outside the ring's calibrated range [Pa]."""
    too_low = low is not None and signal < low
    low_words = _pa(low) if low is not None else _pa(0)
    allowed = (
        _("This ring is calibrated from {low} to {high}.").format(low=low_words, high=_pa(high))
        if high is not None
        else _("This ring is calibrated from {low} up.").format(low=low_words)
    )
    return Finding(
        level=Level.STOP,
        code="signal_out_of_range",
        path=f"{path}.fan_signal",
        what=_("{label} is {signal}, {side} the range of the ring fitted.").format(
            label=label_of(f"{path}.fan_signal"),
            signal=_pa(signal),
            side=_("below") if too_low else _("above"),
        ),
        allowed=allowed,
        mend=_("Fit a ring with a smaller flow range and read again, or correct the ring entered.")
        if too_low
        else _("Fit a ring with a larger flow range and read again, or correct the ring entered."),
    )


def unlike_its_ring(path: str, flow: float, low: float | None, high: float | None) -> Finding:
    """Return the remark on a flow far outside the flow range that names the ring [m3/s]."""
    bounds = [in_sentences().both(Kind.FLOW, bound) for bound in (low, high) if bound is not None]
    return Finding(
        level=Level.CHECK,
        code="unlike_its_ring",
        path=f"{path}.fan_signal",
        what=_(
            "{row}: signal and ring give {flow}, far outside the flow range of the ring."
        ).format(row=label_of(path), flow=in_sentences().both(Kind.FLOW, flow)),
        allowed=_("The ring entered is for {range}.").format(range=" – ".join(bounds)),
        mend=_("Compare coefficient and exponent of the ring with its calibration certificate."),
    )


def ring_unknown(path: str, ring: Ring | None) -> Finding:
    """Return the remark on a fan signal that no ring turns into a flow."""
    test = ".".join(path.split(".")[:2])
    return Finding(
        level=Level.CHECK,
        code="ring_unknown",
        path=f"{test}.setup.ring",
        what=_("The fan signals of {test} cannot be turned into flows.").format(
            test=label_of(test).lower()
        ),
        allowed=_("The ring fitted has no usable coefficient and exponent.")
        if ring
        else _("No ring is chosen for the test."),
        mend=_("Choose the ring fitted and copy its numbers from the calibration certificate."),
    )


def flows_disagree(path: str, typed: float, from_signal: float) -> Finding:
    """Return the remark on a typed flow that differs from the flow of the signal [m3/s]."""
    return Finding(
        level=Level.CHECK,
        code="flows_disagree",
        path=f"{path}.indicated_flow",
        what=_("{row}: the gauge shows {typed}, but signal and ring give {flow}.").format(
            row=label_of(path),
            typed=in_sentences().both(Kind.FLOW, typed),
            flow=in_sentences().both(Kind.FLOW, from_signal),
        ),
        allowed=_("The flow from the signal is used."),
        mend=_("Check that the ring set in the gauge is the ring fitted."),
    )
