"""The fields of one section: the usual ones, and below them the rare ones, folded away."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtWidgets import QApplication, QVBoxLayout, QWidget

from deskapp.domain.field_shown import is_called_for
from deskapp.domain.fields import field_at
from deskapp.i18n import _
from deskapp.ui.access_keys import keyed, letters_of_menus
from deskapp.ui.building import FIELDS_IN_A_PIECE, at_once
from deskapp.ui.columns import Columns
from deskapp.ui.fields.make import field_for
from deskapp.ui.fold import Fold
from deskapp.ui.theme import GRID
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Iterator

    from deskapp.session.pages import Section
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.fields.field import Field


class FieldSheet(QWidget):
    """The fields of one section, under its title.

    A rare field opens the fold by itself as soon as it holds something, there is something to say
    about it, or an answer elsewhere calls for it. A field that matters only for some answer
    elsewhere stands out of sight as long as it is empty and that answer is not given. Nothing that
    was typed is out of sight unnamed.
    """

    def __init__(
        self,
        bridge: Bridge,
        section: Section,
        title: str,
        *,
        is_part: bool = False,
        in_pieces: bool = False,
    ) -> None:
        """Show the fields of `section`; a part of a card has a smaller title than the card."""
        super().__init__()
        self._bridge = bridge
        self._section = section
        self._title = title
        self._title_size = Size.STRONG if is_part else Size.HEADING
        self._usual: list[Field] = []
        self._rare: list[Field] = []
        self._filled = 0
        self._led_to = ""
        self.fold: Fold | None = None
        self._has_keys = False
        if not in_pieces:
            at_once(self.build())
        app = QApplication.instance()
        if isinstance(app, QApplication):
            app.focusChanged.connect(self._follow_focus)

    def build(self) -> Iterator[None]:
        """Make the fields, a few in each piece, and lay them out in the last one."""
        specs = [field_at(path) for path in self._section.fields]
        made = 0
        for wanted, fields in ((False, self._usual), (True, self._rare)):
            for spec in specs:
                if spec.rare is not wanted:
                    continue
                field = field_for(self._bridge, spec)
                field.setParent(self)
                fields.append(field)
                made += 1
                if made % FIELDS_IN_A_PIECE == 0:
                    yield
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(GRID + 4)
        self._wanted: list[Field] = self._usual
        self._columns = Columns(self._usual)
        if self._usual:
            if self._title:
                column.addWidget(Words(self._title, self._title_size))
            column.addWidget(self._columns)
        if self._rare:
            self._words = _("More entries") if self._usual else _(self._section.title)
            about = _(self._section.title) if self._usual else ""
            self.fold = Fold(self._words, Columns(self._rare), about)
            column.addWidget(self.fold)

    @property
    def fields(self) -> list[Field]:
        """All fields in reading order, also those out of sight."""
        return [*self._usual, *self._rare]

    @property
    def is_called_for(self) -> bool:
        """Whether there is anything to be seen on this sheet."""
        return bool(self._rare or self._wanted)

    def bind(self, row_path: str) -> None:
        """Show the fields of a row, or of the job itself where `row_path` is empty."""
        self._led_to = ""
        for field in self.fields:
            tail = field.spec.path.partition(".*.")[2] if row_path else field.spec.path
            field.bind(f"{row_path}.{tail}" if row_path else tail)
        self._filled = self._worth_seeing()
        if self.fold is not None:
            self.fold.unfold(self._filled > 0)
        self._arrange()

    def refresh(self) -> None:
        """Show what the job holds."""
        for field in self.fields:
            field.refresh()
        filled = self._worth_seeing()
        if self.fold is not None and filled > self._filled:
            self.fold.unfold()
        self._filled = filled
        self._arrange()

    def reveal(self, path: str) -> bool:
        """Put the cursor into the field at `path`; say whether it is here."""
        for field in self.fields:
            if field.path == path:
                self._led_to = path
                if self.fold is not None and field in self._rare:
                    self.fold.unfold()
                self._arrange()
                field.take_focus()
                return True
        return False

    def _follow_focus(self, _old: QWidget | None, now: QWidget | None) -> None:
        """Give the labels access keys while the cursor is in this section.

        A page has more fields than there are letters, so each letter is one of this section only.
        """
        is_here = now is not None and self.isAncestorOf(now)
        if not is_here and not self._has_keys:
            return
        self._has_keys = is_here
        for field in self.fields:
            field.show_key("")
        if is_here:
            seen = [field for field in self.fields if field.label.isVisible()]
            texts = keyed([field.label.text() for field in seen], letters_of_menus(self))
            for field, text in zip(seen, texts, strict=True):
                field.show_key(text)

    def _arrange(self) -> None:
        """Show what is called for, and say how much the fold holds."""
        self._wanted = [field for field in self._usual if self._is_wanted(field)]
        self._columns.show_only(self._wanted)
        if self.fold is not None:
            words = self._words
            held = sum(self._holds(field) for field in self._rare)
            if held:
                words = _("{words} ({n} filled in)").format(words=words, n=held)
            self.fold.button.say(words)

    def _is_wanted(self, field: Field) -> bool:
        return (
            field.spec.shown_when is None
            or field.path == self._led_to
            or self._holds(field)
            or self._bridge.finding_at(field.path) is not None
            or is_called_for(self._bridge.editor.job, field.spec, field.path)
            or field.input.hasFocus()
        )

    def _worth_seeing(self) -> int:
        """Count the rare fields that hold something, are called for, or are told something of."""
        return sum(
            self._holds(field)
            or self._bridge.finding_at(field.path) is not None
            or self._is_asked_for(field)
            for field in self._rare
        )

    def _is_asked_for(self, field: Field) -> bool:
        if field.spec.shown_when is None:
            return False
        return is_called_for(self._bridge.editor.job, field.spec, field.path)

    def _holds(self, field: Field) -> bool:
        return self._bridge.value_at(field.path) not in (None, "")
