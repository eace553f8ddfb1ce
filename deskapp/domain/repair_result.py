"""What was worked out about leaks and their repair. SI throughout: flows m3/s, pressures Pa."""

from __future__ import annotations

from datetime import date

from deskapp.domain.base import Frozen
from deskapp.domain.choices import LeakSize, Severity


class SetUpDifference(Frozen):
    """A field in which a retest was not set up like the test it repeats.

    `path` is that of the retest, `before` and `now` are the entries in words. One that `breaks`
    makes another measurement of it; any other only leaves less in common.
    """

    path: str
    label: str
    before: str = ""
    now: str = ""
    breaks: bool = True


class RetestResult(Frozen):
    """A retest held against the test it repeats; `reduction` is positive where it leaks less.

    Uncertainties are expanded ones (k = 2). Parts that both results have in common, named in
    `in_common` as rows of their budgets, count in the difference only by what they differ.
    A reduction that is `told_apart` is greater than its uncertainty. `limit_flow` is the greatest
    flow that meets the limit.
    """

    test: str
    retest_of: str
    system: str
    target_pressure: float
    before: float
    now: float
    reduction: float
    uncertainty: float
    share: float | None = None
    share_uncertainty: float | None = None
    told_apart: bool = False
    limit_flow: float | None = None
    in_common: tuple[str, ...] = ()
    differences: tuple[SetUpDifference, ...] = ()

    @property
    def is_comparable(self) -> bool:
        """Whether both were set up alike in all that makes a measurement."""
        return not any(one.breaks for one in self.differences)


class LedgerRow(Frozen):
    """One quick reading, and what was gained since the one before it that gave a flow.

    `leaks` are the keys of those closed since then. A gain that is not `told_apart` from zero is
    no larger than its uncertainty (k = 2). `flow` None: it could not be worked out.
    """

    key: str
    index: int
    read_on: date | None = None
    read_time: str = ""
    flow: float | None = None
    leaks: tuple[str, ...] = ()
    gain: float | None = None
    uncertainty: float | None = None
    told_apart: bool = False


class RepairLedger(Frozen):
    """The quick readings that follow one test, and what is left above the limit.

    `start` is the flow of the test, read on `start_on`, `last` that of the last reading; `gain` is
    their difference. `limit_flow` is the greatest flow that meets the limit, `excess` what `last`
    is above it, less than zero where it is met. All at `target_pressure`.
    """

    test: str
    system: str
    target_pressure: float
    start: float
    start_on: date | None = None
    rows: tuple[LedgerRow, ...] = ()
    last: float
    gain: float = 0.0
    uncertainty: float = 0.0
    told_apart: bool = False
    limit_flow: float | None = None
    excess: float | None = None


class LeakRank(Frozen):
    """How much one leak matters: its number, its severity, and in `reason` why it is that.

    `usual` is the severity of its kind of place; None where the kind is not known. A severity that
    a person gave `is_given`.
    """

    key: str
    number: int
    system: str = ""
    severity: Severity | None = None
    usual: Severity | None = None
    reason: str = ""
    is_given: bool = False
    is_open: bool = True
    size: LeakSize | None = None
