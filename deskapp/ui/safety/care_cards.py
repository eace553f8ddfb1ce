"""Words of care beside the answers that call for them, each with its source."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session import safety_desk
from deskapp.ui.advice_cards import WordsCard
from deskapp.ui.fold import Fold
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Size, Words

if TYPE_CHECKING:
    from deskapp.domain.vocabulary import Caution
    from deskapp.ui.bridge import Bridge

_GLYPHS = {"danger": Glyph.STOP, "warning": Glyph.CHECK, "note": Glyph.NOTE}


def caution_row(caution: Caution) -> QWidget:
    """Return a caution with its mark, and below it where it comes from and how well known."""
    box = QWidget()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(0)
    notice = Notice(Size.BODY)
    notice.say(_GLYPHS[caution.level.value], "", _(caution.text))
    column.addWidget(notice)
    source = Words(safety_desk.source_words(caution.source), Size.SMALL, muted=True)
    source.setIndent(3 * GRID - 2)
    column.addWidget(source)
    return box


class CareCard(WordsCard):
    """The dangers and warnings that the answers of the safety walk call for."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("Local codes and a licensed technician have the last word.")
        super().__init__(bridge, _("What these answers call for"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the cautions."""
        return safety_desk.called_for(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return one of them."""
        return _row(number, words)


class TracerWords(WordsCard):
    """What to know about tracer smoke: what the job calls for, or else all of it."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _("These words are printed in the compliance report only.")
        super().__init__(bridge, "", intro)
        self.set_in()

    def words(self) -> tuple[object, ...]:
        """Return the cautions."""
        editor = self.bridge.editor
        return safety_desk.tracers_called_for(editor) or safety_desk.about_tracers(editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return one of them."""
        return _row(number, words)


class TracerCard(Card):
    """Words about tracer smoke, unfolded as soon as a leak was found with it, or by hand."""

    def __init__(self, bridge: Bridge) -> None:
        super().__init__()
        self._bridge = bridge
        self._was_called_for = False
        self.words = TracerWords(bridge)
        self.fold = Fold(_("What to know about tracer smoke"), self.words)
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, GRID, 3 * GRID, GRID)
        column.addWidget(self.fold)

    def refresh(self) -> None:
        """Show what the job calls for."""
        is_open = self.fold.is_open
        self.words.refresh()
        called_for = bool(safety_desk.tracers_called_for(self._bridge.editor))
        if called_for and not self._was_called_for:
            self.fold.unfold()
            is_open = True
        self._was_called_for = called_for
        self.words.setVisible(is_open)

    def reveal(self, path: str) -> bool:
        """Nothing can be typed here."""
        return bool(path) and False


def _row(number: int, words: object) -> QWidget:
    from deskapp.domain.vocabulary import Caution

    del number
    assert isinstance(words, Caution)
    return caution_row(words)
