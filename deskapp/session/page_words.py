"""Do the pages of a report say what the job inside it makes, no more and no less?"""

from __future__ import annotations

import json
import logging
import unicodedata
import zlib
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache
from io import BytesIO
from typing import TYPE_CHECKING, Any, cast

from deskapp.i18n import speaking
from deskapp.report.block_texts import texts_in
from deskapp.session.carried import carried_with_report
from deskapp.session.own_version import own_version
from deskapp.session.report_kinds import ReportKind
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from pypdf import PageObject

    from deskapp.domain.job import Job
    from deskapp.report.blocks import Document
    from deskapp.report.build.report_input import ReportInput
    from deskapp.session.resources import Shelf


_LARGEST_BLANK = 800


@dataclass(frozen=True, slots=True)
class MadeAnew:
    """What the job inside a report makes today, printed as the report says it was printed.

    `is_alike` holds where each word of the pages can be expected again: the report is of this
    version of the program and in the words of its own template.
    """

    source: ReportInput
    kind: str
    document: Document
    language: str
    is_alike: bool
    photos: dict[str, tuple[int, int]] = field(default_factory=dict[str, tuple[int, int]])

    @property
    def logo_name(self) -> str:
        """The name of the file of its logo, which is not carried inside; empty without one."""
        return self.source.branding.logo

    @property
    def pictures_of_job(self) -> set[str]:
        """The digests of the pictures that stand on its pages and could be drawn."""
        there = {key for key, sides in self.photos.items() if all(sides)}
        return there & set(texts_in(self.document))

    def file(self, pictures: Mapping[str, bytes]) -> bytes:
        """Return it drawn anew, with the files it carries; a picture that is not at hand is blank.

        Args:
            pictures: the bytes of pictures by their digest.
        """
        from deskapp.archive.envelope import text_of
        from deskapp.report.pdf.draw import draw

        buffer = BytesIO()
        at_hand = {
            key: pictures[key] if key in pictures else _blank(*sides)
            for key, sides in self.photos.items()
        }
        with speaking(self.language):
            carried = carried_with_report(
                self.source,
                text_of(self.source.job),
                self.kind,
                self.document.language,
                own_words=False,
                sides=self.photos,
            )
            draw(self.document, at_hand, buffer, attachments=carried)
        return buffer.getvalue()


def made_anew(job: Job, printed: bytes, shelf: Shelf) -> MadeAnew | None:
    """Build the report of `job` again, as `printed` tells; None where that is not known."""
    from deskapp.assess.evaluate import evaluate
    from deskapp.domain.branding import Branding
    from deskapp.report.blocks import Paper
    from deskapp.report.build.document import build
    from deskapp.report.template import TemplateProblem, in_words_of_the_language, read_template
    from deskapp.session.report_order import report_source

    try:
        told = cast("dict[str, Any]", json.loads(printed))
        kind, spoken = ReportKind(told["kind"]), str(told["language"]).replace("-", "_")
        formatter = Formatter(UnitSystem(told["units"]), NumberStyle(told["numbers"]))
        day = date.fromisoformat(told["issued_on"])
        company = Branding.model_validate(told.get("company", {}))
        photos = {str(key): (int(a), int(b)) for key, (a, b) in told.get("photos", {}).items()}
        paper = Paper(told["paper"])
        template = read_template(shelf.templates[kind.value])
    except (ValueError, KeyError, TypeError, AttributeError, TemplateProblem):
        return None
    with speaking(spoken):
        source = report_source(job, evaluate(job), shelf, formatter, day)
        source = replace(
            source,
            branding=company,
            photo_slate=bool(told.get("photo_strip")),
            paper=paper,
            issue=job.issued[-1] if told.get("is_issued") and job.issued else None,
        )
        document = build(in_words_of_the_language(template), source)
    alike = told.get("program") == own_version() and told.get("own_words") is False
    return MadeAnew(source, kind.value, document, spoken, alike, photos)


def lines_on(report: bytes) -> tuple[str, ...] | None:
    """Return the lines of the pages of a PDF, in the order they are written.

    None where the pages are damaged.
    """
    from pypdf import PdfReader

    # What the library says of a damaged file is told in our words.
    logging.getLogger("pypdf").setLevel(logging.CRITICAL)
    try:
        pages: list[str] = []
        for page in PdfReader(BytesIO(report)).pages:
            _refuse_damaged(page)
            pages.append(page.extract_text())
    except Exception:  # what a damaged file sets off in the library has no common name
        return None
    return tuple(line for page in pages for line in page.splitlines() if line.strip())


def _refuse_damaged(page: PageObject) -> None:
    """Raise ValueError or zlib.error for a page whose content is not as it was packed.

    The library reads what it can of such a page; the sum at the end of the packed content tells.
    """
    content = cast("Any", page["/Contents"].get_object())
    parts = cast("list[Any]", content if isinstance(content, list) else [content])
    for part in parts:
        zlib.decompress(part.get_object()._data)


def plain(text: str) -> str:
    """Return `text` without anything that setting it on a page may change."""
    return "".join(unicodedata.normalize("NFKC", text).split())


def only_in(lines: tuple[str, ...], others: tuple[str, ...]) -> Iterator[str]:
    """Yield each line whose words do not follow each other anywhere in `others`, once."""
    whole = plain("\n".join(others))
    seen: set[str] = set()
    for line in lines:
        words = plain(line)
        if words not in whole and words not in seen:
            seen.add(words)
            yield " ".join(line.split())


@cache
def _blank(across: int, down: int) -> bytes:
    """Return a blank picture of these proportions, which takes the same place on a page."""
    from PIL import Image

    much = max(1.0, max(across, down) / _LARGEST_BLANK)
    sides = max(1, round(across / much)), max(1, round(down / much))
    buffer = BytesIO()
    Image.new("L", sides, 255).save(buffer, "JPEG")
    return buffer.getvalue()
