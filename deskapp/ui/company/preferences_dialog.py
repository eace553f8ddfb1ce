"""Preferences: a form made from the table of preferences; each change holds at once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtWidgets import (
    QGridLayout,
    QHBoxLayout,
    QToolButton,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.preference_form import PreferenceField, PreferenceInput
from deskapp.ui.building import FIELDS_IN_A_PIECE, at_once
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.files import ask_folder
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.head_row import HeadRow
from deskapp.ui.levels import tell_findings
from deskapp.ui.marks import Notice
from deskapp.ui.standing import put_focus_back, scroll_to
from deskapp.ui.theme import GRID
from deskapp.ui.ticks import Tick
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Mapping, Sequence
    from pathlib import Path

    from deskapp.domain.finding import Finding


@dataclass(frozen=True, slots=True)
class Link:
    """A way to something with a window of its own, or a thing to do once that says it is done."""

    section: str
    label: str
    help: str
    act: Callable[[], str | None]


class PreferenceRow(QWidget):
    """One preference: label, input, the way back to the default, and what it does.

    Signals: `chosen` with the name and the new value.
    """

    chosen = Signal(str, object)

    def __init__(self, field: PreferenceField, value: object, default: object) -> None:
        super().__init__()
        self.field = field
        self._value, self._default = value, default
        grid = QGridLayout(self)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setHorizontalSpacing(2 * GRID)
        grid.setVerticalSpacing(2)
        grid.setColumnMinimumWidth(0, self.fontMetrics().averageCharWidth() * 24)
        grid.setColumnStretch(1, 1)
        label = Words(field.label)
        self.input = self._input()
        self.input.setAccessibleName(field.label)
        self.input.setAccessibleDescription(field.help)
        label.setBuddy(self.input)
        self.restore = QToolButton()
        self.restore.setText(_("Restore"))
        self.restore.setAutoRaise(True)
        self.restore.setAccessibleName(f"{field.label}: {_('Restore')}")
        self.restore.clicked.connect(self._restore)
        policy = self.restore.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.restore.setSizePolicy(policy)
        grid.addWidget(label, 0, 0)
        grid.addWidget(self.input, 0, 1)
        grid.addWidget(self.restore, 0, 2)
        grid.addWidget(Words(field.help, Size.SMALL, muted=True), 1, 1, 1, 2)
        self.message = Notice()
        grid.addWidget(self.message, 2, 1, 1, 2)
        self.show_value(value)

    def show_value(self, value: object) -> None:
        """Show another value; nothing is said of it."""
        self._value = value
        if isinstance(self.input, Choices):
            self.input.setCurrentIndex(max(0, self.input.findData(str(value))))
        elif isinstance(self.input, Tick):
            self.input.setChecked(bool(value))
        else:
            self.line.setText(str(value))
        self._allow_restore(value)

    def _allow_restore(self, value: object) -> None:
        self.restore.setVisible(value != self._default)
        words = _("Back to: {value}")
        self.restore.setToolTip(words.format(value=self._words_of(self._default)))

    def tell(self, finding: Finding) -> None:
        """Say why the value was not taken."""
        tell_findings(self.message, [finding])

    def _input(self) -> QWidget:
        if self.field.entry is PreferenceInput.CHOICE:
            box = Choices()
            for option in self.field.options:
                box.addItem(option.label, option.value)
            box.activated.connect(self._choose_held)
            return box
        if self.field.entry is PreferenceInput.SWITCH:
            tick = Tick(_("Yes"))
            tick.clicked.connect(self._choose)
            return tick
        self.line = PlainLine()
        self.line.editingFinished.connect(self._choose_held)
        return self._with_folder() if self.field.entry is PreferenceInput.FOLDER else self.line

    def _with_folder(self) -> QWidget:
        self.line.setPlaceholderText(_("the usual one"))
        self.line.setAccessibleName(self.field.label)
        self.line.setAccessibleDescription(self.field.help)
        pick = Command(_("Choose…"), Glyph.FOLDER)
        pick.setAutoDefault(False)
        pick.setAccessibleName(f"{self.field.label}: {_('Choose…')}")
        pick.clicked.connect(self._ask_folder)
        box = QWidget()
        box.setFocusProxy(self.line)
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GRID)
        row.addWidget(self.line, 1)
        row.addWidget(pick)
        return box

    def _ask_folder(self) -> None:
        ask_folder(self.window(), self.field.label, self._take_folder)

    def _take_folder(self, folder: Path) -> None:
        self._choose(str(folder))
        self.show_value(str(folder))

    def _restore(self) -> None:
        self._choose(self._default)
        self.show_value(self._default)
        self.input.setFocus()

    def _choose_held(self) -> None:
        """Take what the list or the line holds."""
        if isinstance(self.input, Choices):
            self._choose(str(self.input.currentData()))
        else:
            self._choose(self.line.text().strip())

    def _choose(self, value: object) -> None:
        if value != self._value:
            self._value = value
            self.message.hide()
            self._allow_restore(value)
            self.chosen.emit(self.field.name, value)

    def _words_of(self, value: object) -> str:
        labels = {option.value: option.label for option in self.field.options}
        if self.field.entry is PreferenceInput.SWITCH:
            return _("Yes") if value else _("No")
        return labels.get(str(value), str(value)) or _("empty")


class PreferencesDialog(EntryDialog):
    """All preferences, section by section.

    Signals: `chosen` with name and value of a preference as soon as it is changed.
    """

    chosen = Signal(str, object)

    def __init__(
        self,
        fields: Sequence[PreferenceField],
        values: Mapping[str, object],
        defaults: Mapping[str, object],
        links: Sequence[Link],
        parent: QWidget | None,
    ) -> None:
        """Show `fields` with their `values`; `links` stand below the fields of their section."""
        super().__init__("", parent)
        self._rows: dict[str, PreferenceRow] = {}
        self._links: list[Command] = []
        self.remark = Words(size=Size.SMALL, muted=True)
        self._area = scrolled()
        self.column.addWidget(self._area, 1)
        self._close = Command("", main=True)
        self._close.clicked.connect(self.accept)
        self.foot(self.remark, (self._close,))
        self._say_frame()
        give_room(self, 720, 640)
        inside = QWidget()
        self.fill_in_turns(self._fill(inside, fields, values, defaults, links))

    @property
    def rows(self) -> dict[str, PreferenceRow]:
        """All preferences by name."""
        self.complete()
        return self._rows

    @property
    def links(self) -> list[Command]:
        """The buttons below the preferences of their section."""
        self.complete()
        return self._links

    def fill(
        self,
        fields: Sequence[PreferenceField],
        values: Mapping[str, object],
        defaults: Mapping[str, object],
        links: Sequence[Link],
    ) -> None:
        """Show all this in the language in use now, in place of what is shown."""
        self.complete()
        before, held = self._area, self.focusWidget()
        self._say_frame()
        self._rows, self._links = {}, []
        self._area = scrolled()
        distance = before.verticalScrollBar().value()
        self.column.replaceWidget(before, self._area)
        at_once(self._fill(QWidget(), fields, values, defaults, links))
        put_focus_back(held, [(before, self._area)])
        before.hide()
        before.deleteLater()
        scroll_to(self._area, distance)

    def _say_frame(self) -> None:
        self.setWindowTitle(_("Preferences"))
        self._close.setText(_("Close"))
        self.say(_("Each change holds at once and is kept."))

    def _fill(
        self,
        inside: QWidget,
        fields: Sequence[PreferenceField],
        values: Mapping[str, object],
        defaults: Mapping[str, object],
        links: Sequence[Link],
    ) -> Iterator[None]:
        """Make the cards in `inside`, a few rows in each piece."""
        cards = QVBoxLayout(inside)
        cards.setContentsMargins(0, 0, GRID, 0)
        cards.setSpacing(2 * GRID)
        for section in dict.fromkeys(one.section for one in (*fields, *links)):
            card = Card()
            column = QVBoxLayout(card)
            column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
            column.setSpacing(2 * GRID)
            column.addWidget(Words(_(section), Size.HEADING))
            for field in fields:
                if field.section == section:
                    column.addWidget(self._row(field, values, defaults))
                    if len(self._rows) % FIELDS_IN_A_PIECE == 0:
                        yield
            for link in links:
                if link.section == section:
                    column.addWidget(self._link(link))
            cards.addWidget(card)
        cards.addStretch(1)
        yield
        self.put_in(self._area, inside)

    def say(self, text: str) -> None:
        """Say something at the foot."""
        self.remark.setText(text)

    def _row(
        self, field: PreferenceField, values: Mapping[str, object], defaults: Mapping[str, object]
    ) -> PreferenceRow:
        row = PreferenceRow(field, values[field.name], defaults[field.name])
        row.chosen.connect(self.chosen)
        self._rows[field.name] = row
        return row

    def _link(self, link: Link) -> QWidget:
        box = QWidget()
        button = Command(link.label)
        button.setAutoDefault(False)
        button.setAccessibleDescription(link.help)

        def act() -> None:
            self.say(link.act() or "")

        button.clicked.connect(act)
        self._links.append(button)
        box.setLayout(HeadRow(Words(link.help, Size.SMALL, muted=True), (button,)))
        return box
