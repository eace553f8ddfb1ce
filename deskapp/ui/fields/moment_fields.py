"""Days and times of day: typed, or put in with one key or click."""

from __future__ import annotations

from abc import abstractmethod
from typing import TYPE_CHECKING

from PySide6.QtCore import QDate, QEvent, QSize, Qt, QTime
from PySide6.QtGui import QKeySequence, QPalette, QShortcut, QTextCharFormat
from PySide6.QtWidgets import (
    QCalendarWidget,
    QHBoxLayout,
    QMenu,
    QToolButton,
    QWidget,
    QWidgetAction,
)

from deskapp.i18n import _, pgettext
from deskapp.ui.fields.typed_fields import LineField
from deskapp.ui.glyphs import Glyph, icon_of
from deskapp.ui.theme import scaled
from deskapp.units.when import DAY_EXAMPLE

if TYPE_CHECKING:
    from collections.abc import Callable

NOW_KEYS = "Ctrl+;"
CALENDAR_KEYS = "Alt+Down"
_TURNS = {"qt_calendar_prevmonth": "‹", "qt_calendar_nextmonth": "›"}
"""The buttons that turn to another month, by the names Qt gives them."""


def _calendar() -> QCalendarWidget:
    """Return a calendar in quiet colors: weekends are days like others, weeks have no numbers."""
    calendar = QCalendarWidget()
    calendar.setGridVisible(False)
    calendar.setVerticalHeaderFormat(QCalendarWidget.VerticalHeaderFormat.NoVerticalHeader)
    plain = QTextCharFormat()
    plain.setForeground(calendar.palette().text())
    for day in (Qt.DayOfWeek.Saturday, Qt.DayOfWeek.Sunday):
        calendar.setWeekdayTextFormat(day, plain)
    for name, arrow in _TURNS.items():
        button = calendar.findChild(QToolButton, name)
        if button is not None:
            _write_on_accent(button, arrow)
    return calendar


def _write_on_accent(button: QToolButton, text: str) -> None:
    """Give a button of the head of a calendar a sign that can be seen there."""
    palette = button.palette()
    palette.setColor(QPalette.ColorRole.ButtonText, palette.highlightedText().color())
    button.setPalette(palette)
    button.setText(text)
    button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextOnly)


class MomentField(LineField):
    """A moment: the line, and a button that puts in the present one."""

    @property
    @abstractmethod
    def now_words(self) -> str:
        """What the button says."""

    @property
    @abstractmethod
    def now_text(self) -> str:
        """The present moment as it would be typed."""

    def put(self, text: str) -> None:
        """Type `text` into the field for the person."""
        self.line.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.line.retype(text)
        self.line.commit()

    def put_now(self) -> None:
        """Put in the present day or time."""
        self.put(self.now_text)

    def _dressed(self) -> QWidget:
        box = QWidget()
        row = QHBoxLayout(box)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        self.line.setFixedWidth(self.line.fontMetrics().averageCharWidth() * 20)
        row.addWidget(self.line)
        for button in self._buttons():
            row.addWidget(button)
        row.addStretch(1)
        return box

    def _buttons(self) -> list[QToolButton]:
        self.now = self._button(self.now_words, NOW_KEYS, self.put_now)
        self.now.setText(self.now_words)
        return [self.now]

    def _button(self, words: str, keys: str, then: Callable[[], None]) -> QToolButton:
        """Return a button beside the line; its keys work while the line has the focus."""
        button = QToolButton()
        button.setAutoRaise(True)
        button.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        shown = QKeySequence(keys).toString(QKeySequence.SequenceFormat.NativeText)
        button.setToolTip(f"{words} ({shown})")
        button.setAccessibleName(f"{_(self.spec.label)}: {words}")
        button.clicked.connect(then)
        shortcut = QShortcut(QKeySequence(keys), self.line)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        shortcut.activated.connect(then)
        return button


class ClockField(MomentField):
    """A time of day."""

    @property
    def now_words(self) -> str:
        """What the button says."""
        return pgettext("button beside a time of day", "Now")

    @property
    def now_text(self) -> str:
        """The time of day, hours and minutes."""
        return QTime.currentTime().toString("HH:mm")

    def _dressed(self) -> QWidget:
        self.line.setPlaceholderText("08:40")
        return super()._dressed()


class DayField(MomentField):
    """A day: typed, or picked from a calendar."""

    @property
    def now_words(self) -> str:
        """What the button says."""
        return _("Today")

    @property
    def now_text(self) -> str:
        """The day of today."""
        return QDate.currentDate().toString(Qt.DateFormat.ISODate)

    def _dressed(self) -> QWidget:
        self.calendar: QCalendarWidget | None = None
        self.line.setPlaceholderText(DAY_EXAMPLE)
        return super()._dressed()

    def _buttons(self) -> list[QToolButton]:
        self._picker = self._button(_("Pick from a calendar"), CALENDAR_KEYS, self.open_calendar)
        side = scaled(18, self.font())
        self._picker.setIconSize(QSize(side, side))
        self._picker.setIcon(icon_of(Glyph.CALENDAR, self, side))
        return [self._picker, *super()._buttons()]

    def changeEvent(self, event: QEvent) -> None:
        """Follow the theme."""
        if event.type() == QEvent.Type.PaletteChange:
            self._picker.setIcon(icon_of(Glyph.CALENDAR, self, self._picker.iconSize().width()))
        super().changeEvent(event)

    def open_calendar(self) -> None:
        """Open the calendar under the field, on the day it holds."""
        menu = QMenu(self)
        menu.setContentsMargins(1, 1, 1, 1)  # its frame stays to be seen
        menu.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        calendar = self.calendar = _calendar()
        self.line.commit()
        held = self._bridge.value_at(self.path)
        if held is not None and held.value is not None:
            calendar.setSelectedDate(QDate(held.value.year, held.value.month, held.value.day))
        calendar.activated.connect(self._pick)
        calendar.clicked.connect(self._pick)
        calendar.activated.connect(menu.close)
        calendar.clicked.connect(menu.close)
        action = QWidgetAction(menu)
        action.setDefaultWidget(calendar)
        menu.addAction(action)
        menu.popup(self.line.mapToGlobal(self.line.rect().bottomLeft()))
        calendar.setFocus()

    def _pick(self, day: QDate) -> None:
        self.put(day.toString(Qt.DateFormat.ISODate))
