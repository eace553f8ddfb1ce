"""Papers in each language and on each sheet, and where things stand in them; jobs invented."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache, partial
from io import BytesIO
from itertools import pairwise

from pypdf import PdfReader
from report_jobs import ROOT, report_input, retrofit, rough_in, with_leaks

from deskapp.archive.job_file import read
from deskapp.assess.evaluate import evaluate
from deskapp.domain.issue import Issue
from deskapp.domain.job import Job
from deskapp.i18n import speaking
from deskapp.report.archival.finish import finish
from deskapp.report.archival.metadata import Information
from deskapp.report.archival.structure import HEADINGS, Element, Role
from deskapp.report.blocks import Document, Paper
from deskapp.report.build.document import build
from deskapp.report.pdf.compose import compose
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.look import look_of
from deskapp.report.pdf.sheet import print_sheets
from deskapp.report.template import in_words_of_the_language, read_template
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import usual_style

KINDS = ("homeowner", "compliance", "technical", "retest")
LANGUAGES = {"en": UnitSystem.IP, "es": UnitSystem.IP, "fr_CA": UnitSystem.SI}


def sample_with_photos(name: str) -> tuple[Job, dict[str, bytes]]:
    """A sample job the program ships, with its pictures by digest."""
    folder = ROOT / "resources" / "sample_jobs" / name
    photos = {file.stem: file.read_bytes() for file in (folder / "photos").glob("*")}
    return read(folder).job, photos


def four_systems() -> tuple[Job, dict[str, bytes]]:
    """The rough-in with each of its two systems and tests there twice."""
    job = rough_in()
    systems, tests = list(job.systems), list(job.tests)
    for key, of, serves in (
        ("s3", 0, "finished basement"),
        ("s4", 1, "apartment above the garage"),
    ):
        name = f"System {key[1]}"
        systems.append(systems[of].model_copy(update={"key": key, "name": name, "serves": serves}))
        told = {"key": f"t{key}", "system": key, "label": f"{name}, first test"}
        tests.append(tests[of].model_copy(update=told))
    return job.model_copy(update={"systems": tuple(systems), "tests": tuple(tests)}), {}


def long_words() -> tuple[Job, dict[str, bytes]]:
    """The first sample with an address and names longer than most."""
    job, photos = sample_with_photos("larkspur")
    site = {
        "address": "12345 North-West Old Sampleton Mill Race Boulevard, Building C, Unit 1204",
        "city": "Saint-Exemple-de-la-Rivière-du-Nord",
        "builder": "The Sampleton and Exampleville Residential Construction Cooperative",
        "jurisdiction": "City of Saint-Exemple, department of building inspection and permits",
    }
    names = {
        "name": "Variable-speed heat pump system, upper floors and bonus room",
        "serves": "second floor bedrooms, hall bathroom, bonus room over the garage",
    }
    told = {
        "site": job.site.model_copy(update=site),
        "number": "2026-EX-SMP-000471-B",
        "systems": tuple(system.model_copy(update=names) for system in job.systems),
    }
    return job.model_copy(update=told), photos


def open_stop() -> tuple[Job, dict[str, bytes]]:
    """The retrofit with two dangers whose stops nobody acknowledged."""
    job, photos = retrofit()
    return job.model_copy(update={"acknowledgments": ()}), photos


def photographed_leaks() -> tuple[Job, dict[str, bytes]]:
    """The retrofit with thirty leaks, all with photographs."""
    job, photos = retrofit()
    shown = [leak for leak in job.leaks if leak.photos]
    leaks = tuple(
        shown[number % len(shown)].model_copy(update={"key": f"p{number}"}) for number in range(30)
    )
    return job.model_copy(update={"leaks": leaks}), photos


def in_danger(name: str) -> tuple[Job, dict[str, bytes]]:
    """A job with the two dangers of the retrofit, both gone past by somebody."""
    job, photos = JOBS[name]()
    dangers = retrofit()[0]
    told = {"safety": dangers.safety, "acknowledgments": dangers.acknowledgments}
    return job.model_copy(update=told), photos


JOBS = {
    "larkspur": lambda: sample_with_photos("larkspur"),
    "maple": lambda: sample_with_photos("maple"),
    "two dangers": retrofit,
    "open stop": open_stop,
    "four systems": four_systems,
}
DANGERS = {
    f"{name}, two dangers": partial(in_danger, name)
    for name in ("larkspur", "maple", "four systems")
}
MANY = {"photographed leaks": photographed_leaks, "many leaks": lambda: (with_leaks(60), {})}


def document_of(
    job: str, kind: str, spoken: str, paper: Paper, issue: Issue | None = None
) -> tuple[Document, dict[str, bytes]]:
    """A report in a language, with the numbers usual there."""
    made, photos = {**JOBS, **DANGERS, **MANY, "long names": long_words}[job]()
    template = read_template(ROOT / "report_templates" / f"{kind}.toml")
    with speaking(spoken):
        formatter = Formatter(LANGUAGES[spoken], usual_style(spoken))
        source = report_input(
            made,
            assessment=evaluate(made),
            formatter=formatter,
            photos=photos,
            paper=paper,
            issue=issue,
        )
        return build(in_words_of_the_language(template), source), photos


@dataclass(frozen=True)
class Laid:
    """A report laid out: its structure with the places of its parts, and its pages."""

    document: Document
    structure: Element
    pages: list[str]
    filled: list[float]


@cache
def laid(job: str, kind: str, spoken: str, paper: Paper) -> Laid:
    """Lay a report out; `filled` is the share of each page from its top to its lowest line."""
    document, photos = document_of(job, kind, spoken, paper)
    return laid_out(document, photos)


def laid_out(document: Document, photos: dict[str, bytes]) -> Laid:
    """Lay any document out."""
    look = look_of(document, photos, load_faces(ROOT / "resources" / "fonts"))
    composed = compose(look, document)
    drawn = print_sheets(document, look, composed.story)
    about = Information(document.title, "", "", "", "", document.issued_on)
    file = finish(drawn, composed.structure, about)
    pages: list[str] = []
    filled: list[float] = []
    for page in PdfReader(BytesIO(file)).pages:
        heights: list[float] = []

        def visit(
            text: str, cm: list[float], tm: list[float], *_font: object, into: list[float] = heights
        ) -> None:
            if text.strip() and look.foot < cm[5] + tm[5] <= look.page_height - look.top:
                into.append(cm[5] + tm[5])

        pages.append(page.extract_text(visitor_text=visit))
        top = look.page_height - look.top
        filled.append((top - min(heights, default=top)) / look.height)
    return Laid(document, composed.structure, pages, filled)


def pages_of(element: Element) -> set[int]:
    """The pages, from 0, on which an element or anything in it stands."""
    inner = (page for part in element.parts for page in pages_of(part))
    return {*(page for page, _number in element.places), *inner}


def all_of(element: Element, *roles: Role) -> list[Element]:
    """Every element of these roles in here, in reading order."""
    found = [one for part in element.parts for one in all_of(part, *roles)]
    return [element, *found] if element.role in roles else found


def lonely_rows(structure: Element) -> list[tuple[int, int]]:
    """Page and number of rows of each table that has only one row there, of several.

    Tables with a row that is itself cut are left out: there it cannot be helped.
    """
    found: list[tuple[int, int]] = []
    for table in all_of(structure, Role.TABLE):
        rows = [
            pages_of(row)
            for row in all_of(table, Role.ROW)
            if any(part.role is not Role.COLUMN_HEAD for part in row.parts)
        ]
        if len(rows) < 3 or any(len(pages) > 1 for pages in rows):
            continue
        on = [page for pages in rows for page in pages]
        found += [(page, len(rows)) for page in set(on) if on.count(page) == 1]
    return found


def lonely_headings(structure: Element) -> list[int]:
    """The pages on which a heading stands apart from what follows it."""
    parts = [part for part in structure.parts if pages_of(part)]
    return [
        max(pages_of(one))
        for one, following in pairwise(parts)
        if one.role in HEADINGS and max(pages_of(one)) != min(pages_of(following))
    ]
