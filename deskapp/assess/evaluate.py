"""From a job to everything that follows from it: one pure function."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from deskapp.assess.area_base import estimate_findings
from deskapp.assess.area_guardian import area_findings, house_areas
from deskapp.assess.asked_for import unsupported_claim
from deskapp.assess.beside_verdict import beside_verdict
from deskapp.assess.complete import complete
from deskapp.assess.ledger import ledgers
from deskapp.assess.limit_findings import limit_findings
from deskapp.assess.limit_misfits import misfit_findings
from deskapp.assess.memo import Memo
from deskapp.assess.owner_money import bill_findings
from deskapp.assess.pan import pan_findings
from deskapp.assess.place_findings import place_findings
from deskapp.assess.retests import retests
from deskapp.assess.trial import Trial, work_out_test
from deskapp.assess.untested import untested_findings
from deskapp.assess.verdict import house_flow, judge_system
from deskapp.domain.checks import check
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding
from deskapp.domain.job import Job
from deskapp.domain.result import (
    Assessment,
    HouseResult,
    SystemResult,
    TestResult,
    Verdict,
)
from deskapp.domain.system import DuctSystem
from deskapp.domain.usable import set_aside, usable
from deskapp.i18n import _, labeled
from deskapp.physics import leakage
from deskapp.units.display import words_key


def evaluate(job: Job, memo: Memo | None = None) -> Assessment:
    """Work out every test, judge every system, and say what stands in the way.

    Pure: the same job gives the same assessment, and nothing is read or written. It never raises
    for what a person typed; a value that cannot be right is set aside, with a stop that names it.
    A `memo` saves working out again what has not changed since it was last given, nothing else.
    """
    memo = Memo() if memo is None else memo
    memo.begin()
    found = list(check(job, memo.kept))
    aside = set_aside(found)
    clean = usable(job, aside)
    beside = memo.kept("surroundings", _beside_tests(clean), object)
    trials = _trials(job, clean, aside, beside, memo)
    results = {trial.result.test: trial.result for trial in trials}
    found += [
        finding for trial in trials for finding in trial.findings if finding.path not in aside
    ]
    systems = _judged(clean, results, aside, beside, memo)
    found += bill_findings(clean)
    systems, told = _beside(clean, systems, results, beside, memo)
    found += told
    ledger, ledger_told = ledgers(clean, results, systems, aside)
    repeated, repeated_told = retests(clean, results, systems)
    found += (*ledger_told, *repeated_told)
    held = frozenset(key for key, result in results.items() if result.held)
    found += limit_findings(clean, systems, held)
    found += misfit_findings(clean)
    found += unsupported_claim(clean, systems)
    found += untested_findings(clean, systems)
    verdict, reason = _overall(systems)
    house = _house(clean, results, systems)
    found += estimate_findings(clean, systems)
    found += area_findings(clean, systems, house)
    found += pan_findings(clean)
    found += place_findings(clean)
    return Assessment(
        job_number=job.number,
        tests=tuple(trial.result for trial in trials),
        systems=systems,
        house=house,
        ledgers=ledger,
        retests=repeated,
        verdict=verdict,
        reason=reason,
        findings=_sorted(found),
    )


def _trials(job: Job, clean: Job, aside: frozenset[str], beside: object, memo: Memo) -> list[Trial]:
    """Work out every test of the `clean` job; each follows from itself and all that is no test."""

    def worked(position: int) -> Trial:
        held_by = _held_by(job, position, aside)

        def work() -> Trial:
            blocked = bool(held_by)
            trial = work_out_test(clean, position, blocked=blocked, beside=beside, memo=memo)
            return _told_as_held(trial, held_by) if blocked else trial

        return memo.kept("test", (position, held_by, clean.tests[position], beside), work)

    return complete(clean, map(worked, range(len(clean.tests))), memo)


def _judged(
    job: Job, results: dict[str, TestResult], aside: frozenset[str], beside: object, memo: Memo
) -> tuple[SystemResult, ...]:
    """Judge every system; each follows from itself, its own tests and all that is no test."""

    def judged(position: int, system: DuctSystem) -> SystemResult:
        nominal = _flow_may_be_nominal(position, aside)
        tests = job.tests_of(system.key)
        return memo.kept(
            "system",
            (nominal, system, *tests, *(results[test.key] for test in tests), beside),
            lambda: judge_system(job, system, results, nominal=nominal, memo=memo),
        )

    return tuple(judged(position, system) for position, system in enumerate(job.systems))


def _beside(
    job: Job,
    judged: tuple[SystemResult, ...],
    results: dict[str, TestResult],
    beside: object,
    memo: Memo,
) -> tuple[tuple[SystemResult, ...], list[Finding]]:
    """Give every system what stands beside its verdict; each follows from what judging it does."""
    systems: list[SystemResult] = []
    found: list[Finding] = []
    for system, result in zip(job.systems, judged, strict=True):
        tests = job.tests_of(system.key)
        places = (job.tests.index(test) for test in tests)
        parts = (system, result, *tests, *(results[test.key] for test in tests), *places, beside)
        work = partial(beside_verdict, job, system, result, results)
        whole, told = memo.kept("beside", parts, work)
        systems.append(whole)
        found += told
    return tuple(systems), found


def _beside_tests(job: Job) -> tuple[object, ...]:
    """Return all that a result may follow from beside tests: way of words, other records.

    Pictures and what is drawn on them are looked at by people alone.
    """
    names = [name for name in Job.model_fields if name not in ("tests", "photos", "sketch")]
    return (words_key(), *(getattr(job, name) for name in names))


def _held_by(job: Job, position: int, aside: frozenset[str]) -> str:
    """Return the first value set aside that belongs to the test at `position` or to its fan."""
    if not aside:
        return ""
    fan = job.fan(job.tests[position].setup.fan)
    fans = [item.key for item in job.fans]
    prefixes = [f"tests.{position}."]
    if fan is not None:
        row = fans.index(fan.key)
        prefixes.append(f"fans.{row}.calibration_density")
        rings = [ring.key for ring in fan.rings]
        if job.tests[position].setup.ring in rings:
            prefixes.append(f"fans.{row}.rings.{rings.index(job.tests[position].setup.ring)}.")
    own = (path for path in aside if any(path.startswith(prefix) for prefix in prefixes))
    return min(own, default="")


def _told_as_held(trial: Trial, path: str) -> Trial:
    """Return a test that gives no result because of the value at `path`, and says so."""
    words = _("{field} cannot be used as it stands, so this test gives no result. Mend it first.")
    update = {"held": words.format(field=label_of(path)), "held_by": path}
    return replace(trial, result=trial.result.model_copy(update=update))


def _flow_may_be_nominal(position: int, aside: frozenset[str]) -> bool:
    """Say whether none of the values a nominal fan flow takes the place of, or needs, is unread."""
    names = ("fan_flow", "cooling_capacity", "heating_output")
    return aside.isdisjoint(f"systems.{position}.{name}" for name in names)


def _overall(systems: tuple[SystemResult, ...]) -> tuple[Verdict, str]:
    """Combine: the job passes only when every system passes."""
    verdicts = [system.verdict for system in systems]
    if not verdicts:
        return Verdict.NONE, _("No duct system is recorded.")
    if Verdict.FAIL in verdicts:
        return Verdict.FAIL, ""
    for system in systems:
        if system.verdict is Verdict.NONE:
            return Verdict.NONE, labeled(system.name, system.reason)
    return Verdict.PASS, ""


def _house(
    job: Job, results: dict[str, TestResult], systems: tuple[SystemResult, ...]
) -> HouseResult:
    areas = house_areas(job, systems)
    if not systems:
        return areas
    flow, hides = house_flow(job, results, systems)
    area = areas.system_area
    per_area = leakage.flow_per_area(flow, area) if flow is not None and area else None
    return areas.model_copy(update={"flow": flow, "flow_per_area": per_area, "would_hide": hides})


def _sorted(findings: list[Finding]) -> tuple[Finding, ...]:
    seen: dict[Finding, None] = dict.fromkeys(findings)
    return tuple(sorted(seen, key=lambda finding: finding.level.rank))
