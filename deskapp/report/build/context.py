"""What the building of blocks looks at: job and results side by side, and the names in wordings."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from deskapp.domain.choices import Metric
from deskapp.domain.measured import day_of
from deskapp.domain.result import LimitOutcome, SystemResult, TestResult, Verdict
from deskapp.domain.system import DuctSystem
from deskapp.i18n import _
from deskapp.report.blocks import Sign
from deskapp.report.build.situations import situations_of
from deskapp.report.template_base import Situation

if TYPE_CHECKING:
    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job
    from deskapp.domain.trial import LeakageTest
    from deskapp.report.build.report_input import ReportInput
    from deskapp.report.template import Template
    from deskapp.units.display import Formatter

NOT_IN_JOB = -1
SAME_PRESSURE_PA = 0.5
VERDICT_SIGNS = {Verdict.PASS: Sign.PASS, Verdict.FAIL: Sign.FAIL, Verdict.NONE: Sign.NONE}


@dataclass(frozen=True, slots=True)
class TestView:
    """A test, its position in the job, and what was worked out from it."""

    __test__ = False

    index: int
    test: LeakageTest
    result: TestResult | None


@dataclass(frozen=True, slots=True)
class SystemView:
    """A duct system, its position in the job, its result, and its tests in order.

    Tests that belong to no system have a view of their own, whose position is `NOT_IN_JOB`.
    """

    index: int
    system: DuctSystem
    result: SystemResult
    tests: tuple[TestView, ...]

    @property
    def name(self) -> str:
        """What the system is called."""
        return self.system.name or _("System {n}").format(n=self.index + 1)

    @property
    def latest(self) -> TestView | None:
        """The test the verdict rests on."""
        by_key = {view.test.key: view for view in self.tests}
        outcome = self.deciding
        key = outcome.test if outcome is not None and outcome.test else self.result.test
        return by_key.get(key, self.tests[-1] if self.tests else None)

    @property
    def deciding(self) -> LimitOutcome | None:
        """The outcome that decides: one not met before one undecided before the closest met."""
        outcomes = [one for one in self.result.outcomes if one.verdict is self.result.verdict]
        if not outcomes:
            return self.result.outcomes[0] if self.result.outcomes else None
        return min(outcomes, key=_spare_share)


@dataclass(frozen=True, slots=True)
class Context:
    """The input of a report, the template, and what holds for this job.

    `systems` are those the blocks are to speak of; inside a block for one system it is only that.
    `others` hold the tests that belong to no system. `told` are the set-up fields printed once for
    all tests of the system.
    """

    source: ReportInput
    template: Template
    situations: frozenset[Situation]
    names: dict[str, str]
    systems: tuple[SystemView, ...]
    others: tuple[SystemView, ...] = ()
    narrowed: bool = False
    test: TestView | None = None
    told: frozenset[str] = frozenset()

    @property
    def job(self) -> Job:
        """The job."""
        return self.source.job

    @property
    def formatter(self) -> Formatter:
        """The writer of numbers."""
        return self.source.formatter

    @property
    def tells_systems_apart(self) -> bool:
        """Whether a table has to say which system a row belongs to: there are two or more."""
        return len(self.job.systems) > 1

    def prints(self, when: tuple[Situation, ...], unless: tuple[Situation, ...]) -> bool:
        """Say whether something is printed: all of `when` hold and none of `unless`."""
        return self.situations.issuperset(when) and self.situations.isdisjoint(unless)

    def only(self, system: SystemView) -> Context:
        """Return the context that speaks of one system."""
        return replace(self, systems=(system,), others=(), narrowed=True)

    def only_test(self, test: TestView, told: frozenset[str] = frozenset()) -> Context:
        """Return the context that speaks of one test; `told` fields need no second printing."""
        return replace(self, test=test, told=told)

    def tests_of(self, view: SystemView, *, earlier_too: bool) -> tuple[TestView, ...]:
        """Return the tests of a system to speak of: all, the deciding, or the one narrowed to."""
        if self.test is not None:
            return (self.test,)
        if earlier_too:
            return view.tests
        return () if view.latest is None else (view.latest,)


def context_of(source: ReportInput, template: Template) -> Context:
    """Return the context of a report."""
    return Context(
        source=source,
        template=template,
        situations=situations_of(source, template.audience),
        names=_names(source),
        systems=_system_views(source),
        others=_other_views(source),
    )


def _system_views(source: ReportInput) -> tuple[SystemView, ...]:
    job, assessment = source.job, source.assessment
    tests = _test_views(source)
    return tuple(
        SystemView(
            position,
            system,
            assessment.of_system(system.key) or SystemResult(system=system.key, name=system.name),
            tuple(view for view in tests if view.test in job.tests_of(system.key)),
        )
        for position, system in enumerate(job.systems)
    )


def _other_views(source: ReportInput) -> tuple[SystemView, ...]:
    """Return views that keep in sight the tests of the house itself and those of no system."""
    systems = {system.key for system in source.job.systems}
    of_house: list[TestView] = []
    of_nothing: list[TestView] = []
    for view in _test_views(source):
        if view.test.setup.metric is Metric.ENVELOPE:
            of_house.append(view)
        elif view.test.system not in systems:
            of_nothing.append(view)
    named = ((_("The house itself"), of_house), (_("System not stated"), of_nothing))
    return tuple(
        SystemView(
            NOT_IN_JOB,
            DuctSystem(key="", name=name),
            SystemResult(system="", name=name),
            tuple(tests),
        )
        for name, tests in named
        if tests
    )


def _test_views(source: ReportInput) -> tuple[TestView, ...]:
    return tuple(
        TestView(position, test, source.assessment.test(test.key))
        for position, test in enumerate(source.job.tests)
    )


def _names(source: ReportInput) -> dict[str, str]:
    job, branding, formatter = source.job, source.branding, source.formatter
    days = [day for test in job.tests if (day := day_of(test.tested_on)) is not None]
    tested = (
        " – ".join(formatter.day(day) for day in sorted({min(days), max(days)})) if days else ""
    )
    return {
        "company": branding.company or job.tester.company,
        "phone": branding.phone or job.tester.phone,
        "license": branding.license or job.tester.certification,
        "owner": job.client.name,
        "address": address_of(job),
        "job_number": job.number,
        "test_day": tested,
        "issued_on": formatter.day(source.issued_on),
        "tester": job.tester.name,
        "system_count": str(len(job.systems)),
        "comments": job.comments.strip(),
        "issue": _issue_words(source.issue),
    }


def _issue_words(issue: Issue | None) -> str:
    if issue is None:
        return ""
    return _("Issue {n}, {mark}").format(n=issue.revision, mark=issue.short_mark)


def address_of(job: Job) -> str:
    """Return street or lot, city, state and postal code on one line, as far as they are known."""
    site = job.site
    street = ", ".join(part for part in (site.address, site.lot) if part)
    region = " ".join(part for part in (site.region, site.postcode) if part)
    return ", ".join(part for part in (street, site.city, region) if part)


def _spare_share(outcome: LimitOutcome) -> float:
    if outcome.margin is None or not outcome.limit_value:
        return 0.0
    return outcome.margin / abs(outcome.limit_value)
