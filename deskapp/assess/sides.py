"""Supply and return measured apart, and their sum against the whole system."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Metric, Part, Stage
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import si_of
from deskapp.domain.result import SystemResult, TestResult
from deskapp.domain.result_parts import SidesResult
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import _
from deskapp.units.display import in_sentences
from deskapp.units.kinds import Kind

AGREEMENT = 0.10
"""Difference of the sum from the whole that counts as agreement, or the combined uncertainty where
that is greater. House rule of this program."""

_Like = tuple[Stage | None, Metric | None, float]


def with_sides(
    job: Job, system: SystemResult, results: dict[str, TestResult]
) -> tuple[SystemResult, tuple[Finding, ...]]:
    """Return the system with its two sides added up, and what is to be said about the sum."""
    sides = tuple(_sides(job, system.system, results))
    if not sides:
        return system, ()
    findings = tuple(_disagreement(job, system.name, one) for one in sides if one.agrees is False)
    return system.model_copy(update={"sides": sides}), findings


def _sides(job: Job, key: str, results: dict[str, TestResult]) -> Iterator[SidesResult]:
    latest: dict[tuple[_Like, Part], TestResult] = {}
    for test in job.tests_of(key):
        result = results[test.key]
        if result.flow is not None and result.target_pressure is not None:
            latest[_like(test, result), result.part] = result
    for (like, part), supply in latest.items():
        if part is not Part.SUPPLY:
            continue
        returns = latest.get((like, Part.RETURN))
        if returns is not None:
            yield _added_up(like, supply, returns, latest.get((like, Part.WHOLE)))


def _like(test: LeakageTest, result: TestResult) -> _Like:
    return test.setup.stage, test.setup.metric, result.target_pressure or 0.0


def _added_up(
    like: _Like, supply: TestResult, returns: TestResult, whole: TestResult | None
) -> SidesResult:
    stage, metric, pressure = like
    parts = SidesResult(
        stage=stage,
        metric=metric,
        target_pressure=pressure,
        supply_test=supply.test,
        return_test=returns.test,
        supply=supply.flow or 0.0,
        returns=returns.flow or 0.0,
        sum=(supply.flow or 0.0) + (returns.flow or 0.0),
    )
    if whole is None or whole.flow is None:
        return parts
    difference = parts.sum - whole.flow
    expanded = sum(
        one.budget.expanded**2 for one in (supply, returns, whole) if one.budget is not None
    )
    allowed = max(AGREEMENT * whole.flow, expanded**0.5)
    return parts.model_copy(
        update={
            "total_test": whole.test,
            "total": whole.flow,
            "difference": difference,
            "allowed": allowed,
            "agrees": abs(difference) <= allowed,
        }
    )


def stated(position: int, test: LeakageTest, result: TestResult) -> Iterator[Finding]:
    """Yield what is to be said about leakage of the sides that is entered beside a test."""
    supply, back = si_of(test.supply_alone), si_of(test.return_alone)
    path = f"tests.{position}"
    if (supply is None) is not (back is None):
        name = "return_alone" if back is None else "supply_alone"
        yield Finding(
            level=Level.CHECK,
            code="one_side_stated",
            path=f"{path}.{name}",
            what=_("{label} is missing, and the other side is entered.").format(
                label=label_of(f"{path}.{name}")
            ),
            mend=_("Enter both sides, or neither."),
        )
    if supply is None or back is None or result.flow is None:
        return
    allowed = AGREEMENT * result.flow
    if abs(supply + back - result.flow) <= allowed:
        return
    both = in_sentences().both
    yield Finding(
        level=Level.CHECK,
        code="stated_sides_sum",
        path=f"{path}.supply_alone",
        what=_(
            "Test {n}: the sides entered add up to {sum}, but the whole system read {total}."
        ).format(
            n=position + 1,
            sum=both(Kind.FLOW, supply + back),
            total=both(Kind.FLOW, result.flow),
        ),
        allowed=_("They should agree within {allowed}.").format(allowed=both(Kind.FLOW, allowed)),
        mend=_("Look for air passing the block between the sides, or correct an entry."),
    )


def _disagreement(job: Job, name: str, one: SidesResult) -> Finding:
    keys = [test.key for test in job.tests]
    both = in_sentences().both
    return Finding(
        level=Level.CHECK,
        code="sides_sum",
        path=f"tests.{keys.index(one.supply_test)}.setup.part",
        what=_(
            "{system}: supply ({supply}) and return ({returns}) add up to {sum}, but the whole "
            "system read {total}."
        ).format(
            system=name,
            supply=both(Kind.FLOW, one.supply),
            returns=both(Kind.FLOW, one.returns),
            sum=both(Kind.FLOW, one.sum),
            total=both(Kind.FLOW, one.total or 0.0),
        ),
        allowed=_("They should agree within {allowed}.").format(
            allowed=both(Kind.FLOW, one.allowed or 0.0)
        ),
        mend=_("Look for air passing the block between the sides, and check ring and tap of each."),
    )
