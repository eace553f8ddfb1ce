"""What can go wrong with files, said in plain words."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import said

if TYPE_CHECKING:
    from deskapp.i18n import Said


class JobFileProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """A job file cannot be read or written. `code` names the case, `text` tells a person.

    Words that may stand for a while are given as what says them, since the language may change.
    """

    def __init__(self, code: str, words: Said) -> None:
        super().__init__(said(words))
        self.code = code
        self._words = words

    @property
    def text(self) -> str:
        """What tells a person, in the language in use now."""
        return said(self._words)

    def __reduce__(self) -> tuple[type[JobFileProblem], tuple[str, str]]:
        """Go to another process with the words as they are here."""
        return type(self), (self.code, self.text)


class PhotoProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """A picture cannot be taken in. `code` names the case, `text` tells a person."""

    def __init__(self, code: str, text: str) -> None:
        super().__init__(text)
        self.code = code
        self.text = text
