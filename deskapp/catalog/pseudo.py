"""A made-up language for trying things out: every word of ours is marked, accented and longer."""

from __future__ import annotations

import re
from gettext import NullTranslations

_ACCENTED = str.maketrans(
    "aceinouyACEINOUYdlrstz",
    "áçéíñóúýÁÇÉÍÑÓÚÝďľřšťž",
)
# Places to fill, marks of strong words and tags stay as they are, and so does what follows "&".
_KEPT = re.compile(r"(\{[^{}]*\}|&.|%[a-z]|<[^<>]*>)")
_LONGER = 0.4
_FILLING = "~"


def pseudo(text: str) -> str:
    """Return `text` with accents, two fifths longer, in brackets; places in braces stay."""
    parts = _KEPT.split(text)
    changed = "".join(part if n % 2 else part.translate(_ACCENTED) for n, part in enumerate(parts))
    words = [part for part in changed.split(" ") if part]
    filling = round(len(text) * _LONGER)
    ending = "".join(_FILLING + (" " if n % 6 == 5 else "") for n in range(filling)).rstrip()
    return f"⟦{changed}{' ' if len(words) > 1 else ''}{ending}⟧"


class PseudoWords(NullTranslations):
    """A catalog that knows every text."""

    def gettext(self, message: str) -> str:
        """Return the text in the made-up language."""
        return pseudo(message)

    def pgettext(self, context: str, message: str) -> str:  # noqa: ARG002 - part of the interface
        """Return the text in the made-up language."""
        return pseudo(message)

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        """Return the text for a count in the made-up language."""
        return pseudo(msgid1 if n == 1 else msgid2)
