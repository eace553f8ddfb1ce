"""What can go wrong with files, said in plain words."""

from __future__ import annotations


class JobFileProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """A job file cannot be read or written. `code` names the case, `text` tells a person."""

    def __init__(self, code: str, text: str) -> None:
        super().__init__(text)
        self.code = code
        self.text = text


class PhotoProblem(Exception):  # noqa: N818 - a plain word, shown to people
    """A picture cannot be taken in. `code` names the case, `text` tells a person."""

    def __init__(self, code: str, text: str) -> None:
        super().__init__(text)
        self.code = code
        self.text = text
