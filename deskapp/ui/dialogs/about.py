"""What the program is, and what it is not."""

from __future__ import annotations

from PySide6.QtCore import Qt, qVersion
from PySide6.QtWidgets import QDialog, QHBoxLayout, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.own_version import own_version
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Mark
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words


class AboutDialog(QDialog):
    """Name, version, and the cautions that go with every result."""

    def __init__(self, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("About Ductfolio"))
        head = QHBoxLayout()
        head.setSpacing(2 * GRID)
        head.addWidget(Mark(Glyph.HOUSE, 44), 0, Qt.AlignmentFlag.AlignTop)
        titles = QVBoxLayout()
        titles.addWidget(Words("Ductfolio", Size.TITLE))
        titles.addWidget(Words(_versions(), muted=True).can_be_copied())
        head.addLayout(titles, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 3 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(12)
        column.addLayout(head)
        for text in (
            _("Turns the readings of a duct leakage test into a verdict and its reports."),
            _(
                "It works out what was typed in. It does not replace the code in force, the "
                "authority on site, or the judgment of a licensed person. Whether a house or an "
                "appliance is fit for use is never decided here."
            ),
            _(
                "The window uses Qt for Python under the LGPL; reports use the fonts Source Sans 3 "
                "and Ductfolio Hangul (SIL Open Font License), DejaVu Sans (free license) and "
                "Droid Sans Fallback (Apache License 2.0)."
            ),
        ):
            words = Words(text)
            words.setMinimumWidth(self.fontMetrics().averageCharWidth() * 64)
            column.addWidget(words)
        close = Command(_("Close"), main=True)
        close.setDefault(True)
        close.clicked.connect(self.accept)
        foot = QHBoxLayout()
        foot.addStretch(1)
        foot.addWidget(close)
        column.addLayout(foot)
        self.setMinimumHeight(column.heightForWidth(column.minimumSize().width()))


def _versions() -> str:
    own = own_version()
    if own:
        return _("Version {own}, with Qt {qt}").format(own=own, qt=qVersion())
    return _("Run from its sources, with Qt {qt}").format(qt=qVersion())
