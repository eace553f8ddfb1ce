"""What the window and the training tell while readings arrive."""

from __future__ import annotations

from math import ceil
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.physics.target import LOWEST_PRESSURE_PA
from deskapp.session.live.steadiness import Steadiness
from deskapp.session.live.watch import Aim
from deskapp.units.kinds import Kind

if TYPE_CHECKING:
    from deskapp.session.live.steadiness import AveragingProgress, Capture
    from deskapp.session.live.watch import LiveView, Plan
    from deskapp.units.display import Formatter


def steadiness_words(progress: AveragingProgress, formatter: Formatter) -> str:
    """Return one sentence on the state of the average under way."""
    window = progress.window
    if progress.capture is not None:
        return capture_words(progress.capture, formatter)
    if progress.state is Steadiness.STEADY:
        left = formatter.show(Kind.TIME, ceil(progress.remaining), "s", 0)
        return _("Steady: {time} to go.").format(time=left)
    if progress.state is Steadiness.SETTLING:
        return _("Settling: the pressure moves by {drift} in {time}.").format(
            drift=formatter.show(Kind.PRESSURE, window.drift, "Pa"),
            time=formatter.show(Kind.TIME, window.seconds, "s", 0),
        )
    if progress.state is Steadiness.TOO_GUSTY:
        words = _(
            "Too gusty: the pressure scatters by {scatter}, steady means up to {limit}."
            " Wait for a lull, or shield the open end of the reference hose from the wind."
        )
        return words.format(
            scatter=formatter.show(Kind.PRESSURE, window.scatter, "Pa"),
            limit=formatter.show(Kind.PRESSURE, window.deviation_limit, "Pa"),
        )
    return _("Waiting for more samples.")


def capture_words(capture: Capture, formatter: Formatter) -> str:
    """Return one sentence on an average that was captured."""
    return _("Captured {pressure}: {note}.").format(
        pressure=formatter.show(Kind.PRESSURE, capture.duct_pressure, "Pa"),
        note=_note(capture, formatter),
    )


def too_low_words(capture: Capture, baseline: float, formatter: Formatter) -> str:
    """Return why an average is no reading of the leakage; empty where it may be one.

    `baseline` [Pa] is what the ducts show with the fan off.
    """
    induced = abs(capture.duct_pressure - baseline)
    if induced >= LOWEST_PRESSURE_PA:
        return ""
    words = _(
        "The fan moves the pressure by only {induced}. A reading needs {least} or more:"
        " turn the fan on, or choose the baseline above."
    )
    return words.format(
        induced=formatter.show(Kind.PRESSURE, induced, "Pa"),
        least=formatter.show(Kind.PRESSURE, LOWEST_PRESSURE_PA, "Pa"),
    )


def aim_words(view: LiveView, plan: Plan, formatter: Formatter) -> str:
    """Return where the pressure lies against the target, and what the person does by hand."""
    if view.induced is None or plan.target is None:
        return ""
    away = formatter.show(Kind.PRESSURE, abs(abs(view.induced) - abs(plan.target)), "Pa")
    if view.aim is Aim.ON_TARGET:
        return _("On target.")
    if view.aim is Aim.BELOW:
        return _("{away} below the target: turn the fan up by hand.").format(away=away)
    if view.aim is Aim.ABOVE:
        return _("{away} above the target: turn the fan down by hand.").format(away=away)
    if view.aim is Aim.OTHER_SIDE:
        return _(
            "The pressure has another sign than the direction of the test asks for."
            " Check the hoses, the fan and the direction entered."
        )
    return ""


def reading_texts(capture: Capture, formatter: Formatter) -> dict[str, str]:
    """Return an average as texts for the fields of a reading, with a note on how it was made."""
    texts = {
        "duct_pressure": formatter.plain(Kind.PRESSURE, capture.duct_pressure, "Pa", 2),
        "note": _note(capture, formatter),
    }
    if capture.fan_signal is not None:
        texts["fan_signal"] = formatter.plain(Kind.PRESSURE, capture.fan_signal, "Pa", 2)
    elif capture.flow is not None:
        digits = 2 if formatter.unit_for(Kind.FLOW) == "cfm" else 3
        texts["indicated_flow"] = formatter.plain(Kind.FLOW, capture.flow, digits=digits)
    return texts


def _note(capture: Capture, formatter: Formatter) -> str:
    return _("average of {count} samples over {time}, standard deviation {deviation}").format(
        count=capture.count,
        time=formatter.show(Kind.TIME, capture.seconds, "s", 0),
        deviation=formatter.show(Kind.PRESSURE, capture.deviation, "Pa", 2),
    )
