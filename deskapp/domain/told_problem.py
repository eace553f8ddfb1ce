"""What all problems have in common that are raised to be told to a person."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import said

if TYPE_CHECKING:
    from deskapp.i18n import Said


class ToldProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """Something that cannot be done. `code` names the case, `text` tells a person why.

    Words that may stand for a while are given as what says them, since the language may change.
    """

    def __init__(self, code: str, words: Said) -> None:
        super().__init__(said(words))
        self.code = code
        self._words = words

    @property
    def text(self) -> str:
        """What is told to a person, in the language in use now."""
        return said(self._words)

    def __reduce__(self) -> tuple[type[ToldProblem], tuple[str, str], dict[str, object]]:
        """Go to another process with the words as they are here."""
        more = {name: value for name, value in vars(self).items() if name not in ("code", "_words")}
        return type(self), (self.code, self.text), more
