"""An order of limits that is a guess is marked as one, with its reason. The job is invented."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from deskapp.session.editor import Editor
from deskapp.session.limits_desk import likely_limits_in_steps, why_likely
from deskapp.ui.limits.chooser import LimitChooser


def test_that_a_guess_is_marked_with_its_reason(
    qtbot: QtBot, theme: object, editor: Editor
) -> None:
    assert theme
    editor.enter("site.region", "")
    dialog = LimitChooser(
        lambda: likely_limits_in_steps(editor, "US"),
        None,
        why=lambda found: why_likely(editor, found, "US"),
    )
    qtbot.addWidget(dialog)
    dialog.complete()
    assert not dialog.guess.isHidden()
    assert dialog.guess.text.startswith("Note: This order is a guess")
    assert "state or province" in dialog.guess.text
    plain = LimitChooser(lambda: likely_limits_in_steps(editor), None)
    qtbot.addWidget(plain)
    plain.complete()
    assert plain.guess.isHidden()
