"""The shelf: what the program brings along as data, read once and passed in."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING, TypeVar, cast

from pydantic import ValidationError

from deskapp.domain.base import Frozen
from deskapp.domain.finding import Finding, Level
from deskapp.domain.photo_subject import PhotoSubject
from deskapp.domain.screening import Guidance, PanBand
from deskapp.domain.vocabulary import (
    ArrivalThing,
    Caution,
    LeakLocation,
    SealingMaterial,
    Stop,
)
from deskapp.domain.zone_pressure import ZoneGuide
from deskapp.i18n import _
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.catalogue import load as load_catalogue

if TYPE_CHECKING:
    from deskapp.domain.limit import Edition

LEAK_LOCATIONS = "leaks/locations.toml"
MATERIALS = "leaks/materials.toml"
CAUTIONS = "safety/cautions.toml"
STOPS = "safety/stops.toml"
ZONE_GUIDES = "safety/zone_guides.toml"
ARRIVAL = "safety/arrival.toml"
PAN_BANDS = "screening/pressure_pan.toml"
PHOTO_CHECKLIST = "photos/checklist.toml"
GUIDANCE = "guidance/cannot_reach_target.toml"
LIMITS = "limits"
SAMPLE_JOBS = "sample_jobs"

Row = TypeVar("Row", bound=Frozen)


@dataclass(frozen=True, slots=True)
class Shelf:
    """Editions of limits, kinds of leak places, cautions, and the report templates by id.

    `materials` are what leaks are closed with, `stops` keep a test from starting, `arrival` is what
    testers change and put back.

    `pan_bands` say what pressure-pan readings tell, `guidance` what to try in which order,
    `photo_subjects` what photos are to show.

    `sample_jobs` is the folder of the sample jobs. `problems` are the findings about data files
    that could not be read; the rest stays usable.
    """

    catalogue: Catalogue = field(default_factory=Catalogue)
    leak_locations: tuple[LeakLocation, ...] = ()
    materials: tuple[SealingMaterial, ...] = ()
    cautions: tuple[Caution, ...] = ()
    stops: tuple[Stop, ...] = ()
    zone_guides: tuple[ZoneGuide, ...] = ()
    arrival: tuple[ArrivalThing, ...] = ()
    pan_bands: tuple[PanBand, ...] = ()
    guidance: tuple[Guidance, ...] = ()
    photo_subjects: tuple[PhotoSubject, ...] = ()
    templates: dict[str, Path] = field(default_factory=dict[str, Path])
    sample_jobs: Path | None = None
    problems: tuple[Finding, ...] = ()

    @property
    def editions(self) -> tuple[Edition, ...]:
        """The editions of limits a job can be judged by."""
        return self.catalogue.editions

    @property
    def offered(self) -> tuple[Edition, ...]:
        """The editions to be shown to choose from: all but the invented examples."""
        return tuple(edition for edition in self.editions if not edition.is_invented)

    def edition(self, edition_id: str) -> Edition | None:
        """Return the edition with this id."""
        return self.catalogue.edition(edition_id)


def load_shelf(resources: Path, templates: Path, extra_limits: Path | None = None) -> Shelf:
    """Read everything the program brings along.

    Args:
        resources: the folder with limits, leak places, cautions and sample jobs.
        templates: the folder with the report templates, one TOML file each.
        extra_limits: the user's own folder of limits; it need not exist.

    Returns:
        The shelf. A file or row that cannot be read is left out and named in `problems`.
    """
    catalogue = load_catalogue(resources / LIMITS, extra_limits)
    locations, about_locations = _rows(resources / LEAK_LOCATIONS, "locations", LeakLocation)
    materials, about_materials = _rows(resources / MATERIALS, "materials", SealingMaterial)
    cautions, about_cautions = _rows(resources / CAUTIONS, "cautions", Caution)
    stops, about_stops = _rows(resources / STOPS, "stops", Stop)
    guides, about_guides = _rows(resources / ZONE_GUIDES, "guides", ZoneGuide)
    arrival, about_arrival = _rows(resources / ARRIVAL, "things", ArrivalThing)
    bands, about_bands = _rows(resources / PAN_BANDS, "bands", PanBand)
    guidance, about_guidance = _rows(resources / GUIDANCE, "steps", Guidance)
    subjects, about_subjects = _rows(resources / PHOTO_CHECKLIST, "subjects", PhotoSubject)
    found_templates = {path.stem: path for path in sorted(templates.glob("*.toml"))}
    about_templates = () if found_templates else (_no_templates(templates),)
    return Shelf(
        catalogue=catalogue,
        leak_locations=locations,
        materials=materials,
        cautions=cautions,
        stops=stops,
        zone_guides=guides,
        arrival=arrival,
        pan_bands=bands,
        guidance=guidance,
        photo_subjects=subjects,
        templates=found_templates,
        sample_jobs=resources / SAMPLE_JOBS,
        problems=(
            *catalogue.problems,
            *about_locations,
            *about_materials,
            *about_cautions,
            *about_stops,
            *about_guides,
            *about_arrival,
            *about_bands,
            *about_guidance,
            *about_subjects,
            *about_templates,
        ),
    )


def _rows(path: Path, name: str, record: type[Row]) -> tuple[tuple[Row, ...], tuple[Finding, ...]]:
    """Return the rows of one file that can be read, and a finding for each that cannot."""
    try:
        data: dict[str, object] = tomllib.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        return (), (_left_out(path, error.strerror or type(error).__name__),)
    except ValueError as error:
        return (), (_left_out(path, str(error)),)
    listed = data.get(name)
    if not isinstance(listed, list):
        return (), (_left_out(path, _("it lists no {name}").format(name=name)),)
    rows: list[Row] = []
    findings: list[Finding] = []
    for number, row in enumerate(cast("list[object]", listed), 1):
        try:
            rows.append(record.model_validate(row))
        except ValidationError as error:
            fault = error.errors(include_url=False)[0]
            place = ".".join(str(part) for part in fault["loc"])
            why = _("row {n}, {place}: {fault}").format(n=number, place=place, fault=fault["msg"])
            findings.append(_left_out(path, why))
    return tuple(rows), tuple(findings)


def _left_out(path: Path, why: str) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="data-file",
        what=_("Part of {file} was left out: {why}.").format(file=path.name, why=why.rstrip(".")),
        allowed=_("Reports made now may lack leak places or safety notes."),
        mend=_("Install the program again, or mend the file."),
    )


def _no_templates(folder: Path) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="no-templates",
        what=_("There are no report templates in the folder {folder}.").format(folder=folder.name),
        allowed=_("Reports cannot be made without them."),
        mend=_("Install the program again."),
    )
