"""Cards of words beside the forms: what pan readings tell, what to try short of the target."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from deskapp.ui.bridge import Bridge

_GLYPHS = (Glyph.DONE, Glyph.NOTE, Glyph.CHECK, Glyph.STOP)


class WordsCard(Card):
    """A card that shows rows of words while there are any, and hides otherwise.

    One that stands in something with a title of its own has none.
    """

    def __init__(self, bridge: Bridge, title: str, intro: str) -> None:
        super().__init__()
        self.bridge = bridge
        self._shown: object = None
        self._column = column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        if title:
            column.addWidget(Words(title, Size.HEADING))
        column.addWidget(Words(intro, Size.SMALL, muted=True))
        self._rows = QVBoxLayout()
        self._rows.setSpacing(6)
        column.addLayout(self._rows)
        self.hide()

    def set_in(self) -> None:
        """Stand without a frame in another card, whose edges are those of the words."""
        self.setFrameShape(Card.Shape.NoFrame)
        self._column.setContentsMargins(0, 0, 0, GRID)

    def words(self) -> tuple[object, ...]:
        """Return what the rows are made from."""
        return ()

    def row(self, number: int, words: object) -> QWidget:
        """Return one row."""
        raise AssertionError(number, words)

    def refresh(self) -> None:
        """Show the rows of the job as it stands."""
        words = self.words()
        if words != self._shown:
            self._shown = words
            while (item := self._rows.takeAt(0)) is not None:
                widget = item.widget()
                if widget is not None:
                    widget.hide()
                    widget.deleteLater()
            for number, one in enumerate(words, 1):
                self._rows.addWidget(self.row(number, one))
        self.setVisible(bool(words))

    def reveal(self, path: str) -> bool:
        """Nothing can be typed here."""
        del path
        return False


class PanCard(WordsCard):
    """What the pan readings tell, the most pressing first: each thing once, with its registers."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("Screening only: it ranks the registers and gives no flow.")
        super().__init__(bridge, _("What the pan readings tell"), intro)

    def words(self) -> tuple[object, ...]:
        """Return what is told, and of which registers."""
        from deskapp.session.advice import pan_bands

        return pan_bands(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return a mark with what is told, and below it the registers with their readings."""
        from deskapp.session.advice import PanBandWords

        assert isinstance(words, PanBandWords)
        del number
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 4)
        column.setSpacing(2)
        notice = Notice(Size.BODY)
        column.addWidget(notice)
        notice.say(_GLYPHS[min(words.urgency, len(_GLYPHS) - 1)], words.label, words.text)
        for text, registers in (
            (_("After the work: {registers}"), words.after),
            (_("Before the work: {registers}"), words.before),
        ):
            if registers:
                line = Words(text.format(registers=", ".join(registers)), muted=True)
                line.setIndent(3 * GRID - 2)
                column.addWidget(line.can_be_copied())
        return box


class TryCard(WordsCard):
    """What to try where the target pressure was not reached, in order."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("In this order. Then read again, or report the highest pressure that held still.")
        super().__init__(bridge, _("The target was not reached. What to try"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the steps that fit what was found."""
        from deskapp.session.advice import what_to_try

        return what_to_try(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return a numbered step with its reason."""
        from deskapp.domain.screening import Guidance

        assert isinstance(words, Guidance)
        box = QWidget()
        column = QVBoxLayout(box)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(Words(f"{number}. {_(words.text)}"))
        if words.why:
            column.addWidget(Words(_(words.why), Size.SMALL, muted=True))
        return box
