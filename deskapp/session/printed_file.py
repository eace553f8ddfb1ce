"""Papers printed into a file: it is there whole, or not at all."""

from __future__ import annotations

from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TYPE_CHECKING

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Generator

_END = b"%%EOF"
"""What the last line of a whole PDF says (ISO 32000-1, 7.5.5; from memory)."""


@contextmanager
def printed_aside(target: Path) -> Generator[Path]:
    """Give a file to print into; what stands in it at the end is put at `target` in one step.

    Whatever ends the printing leaves `target` as it was. Raises ReportProblem.
    """
    from deskapp.session.reports import ReportProblem, write_paper

    with TemporaryDirectory() as folder:
        aside = Path(folder) / "printed.pdf"
        yield aside
        data = aside.read_bytes() if aside.is_file() else b""
        if not data.rstrip().endswith(_END):
            words = _("{path} was not printed whole: there may be no space left. Try again.")
            raise ReportProblem("write", words.format(path=target))
        write_paper(data, target)
