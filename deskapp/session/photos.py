"""What can be done with the pictures of a job, each as one step to undo.

`list_path` is ``photos`` for the pictures of the job as a whole, or ``leaks.0.photos``.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.domain.fields import label_of
from deskapp.i18n import _, in_sentence

if TYPE_CHECKING:
    from deskapp.session.editor import Editor
    from deskapp.session.photo_intake import Taken


def add(editor: Editor, list_path: str, taken: Taken) -> None:
    """Put pictures that were taken in at the end of a list."""
    before = paths.rows_at(editor.job, list_path)
    if not taken.photos:
        return
    editor.keep_files(taken.files)

    def words() -> str:
        if len(taken.photos) > 1:
            return _("add {count} photos").format(count=len(taken.photos))
        return _("add {row}").format(row=_row_words(f"{list_path}.{len(before)}"))

    editor.take(paths.put(editor.job, list_path, (*before, *taken.photos)), words)


def remove(editor: Editor, photo_path: str) -> None:
    """Take a picture out of the job."""
    job = paths.remove(editor.job, photo_path)
    editor.take(job, lambda: _("remove {row}").format(row=_row_words(photo_path)))


def move(editor: Editor, photo_path: str, by: int) -> str:
    """Move a picture `by` places within its list, as far as that goes; return its new path."""
    list_path, here = paths.split_row(photo_path)
    rows = list(paths.rows_at(editor.job, list_path))
    there = min(max(here + by, 0), len(rows) - 1)
    rows.insert(there, rows.pop(here))
    job = paths.put(editor.job, list_path, tuple(rows))
    editor.take(job, lambda: _("move {row}").format(row=_row_words(photo_path)))
    return f"{list_path}.{there}"


def _row_words(path: str) -> str:
    words = label_of(path)
    return in_sentence(words)
