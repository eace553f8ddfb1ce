"""The picture of a signature above the signature line, each change as one step to undo."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain import paths
from deskapp.i18n import _

if TYPE_CHECKING:
    from deskapp.session.editor import Editor
    from deskapp.session.photo_intake import Taken

PATH = "tester.signature"


def put(editor: Editor, taken: Taken) -> None:
    """Print the first of the pictures taken in above the signature line."""
    if taken.photos:
        editor.keep_files(taken.files)
        job = paths.put(editor.job, PATH, taken.photos[0])
        editor.take(job, lambda: _("picture of the signature"))


def remove(editor: Editor) -> None:
    """Leave the signature line empty again."""
    job = paths.put(editor.job, PATH, None)
    editor.take(job, lambda: _("remove the picture of the signature"))
