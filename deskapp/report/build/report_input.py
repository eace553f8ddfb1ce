"""Everything a report is made from."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from deskapp.report.blocks import Paper

if TYPE_CHECKING:
    from collections.abc import Mapping
    from datetime import date

    from deskapp.domain.branding import Branding
    from deskapp.domain.issue import Issue
    from deskapp.domain.job import Job
    from deskapp.domain.photo_subject import PhotoSubject
    from deskapp.domain.result import Assessment
    from deskapp.domain.screening import Guidance, PanBand
    from deskapp.domain.vocabulary import Caution, LeakLocation, SealingMaterial, Stop
    from deskapp.units.display import Formatter


@dataclass(frozen=True, slots=True, kw_only=True)
class ReportInput:
    """A job, what was worked out from it, and what its report needs besides.

    `cautions` and `stops` are all the program knows; those the job calls for are chosen here.
    `pan_bands` say what pressure-pan readings tell, `guidance` what to try in which order. `photos`
    holds picture bytes by digest, `issued_on` the day printed on the report and written into the
    file. `photo_subjects` name what photos show; with `photo_slate` a strip below each photo ties
    it to the job.
    `issue` is the one under which the report is handed out, last among those of the job; None for a
    report that is only saved or looked at.
    """

    job: Job
    assessment: Assessment
    branding: Branding
    formatter: Formatter
    issued_on: date
    leak_locations: tuple[LeakLocation, ...] = ()
    materials: tuple[SealingMaterial, ...] = ()
    cautions: tuple[Caution, ...] = ()
    stops: tuple[Stop, ...] = ()
    pan_bands: tuple[PanBand, ...] = ()
    guidance: tuple[Guidance, ...] = ()
    photo_subjects: tuple[PhotoSubject, ...] = ()
    photo_slate: bool = False
    photos: Mapping[str, bytes] = field(default_factory=dict[str, bytes])
    logo: bytes | None = None
    paper: Paper = Paper.LETTER
    issue: Issue | None = None
