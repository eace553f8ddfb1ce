"""The airtightness classes that a duct section reaches by its leakage per duct surface."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Metric
from deskapp.domain.job import Job
from deskapp.domain.limit import (
    ChosenLimit,
    LimitRow,
    SurfaceClass,
    SurfaceLeakageClass,
    Verification,
)
from deskapp.domain.measured import si_of
from deskapp.domain.result import TestResult
from deskapp.domain.result_parts import DuctClass
from deskapp.domain.trial import LeakageTest
from deskapp.i18n import N_, _
from deskapp.limits.case import Case, Comparison
from deskapp.limits.judge import compare
from deskapp.physics import leakage
from deskapp.units.convert import to_unit
from deskapp.units.display import in_sentences

# Class of EN 16798-3 with the letter of EN 12237 and EN 1507, and its k in L/(s m2) at 1 Pa.
_EUROPEAN: tuple[tuple[str, float], ...] = (
    (N_("ATC 6"), 0.0675),
    (N_("ATC 5 (class A)"), 0.027),
    (N_("ATC 4 (class B)"), 0.009),
    (N_("ATC 3 (class C)"), 0.003),
    (N_("ATC 2 (class D)"), 0.001),
    (N_("ATC 1"), 0.00033),
)
_UNCLASSIFIED = N_("ATC 7 (not classified)")
_EUROPEAN_SOURCE = N_(
    "EN 16798-3:2017, letters of EN 12237:2003 and EN 1507:2006; read in secondary sources"
)
_LEAKAGE_CLASS_SOURCE = N_(
    "SMACNA HVAC Air Duct Leakage Test Manual, leakage class C = F / P^0.65; read in a secondary "
    "source"
)


def classes(job: Job, test: LeakageTest, result: TestResult) -> tuple[DuctClass, ...]:
    """Return the classes a tested section reaches; none without a duct surface or a flow."""
    system = job.system(test.system)
    surface = si_of(system.duct_surface) if system else None
    pressure = result.target_pressure
    if not surface or surface <= 0.0 or not result.flow or pressure is None:
        return ()
    if result.metric is not Metric.TOTAL or not test.setup.is_whole or system is None:
        return ()
    case = Case(flow=result.flow, target_pressure=pressure, duct_surface=system.duct_surface)
    found = [
        _european(case),
        _leakage_class(job, result.flow / surface, pressure),
        *(one for limit in job.compliance.limits if (one := _of_edition(limit, case))),
    ]
    return tuple(one for one in found if one is not None)


def _european(case: Case) -> DuctClass | None:
    met, missed = _UNCLASSIFIED, ("", None)
    value, limit = 0.0, None
    for name, k in _EUROPEAN:
        comparison = compare(SurfaceClass(kind="surface_class", k=k), case, "L/s")
        if not isinstance(comparison, Comparison):
            return None
        value = comparison.measured
        if not comparison.is_met:
            missed = (_(name), comparison.limit)
            break
        met, limit = name, comparison.limit
    return DuctClass(
        standard="EN 16798-3",
        edition="2017",
        name=_(met),
        value=value,
        unit="L/s/m2",
        limit=limit,
        next_name=missed[0],
        next_limit=missed[1],
        source=_(_EUROPEAN_SOURCE),
        status=Verification.SECONDARY,
    )


def _leakage_class(job: Job, flow_per_surface: float, pressure: float) -> DuctClass | None:
    rate, inches = to_unit(flow_per_surface, "cfm/100ft2"), to_unit(pressure, "inH2O")
    try:
        number = leakage.surface_leakage_class(rate, inches)
    except ValueError:
        return None
    editions = [
        limit.edition.edition
        for limit in job.compliance.limits
        if any(isinstance(row.rule, SurfaceLeakageClass) for row in limit.edition.rows)
    ]
    return DuctClass(
        standard="SMACNA",
        edition=editions[0] if editions else _("1985 and 2012, which share the equation"),
        name=_("Leakage class {number}").format(number=in_sentences().number(number, 1)),
        value=number,
        source=_(_LEAKAGE_CLASS_SOURCE),
        status=Verification.SECONDARY,
    )


def _of_edition(limit: ChosenLimit, case: Case) -> DuctClass | None:
    """Return the strictest class of a chosen edition that is met, if it has classes."""
    known = sorted(_classes_of(limit, case), key=lambda pair: pair[1].limit)
    met = [pair for pair in known if pair[1].is_met]
    if not met:
        return None
    row, comparison = met[0]
    tighter = [pair for pair in known if pair[1].limit < comparison.limit]
    following = tighter[-1] if tighter else None
    return DuctClass(
        standard=limit.edition.title,
        edition=limit.edition.edition,
        name=_(row.title),
        value=comparison.measured,
        unit=comparison.unit,
        limit=comparison.limit,
        next_name=_(following[0].title) if following else "",
        next_limit=following[1].limit if following else None,
        source=_(row.source),
        status=row.status,
    )


def _classes_of(limit: ChosenLimit, case: Case) -> Iterator[tuple[LimitRow, Comparison]]:
    for row in limit.edition.rows:
        if not isinstance(row.rule, SurfaceClass | SurfaceLeakageClass):
            continue
        comparison = compare(row.rule, case, limit.edition.unit)
        if isinstance(comparison, Comparison):
            yield row, comparison
