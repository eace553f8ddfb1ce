"""What can go wrong with keys and seals, said in plain words."""

from __future__ import annotations


class SealProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """A key cannot be used, or a report not sealed. `code` names the case, `text` tells why."""

    def __init__(self, code: str, text: str) -> None:
        super().__init__(text)
        self.code = code
        self.text = text
