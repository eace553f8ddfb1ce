"""The picture of a floor plan below the sketch: laid there, and taken away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.dialogs.files import ask_pictures
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.photos.intake import PhotoIntake, intake_line
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from deskapp.session.photo_intake import Taken
    from deskapp.ui.bridge import Bridge


class PlanBar(QWidget):
    """Asks for a floor plan, or takes it away again."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self.intake = PhotoIntake(self)
        self.lay_button = Command(_("Lay a floor plan below…"), Glyph.PICTURE)
        self.lay_button.clicked.connect(self.ask)
        self.away_button = Command(_("Take the plan away"))
        self.away_button.clicked.connect(self.take_away)
        self.message = Notice()
        bridge.opened.connect(self.message.hide)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self.lay_button)
        row.addWidget(self.away_button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(row)
        column.addWidget(intake_line(self.intake))
        column.addWidget(self.message)

    def refresh(self) -> None:
        """Offer to take a plan away where there is one."""
        self.away_button.setVisible(self._bridge.editor.job.sketch.plan is not None)

    def ask(self) -> None:
        """Ask for the picture of a plan."""
        ask_pictures(self.window(), _("Floor plan"), self.lay, several=False)

    def lay(self, files: Sequence[Path]) -> None:
        """Lay a picture below the sketch."""
        from deskapp.session.photo_intake import offered_file

        offers = tuple(offered_file(file) for file in files[:1])
        self.intake.order(offers, self._bridge.preferences, self._deliver)

    def take_away(self) -> None:
        """Leave the sketch on a blank sheet."""
        from deskapp.session.drawing import take_plan_away

        take_plan_away(self._bridge.editor)

    def _deliver(self, taken: Taken) -> None:
        from deskapp.session.drawing import lay_plan

        if taken.refused:
            glyph, word = level_of("check")
            self.message.say(glyph, word, " ".join(taken.refused))
            return
        self.message.hide()
        lay_plan(self._bridge.editor, taken)
