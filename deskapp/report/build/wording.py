"""Filling the named places of a template's wording, and its ``**strong**`` parts."""

from __future__ import annotations

import re
from string import Formatter as _Braces
from typing import TYPE_CHECKING

from deskapp.i18n import _
from deskapp.report.blocks import TextSpan
from deskapp.report.plain_text import printable

if TYPE_CHECKING:
    from collections.abc import Mapping

    from deskapp.report.blocks import Text

_STRONG = re.compile(r"\*\*(.+?)\*\*", re.DOTALL)


def fill(wording: str, names: Mapping[str, str]) -> str:
    """Return `wording` with its names replaced; a name without a value leaves nothing.

    The values are printed as they are: braces or stars in them mean nothing.
    """
    parts = (
        text + (names.get(name, "") if name is not None else "")
        for text, name, _spec, _turn in _Braces().parse(wording)
    )
    return printable("".join(parts))


def fill_text(wording: str, names: Mapping[str, str]) -> Text:
    """Return `wording` filled, as spans; what stands between double stars is strong."""
    spans: list[TextSpan] = []
    for position, part in enumerate(_STRONG.split(wording)):
        filled = fill(part, names)
        if filled:
            spans.append(TextSpan(filled, strong=position % 2 == 1))
    return tuple(spans)


def has_all(wording: str, names: Mapping[str, str]) -> bool:
    """Say whether every name in `wording` has a value."""
    return all(names.get(name) for _text, name, _spec, _turn in _Braces().parse(wording) if name)


def logo_words(logo: bytes | None, company: str) -> str:
    """Return what a logo shows, for somebody who hears the report; nothing where there is none."""
    if logo is None:
        return ""
    named = _("Logo of {company}").format(company=company)
    return printable(named) if company else _("Logo of the company")
