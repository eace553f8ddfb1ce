"""Putting texts that were captured, imported or pasted into the readings of a test."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from collections.abc import Mapping, Sequence

    from deskapp.session.editor import Editor


def place_readings(
    editor: Editor, list_path: str, rows: Sequence[Mapping[str, str]], first_row: int | None = None
) -> None:
    """Put rows of texts by field name into a list of readings, as if they were typed.

    Args:
        editor: the open job.
        list_path: such as ``tests.0.readings``.
        rows: the texts of each reading; a field a row does not name is left as it is.
        first_row: the reading to begin at; None begins below the last one.

    All of them together are one step to undo.
    """
    begin = editor.row_count(list_path) if first_row is None else first_row
    editor.enter_block(list_path, begin, rows)
