"""Texts that were cut where they stand, whole."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.checks_length import too_long
from deskapp.domain.fields import label_of
from deskapp.report.block_texts import texts_in
from deskapp.report.blocks import Paragraph
from deskapp.report.build.wording import fill_text
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Iterable

    from deskapp.domain.job import Job
    from deskapp.report.blocks import Block
    from deskapp.report.build.context import Context
    from deskapp.report.template_compliance import LongTextsSpec

_BEGINNING = 60
"""Characters by which a text that was cut is found again among the blocks."""


def long_texts(
    context: Context, spec: LongTextsSpec, whole: Job, before: Iterable[Block]
) -> list[Block]:
    """Build each text of the `whole` job that stands cut in the blocks `before`."""
    found = [(path, printable(text)) for path, text, _most in too_long(whole)]
    told = tuple(texts_in(tuple(before))) if found else ()
    return [
        Paragraph(fill_text(spec.text, {**context.names, "label": label_of(path), "words": text}))
        for path, text in found
        if any(text[:_BEGINNING] in one for one in told)
    ]
