"""Reading reports back: the text of a PDF, and the text its blocks hold."""

from __future__ import annotations

import re
from dataclasses import fields, is_dataclass
from enum import StrEnum
from io import BytesIO

from pypdf import PdfReader

from deskapp.report.blocks import Document, PartStart
from deskapp.report.pdf.draw import draw

NOT_PRINTED = {
    "path",
    "digest",
    "header",
    "logo_description",
    "description",
    "missing",
    "page_words",
    "language",
    "accent",
    "paper",
}
HEAD_AND_FOOT = {"running", "title", "subject", "author"}


def drawn(document: Document, photos: dict[str, bytes] | None = None) -> bytes:
    """The PDF of a document."""
    buffer = BytesIO()
    draw(document, photos or {}, buffer)
    return buffer.getvalue()


def pages_of(pdf: bytes) -> list[str]:
    """The text of each page."""
    return [page.extract_text() for page in PdfReader(BytesIO(pdf)).pages]


def squashed(text: str) -> str:
    """Text without any white space, so that line breaks do not matter."""
    return re.sub(r"\s", "", text)


def body_of(pdf: bytes, document: Document) -> str:
    """The squashed text of all pages, without running header and foot."""
    running = document.running
    heads = [block.header for block in document.blocks if isinstance(block, PartStart)]
    total = len(pages_of(pdf))
    parts: list[str] = []
    for number, page in enumerate(pages_of(pdf), 1):
        words = running.page_words.replace("{page}", str(number)).replace("{pages}", str(total))
        text = squashed(page)
        for tail in (running.header_right, running.header_left, *heads, words, running.footer_left):
            text = text.removesuffix(squashed(tail))
        parts.append(text)
    return "".join(parts)


def texts_in(value: object) -> list[str]:
    """Every text that a block prints, in order."""
    if isinstance(value, StrEnum):
        return []
    if isinstance(value, str):
        return [value] if value else []
    if isinstance(value, tuple):
        return [text for part in value for text in texts_in(part)]
    if is_dataclass(value):
        return [
            text
            for field in fields(value)
            if field.name not in NOT_PRINTED
            for text in texts_in(getattr(value, field.name))
        ]
    return []


def numbers_in(text: str) -> set[str]:
    """Every number written in a text, with its decimals and thousands marks."""
    return set(re.findall(r"\d+(?:[.,]\d+)*", text))
