"""What each repair gained, and each retest beside the test it repeats."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtWidgets import QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.ui.advice_cards import WordsCard
from deskapp.ui.glyphs import Glyph
from deskapp.ui.marks import Notice
from deskapp.ui.repairs.before_after import BeforeAfter
from deskapp.ui.side_scroll import SideScroll
from deskapp.ui.tables import FactTable
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.ui.bridge import Bridge


class LedgerCard(WordsCard):
    """The ledger of each test that quick readings follow."""

    def __init__(self, bridge: Bridge) -> None:
        intro = _(
            "A gain counts where it is more than both readings scatter (k = 2). What they share, "
            "such as the calibration of the fan, cancels in the difference."
        )
        super().__init__(bridge, _("What each repair gained"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the ledgers."""
        from deskapp.session.repairs import ledger_words

        return ledger_words(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return a ledger: its rows, what is left above the limit, and what could close that."""
        from deskapp.session.repairs import LedgerWords

        assert isinstance(words, LedgerWords)
        del number
        box, column = _box()
        column.addWidget(Words(words.title, Size.STRONG))
        head = (_("Reading"), _("Leaks closed"), _("Flow at target"), _("Gained"), "")
        column.addWidget(SideScroll(FactTable(head, words.rows, words_last=True)))
        left = Notice(Size.BODY)
        column.addWidget(left)
        glyph = Glyph.DONE if words.is_met else Glyph.NOTE if words.is_met is None else Glyph.CHECK
        left.say(glyph, "", words.left)
        if words.could_close:
            told = _(
                "Still open, the most pressing first. Sizes are a guess, so try and read again:"
            )
            column.addWidget(Words(told))
            for text in words.could_close:
                column.addWidget(Words(text, Size.SMALL).can_be_copied())
        return box


class RetestCard(WordsCard):
    """A way to a retest of each system, and each retest beside the test it repeats."""

    def __init__(self, bridge: Bridge, go_to: Callable[[str], None]) -> None:
        """Add retests to the job of `bridge`; `go_to` turns to the first field of a new one."""
        self._go_to = go_to
        intro = _("A retest is a test of its own with the same set-up. The earlier one stays.")
        super().__init__(bridge, _("Before and after"), intro)

    def words(self) -> tuple[object, ...]:
        """Return the systems that have a result."""
        from deskapp.session.repairs import retest_offers

        return retest_offers(self.bridge.editor)

    def row(self, number: int, words: object) -> QWidget:
        """Return a system with its retest, and the button for another one."""
        from deskapp.session.repairs import RetestOffer

        assert isinstance(words, RetestOffer)
        del number
        box, column = _box()
        if words.name:
            column.addWidget(Words(words.name, Size.STRONG))
        if words.found is not None:
            column.addWidget(BeforeAfter(words.found))
            column.addWidget(Words(words.found.change).can_be_copied())
            if words.found.differences:
                notice = Notice(Size.BODY)
                column.addWidget(notice)
                text = _("Not set up alike, so the change may not be the repair alone: {fields}.")
                fields = ", ".join(one.lower() for one in words.found.differences)
                notice.say(Glyph.CHECK, _("Check"), text.format(fields=fields))
        button = Command(_("Retest this system"), Glyph.ADD)
        button.clicked.connect(partial(self._retest, words.test))
        column.addWidget(button)
        return box

    def _retest(self, test: str) -> None:
        from deskapp.session.repairs import retest

        self.bridge.settle()
        self._go_to(f"{retest(self.bridge.editor, test)}.tested_on")


def _box() -> tuple[QWidget, QVBoxLayout]:
    box = QWidget()
    column = QVBoxLayout(box)
    column.setContentsMargins(0, 0, 0, GRID)
    column.setSpacing(GRID)
    return box, column
