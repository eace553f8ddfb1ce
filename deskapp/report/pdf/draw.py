"""Draws a finished document as a PDF: the only door to this package."""

from __future__ import annotations

import gc
from contextlib import contextmanager
from dataclasses import dataclass, field, fields, is_dataclass
from functools import cache
from typing import TYPE_CHECKING, BinaryIO, cast

from reportlab import rl_config
from reportlab.pdfbase.pdfdoc import PDFInfo

from deskapp.domain.data_files import resources_folder
from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.report.archival.finish import finish
from deskapp.report.archival.metadata import Information
from deskapp.report.pdf.compose import compose
from deskapp.report.pdf.faces import Faces, is_out_of_order, load_faces
from deskapp.report.pdf.look import look_of
from deskapp.report.pdf.sheet import print_sheets
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Generator, Iterable, Iterator, Mapping
    from pathlib import Path

    from deskapp.report.archival.attachment import Attachment
    from deskapp.report.blocks import Document

_CREATOR = "Ductfolio"
rl_config.useA85 = 0
"""Streams are kept as bytes: the text form of them takes ten times as long to write."""


@dataclass(frozen=True, slots=True)
class Printed:
    """What came of drawing: the number of pages, and findings about what could not be printed.

    `fields` has the page, from 1, on which a field of the job is printed, by its path.
    """

    pages: int
    findings: tuple[Finding, ...] = ()
    fields: Mapping[str, int] = field(default_factory=dict[str, int])


def draw(
    document: Document,
    photos: Mapping[str, bytes],
    target: BinaryIO,
    fonts: Path | None = None,
    attachments: Iterable[Attachment] = (),
) -> Printed:
    """Write `document` to `target` as an archival PDF and say what could not be printed.

    Args:
        document: the finished report.
        photos: the bytes of the pictures, by digest.
        target: an open binary stream.
        fonts: the folder of the typefaces; the program's own by default.
        attachments: files the report carries inside it.

    The same input gives the same bytes.
    Errors: FileNotFoundError when a typeface is missing.
    """
    faces = load_faces(fonts or resources_folder() / "fonts")
    look = look_of(document, photos, faces)
    with _without_collection():
        composed = compose(look, document)
        drawn = print_sheets(document, look, composed.story)
        file = finish(drawn, composed.structure, _information(document), attachments)
    target.write(file)
    pictures = (
        Finding(level=Level.CHECK, code="picture-unreadable", what=what)
        for what in dict.fromkeys(look.problems)
    )
    findings = (*_unprintable(document, faces), *pictures)
    return Printed(len(drawn.pages), findings, look.pages_of_fields())


@contextmanager
def _without_collection() -> Generator[None]:
    """Put off the search for garbage: a report is thousands of small things that all stay."""
    was_on = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if was_on:
            gc.enable()


def _information(document: Document) -> Information:
    return Information(
        title=printable(document.title),
        author=printable(document.author),
        subject=printable(document.subject),
        creator=_CREATOR,
        producer=PDFInfo.producer,
        day=document.issued_on,
    )


def _missing(document: Document, faces: Faces) -> tuple[str, ...]:
    """Return what no face has; each face has all of ASCII, so only other texts are looked at."""
    texts: set[str] = set()
    _collect(document, texts)
    doubtful = sorted(text for text in texts if not text.isascii())
    text = "".join(set(printable("\n".join(doubtful))))
    return tuple(sorted(faces.text.missing(text)))


def _unprintable(document: Document, faces: Faces) -> Iterator[Finding]:
    missing = _missing(document, faces)
    turned = [char for char in missing if is_out_of_order(char)]
    lacking = [char for char in missing if char not in turned]
    if lacking:
        yield _character_finding(
            _("No typeface of the report has these characters: {characters}."), lacking
        )
    if turned:
        yield _character_finding(
            _("These letters would print in the wrong order or shape: {characters}."), turned
        )


def _character_finding(what: str, characters: list[str]) -> Finding:
    return Finding(
        level=Level.CHECK,
        code="character-missing",
        what=what.format(characters=" ".join(characters)),
        allowed=_(
            "Latin, Greek, Cyrillic, Chinese and Japanese letters and common signs can be printed."
        ),
        mend=_("A question mark in a box stands for each. Type the words in other letters."),
    )


def _collect(value: object, texts: set[str]) -> None:
    """Put all text in `value` into `texts`, however deep."""
    for name in _fields_of(type(value)):
        _collect_part(getattr(value, name), texts)


def _collect_part(part: object, texts: set[str]) -> None:
    kind = type(part)
    if kind is str:
        texts.add(cast("str", part))
    elif kind is tuple:
        for each in cast("tuple[object, ...]", part):
            _collect_part(each, texts)
    else:
        _collect(part, texts)


@cache
def _fields_of(kind: type) -> tuple[str, ...]:
    return tuple(one.name for one in fields(kind)) if is_dataclass(kind) else ()
