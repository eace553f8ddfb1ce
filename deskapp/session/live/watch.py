"""One live reading as a whole: lines in, and out comes all that a window has to show.

The window hands over what its source has pending and shows the `LiveView` that comes back. No
clock, no thread and no drawing in here.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import TYPE_CHECKING

from deskapp.session.live.reader import LineIntake, Reader, Tally
from deskapp.session.live.ring_fit import RingFault, RingFit, RingLaw, judge_ring
from deskapp.session.live.sources import ReceivedLine, SourceNotice
from deskapp.session.live.steadiness import AveragingProgress, Capture, Steadiness, SteadyWatch

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.session.live.rules import LiveRules
    from deskapp.session.live.samples import Sample
    from deskapp.units.display import Formatter


class Aim(StrEnum):
    """Where the induced pressure lies against the target, by size."""

    NO_TARGET = "no target"
    BELOW = "below"
    ON_TARGET = "on target"
    ABOVE = "above"
    OTHER_SIDE = "other side"


@dataclass(frozen=True, slots=True)
class Plan:
    """What is to be read.

    `averaging_time` in s; `target` is the induced pressure wanted, with the sign of the test [Pa],
    None for a baseline; `baseline` is subtracted from the duct pressure, signed [Pa]; `ring` is
    the key of the ring fitted, one of `rings`.
    """

    averaging_time: float
    target: float | None = None
    baseline: float = 0.0
    rings: tuple[RingLaw, ...] = ()
    ring: str = ""


@dataclass(frozen=True, slots=True)
class LiveView:
    """All there is to show after a line.

    `induced` is the mean of the latest past less the baseline, signed [Pa]; `flow` is that of the
    ring at the mean signal, or the flow the gauge shows [m3/s]. None until samples came.
    """

    sample: Sample | None = None
    progress: AveragingProgress | None = None
    induced: float | None = None
    aim: Aim = Aim.NO_TARGET
    ring_fit: RingFit | None = None
    flow: float | None = None
    captures: tuple[Capture, ...] = ()
    tally: Tally = field(default_factory=Tally)
    notice: SourceNotice | None = None


class LiveWatch:
    """Follows one stream from its lines to its averages.

    Raises ValueError for an averaging time that is not above 0.
    """

    def __init__(self, reader: Reader, rules: LiveRules, plan: Plan, formatter: Formatter) -> None:
        self._intake = LineIntake(reader)
        self._rules = rules
        self._plan = plan
        self._formatter = formatter
        self._steady = SteadyWatch(rules, plan.averaging_time)
        self._captures: list[Capture] = []
        self._sample: Sample | None = None
        self._progress: AveragingProgress | None = None
        self._notice: SourceNotice | None = None

    @property
    def plan(self) -> Plan:
        """What is being read."""
        return self._plan

    @property
    def first_lines(self) -> tuple[str, ...]:
        """The lines from the beginning of the stream, to name their columns by."""
        return self._intake.first_lines

    @property
    def view(self) -> LiveView:
        """All there is to show now."""
        view = LiveView(
            sample=self._sample,
            progress=self._progress,
            captures=tuple(self._captures),
            tally=self._intake.tally,
            notice=self._notice,
        )
        if self._progress is None:
            return view
        window = self._progress.window
        induced = window.mean - self._plan.baseline
        aim = self._aim(induced)
        fit = self._ring_fit(self._progress, induced, aim)
        flow = fit.flow if fit is not None else window.flow
        return replace(view, induced=induced, aim=aim, ring_fit=fit, flow=flow)

    def take(self, items: Iterable[ReceivedLine | SourceNotice]) -> LiveView:
        """Take what a source has pending, and return what to show."""
        for item in items:
            if isinstance(item, SourceNotice):
                self._notice = item
            elif item.too_long:
                self._intake.drop(1)
            else:
                self._take_sample(self._intake.take(item.text, item.arrived))
        return self.view

    def replan(self, plan: Plan) -> None:
        """Read by another plan from now on; averages already captured stay.

        The average under way begins anew. Raises ValueError as the constructor does.
        """
        self._steady = SteadyWatch(self._rules, plan.averaging_time)
        self._plan = plan
        self._progress = None

    def restart(self) -> None:
        """Begin the average under way anew."""
        self._steady.restart()
        self._progress = None

    def discard(self, place: int) -> None:
        """Let go of a captured average; IndexError if there is none at that place."""
        del self._captures[place]

    def _take_sample(self, sample: Sample | None) -> None:
        if sample is None:
            return
        self._sample = sample
        self._progress = self._steady.take(sample)
        if self._progress.capture is not None:
            self._captures.append(self._progress.capture)

    def _aim(self, induced: float) -> Aim:
        target = self._plan.target
        if not target:
            return Aim.NO_TARGET
        near = max(self._rules.target_floor, self._rules.target_share * abs(target))
        along = induced if target > 0.0 else -induced
        if along < -near:
            return Aim.OTHER_SIDE
        if along < abs(target) - near:
            return Aim.BELOW
        return Aim.ABOVE if along > abs(target) + near else Aim.ON_TARGET

    def _ring_fit(self, progress: AveragingProgress, induced: float, aim: Aim) -> RingFit | None:
        """Judge the ring once the fan runs.

        A low signal says nothing of the ring while the pressure is still on its way up.
        """
        signal, plan = progress.window.fan_signal, self._plan
        if signal is None or max(abs(signal), abs(induced)) < self._rules.fan_on:
            return None
        fit = judge_ring(plan.rings, plan.ring, signal, self._formatter)
        on_its_way = aim is Aim.BELOW and progress.state is not Steadiness.STEADY
        if fit is not None and fit.fault is RingFault.SIGNAL_LOW and on_its_way:
            return RingFit(fit.ring, fit.signal, fit.flow)
        return fit
