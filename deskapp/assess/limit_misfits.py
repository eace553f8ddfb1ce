"""A chosen limit that what is entered of the job speaks against: its place, its date, its building.

Only what contradicts counts; what is not known leaves open whether a limit binds.
"""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.limit import Edition
from deskapp.i18n import _
from deskapp.limits.candidates import Aspect, AspectFit, about_edition
from deskapp.limits.fit import Fit
from deskapp.limits.places import read_place

_FIELDS = {
    Aspect.PLACE: "site.region",
    Aspect.DATE: "site.permit_date",
    Aspect.BUILDING: "house.building_type",
}
"""What facts can contradict, and where each is entered. The reason for a test is left out: a
program can bind beside the code that a test is made for."""


def misfits(edition: Edition, job: Job) -> Iterator[AspectFit]:
    """Yield in what `edition` does not fit the job, as far as facts of both contradict."""
    for point in about_edition(edition, job, read_place(job.site.region)):
        if point.aspect in _FIELDS and point.fits is Fit.NO:
            yield point


def misfit_findings(job: Job) -> Iterator[Finding]:
    """Yield each chosen limit that does not fit the job, at the entry that speaks against it."""
    for limit in job.compliance.limits:
        for point in misfits(limit.edition, job):
            path = _FIELDS[point.aspect]
            yield Finding(
                level=Level.CHECK,
                code="limit_misfit",
                path=path,
                what=_("{edition} does not fit this job: {why}.").format(
                    edition=limit.edition.name, why=point.why
                ),
                allowed=_("The verdict is drawn by it all the same."),
                mend=_("Correct “{field}”, or choose the limit that applies here.").format(
                    field=label_of(path)
                ),
            )
