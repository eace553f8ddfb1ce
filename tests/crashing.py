"""What a program leaves behind that is ended in the middle of an edit."""

from __future__ import annotations

from pathlib import Path

from deskapp.session.autosave import Autosave
from deskapp.session.editor import Editor
from deskapp.session.holding import let_go


def leave_copy(editor: Editor, root: Path) -> None:
    """Leave a recovery copy of the job below `root`, held by nobody."""
    saver = Autosave(root, pause=0.0)
    saver.follow(editor)
    order = saver.order()
    assert order is not None
    copy = order.run()
    assert copy is not None
    copy.let_go()
    let_go(editor)
