"""Invented jobs for the report tests: names, places, rings and readings are made up."""

from __future__ import annotations

import hashlib
import tomllib
from datetime import date
from io import BytesIO

from PIL import Image
from report_parts import ROOT, SITE
from report_retrofit import retrofit
from report_rough_in import rough_in

from deskapp.archive.job_file import read
from deskapp.assess.evaluate import evaluate
from deskapp.domain.branding import Branding
from deskapp.domain.job import Job
from deskapp.domain.leak import Photo
from deskapp.domain.screening import Guidance, PanBand
from deskapp.domain.site import Client
from deskapp.domain.vocabulary import Caution, LeakLocation, SealingMaterial, Stop
from deskapp.report.build.report_input import ReportInput
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

IP = Formatter(UnitSystem.IP, NumberStyle.POINT)
SI = Formatter(UnitSystem.SI, NumberStyle.COMMA)
ISSUED = date(2026, 3, 12)
BRANDING = Branding(
    company="Example Duct Works",
    license="License EX-1204",
    address="12 Sample Road, Sampleton",
    phone="(555) 010-0199",
    email="office@example.com",
)


def shelf_parts() -> dict[str, object]:
    """Leak places and cautions as the program ships them, for `ReportInput`."""

    def rows(path: str, name: str) -> list[dict[str, object]]:
        return tomllib.loads((ROOT / "resources" / path).read_text(encoding="utf-8"))[name]

    return {
        "leak_locations": tuple(
            LeakLocation.model_validate(item) for item in rows("leaks/locations.toml", "locations")
        ),
        "materials": tuple(
            SealingMaterial.model_validate(item)
            for item in rows("leaks/materials.toml", "materials")
        ),
        "cautions": tuple(
            Caution.model_validate(item) for item in rows("safety/cautions.toml", "cautions")
        ),
        "stops": tuple(Stop.model_validate(item) for item in rows("safety/stops.toml", "stops")),
        "pan_bands": tuple(
            PanBand.model_validate(item) for item in rows("screening/pressure_pan.toml", "bands")
        ),
        "guidance": tuple(
            Guidance.model_validate(item)
            for item in rows("guidance/cannot_reach_target.toml", "steps")
        ),
    }


def report_input(job: Job, **given: object) -> ReportInput:
    """Everything a report of `job` is made from, with what was worked out by the program."""
    made = {
        "assessment": evaluate(job),
        "branding": BRANDING,
        "formatter": IP,
        "issued_on": ISSUED,
        **shelf_parts(),
        **given,
    }
    return ReportInput(job=job, **made)


def signed(
    size: tuple[int, int] = (300, 90), ink: tuple[int, int, int] = (16, 24, 40), **tester: str
) -> tuple[Job, dict[str, bytes]]:
    """The rough-in with a picture of a signature, all ink, and other entries of the tester."""
    buffer = BytesIO()
    Image.new("RGB", size, ink).save(buffer, "PNG")
    data = buffer.getvalue()
    photo = Photo(digest=hashlib.sha256(data).hexdigest(), name="signed.png")
    job = rough_in()
    changed = job.tester.model_copy(update={**tester, "signature": photo})
    return job.model_copy(update={"tester": changed}), {photo.digest: data}


def sample(name: str) -> Job:
    """One of the invented sample jobs the program ships."""
    return read(ROOT / "resources" / "sample_jobs" / name).job


LONG_NAME = "Łukasz-Maximilian Нгуен <b>O’Brien & Søns</b> " * 6
LONG_WORD = "Wassermannsdorferstraßenbahnhaltestelle" * 5


def with_leaks(count_of_leaks: int) -> Job:
    """The retrofit with as many leaks as wanted and no photographs."""
    job, _photos = retrofit()
    leaks = tuple(
        job.leaks[number % len(job.leaks)].model_copy(
            update={"key": f"m{number}", "place": f"Place number {number + 1}", "photos": ()}
        )
        for number in range(count_of_leaks)
    )
    return job.model_copy(update={"leaks": leaks})


def long_names() -> Job:
    """A job whose texts are far longer than usual and full of markup characters."""
    job = rough_in()
    return job.model_copy(
        update={
            "number": "J-" + "9" * 60,
            "client": Client(name=LONG_NAME),
            "site": SITE.model_copy(update={"address": LONG_WORD, "city": LONG_NAME}),
            "systems": tuple(
                system.model_copy(
                    update={"name": LONG_NAME, "serves": LONG_WORD, "visual_notes": "note " * 2500}
                )
                for system in job.systems
            ),
            "comments": "A long comment. " * 400,
        }
    )
