"""Labels of the window: what they draw, and what they say."""

from __future__ import annotations

from PySide6.QtGui import QTextLayout
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from deskapp.ui.words import Words


def test_that_a_unit_is_not_parted_at_the_end_of_a_line(qtbot: QtBot) -> None:
    said = "between 599.8\N{NO-BREAK SPACE}cfm (283.1\N{NO-BREAK SPACE}L/s), see files/surveys"
    words = Words(said)
    qtbot.addWidget(words)
    assert words.text() == said
    drawn = QTextLayout(QLabel.text(words), words.font())
    lines: list[str] = []
    drawn.beginLayout()
    while (line := drawn.createLine()).isValid():
        line.setLineWidth(10.0)
        lines.append(drawn.text()[line.textStart() : line.textStart() + line.textLength()])
    drawn.endLayout()
    assert any("L/\N{WORD JOINER}s)" in line for line in lines)
    assert any(line.endswith("files/") for line in lines)
