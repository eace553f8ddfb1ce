"""Readings while they arrive: source, face, captured averages, and the way into the test."""

from __future__ import annotations

import random
from typing import TYPE_CHECKING

from PySide6.QtCore import QSize, Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QSlider, QVBoxLayout, QWidget

from deskapp.i18n import _
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.live_words import capture_words, reading_texts
from deskapp.session.live.plan_of_test import training_run
from deskapp.session.live.sources import SourceState, from_tcp
from deskapp.session.live.watch import LiveWatch
from deskapp.ui.glyphs import Glyph
from deskapp.ui.instruments.entry_dialog import EntryDialog
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.live.gauge_face import GaugeFace
from deskapp.ui.live.source_form import SourceForm, Way
from deskapp.ui.live.stream import Stream
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QShowEvent

    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.plan_of_test import TrainingRun
    from deskapp.session.live.steadiness import Capture
    from deskapp.session.live.watch import LiveView, Plan
    from deskapp.ui.live.kit import LiveKit
    from deskapp.units.display import Formatter

_HIGHEST_HAND = 60
_TROUBLED = (SourceState.TROUBLE, SourceState.QUIET, SourceState.TRYING_AGAIN)


class LiveDialog(EntryDialog):
    """Reads one stream at a time. Closing it ends the stream.

    Signals: `used` with the texts of a reading by field name.
    """

    used = Signal(dict)

    def __init__(
        self,
        kit: LiveKit,
        plan: Callable[[], Plan],
        formatter: Formatter,
        parent: QWidget | None,
        *,
        mapping: ColumnMapping | None = None,
        pace: float = 1.0,
    ) -> None:
        """Read by what `plan` returns when a stream begins.

        `mapping` says which column of a line holds what, for a gauge known from before. `pace` is
        real seconds for each second of a training.
        """
        super().__init__(_("Read live"), parent)
        self._kit, self._plan, self._formatter = kit, plan, formatter
        self._mapping, self._pace = mapping, pace
        self.stream: Stream | None = None
        self.training: TrainingRun | None = None
        self._shown: tuple[Capture, ...] = ()
        self.form = SourceForm([weather.id for weather in kit.training.weathers])
        self.start_button = Command(_("Start reading"), main=True)
        self.stop_button = Command(_("Stop reading"))
        self.state = Notice()
        self.face = GaugeFace(formatter)
        self.hand = QSlider(Qt.Orientation.Horizontal)
        self.hand_words = Words()
        self.use = Command(_("Use this reading"), main=True)
        self.again = Command(_("Begin the average anew"))
        self._captures = QVBoxLayout()
        self._captures.setSpacing(GRID)
        self.capture_texts: list[str] = []
        self._lay_out()
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self.end)
        self.use.clicked.connect(self.use_latest)
        self.again.clicked.connect(self._begin_anew)
        self.hand.valueChanged.connect(self._turn)
        self.form.changed.connect(self._allow)
        self._allow()
        self.resize(QSize(1060, 700))

    def begin(self) -> None:
        """Start reading from the source described."""
        self.end()
        source, plan, server = self.form.source(), self._plan(), None
        if self.form.chosen is Way.TRAINING:
            weather = str(self.form.weather.currentData())
            seed = random.randrange(1_000_000)
            self.training = training_run(
                self._kit.training,
                seed,
                self._formatter,
                weather,
                averaging_time=plan.averaging_time,
                pace=self._pace,
            )
            server, plan = self.training.server, self.training.plan
            try:
                server.start()
            except OSError as error:
                words = _("The training cannot begin: {why}.")
                self.state.say(Glyph.CHECK, "", words.format(why=error.strerror or error))
                self.training = None
                return
            source = from_tcp(*server.address)
        if source is None:
            return
        reader = CommaReader(None if self.form.chosen is Way.TRAINING else self._mapping)
        watch = LiveWatch(reader, self._kit.rules, plan, self._formatter)
        self._shown = ()
        self._show_captures(())
        self.face.begin(plan)
        self.stream = Stream(source, watch, server, self)
        self.stream.sampled.connect(self.face.trace.add)
        self.stream.viewed.connect(self._view)
        self.stream.over.connect(self._allow)
        self.stream.start()
        self.hand.setValue(0)
        self._allow()

    def end(self) -> None:
        """Stop reading; averages captured stay on screen."""
        if self.stream is not None:
            self.stream.stop()
            self.stream = None
            self.state.say(Glyph.NOTE, "", _("Reading was stopped."))
        if self.training is not None:
            self.state.say(Glyph.NOTE, "", self.training.answer(self._formatter))
        self._allow()

    def done(self, result: int, /) -> None:
        """End the stream with the dialog."""
        if self.stream is not None:
            self.stream.stop()
            self.stream = None
        super().done(result)

    def use_latest(self) -> None:
        """Hand over the latest average as a reading."""
        if not self._shown:
            return
        texts = reading_texts(self._shown[-1], self._formatter)
        if self.training is not None:
            texts["note"] = _("simulated for training; {note}").format(note=texts["note"])
        self.used.emit(texts)
        self.use.setEnabled(False)
        self.use.setText(_("Used"))

    def showEvent(self, event: QShowEvent) -> None:
        """Begin at the choice of source."""
        super().showEvent(event)
        self.form.way.setFocus()

    def _view(self, view: LiveView) -> None:
        self.face.show_view(view)
        if view.notice is not None:
            glyph = Glyph.CHECK if view.notice.state in _TROUBLED else Glyph.NOTE
            self.state.say(glyph, "", view.notice.text)
        if view.captures != self._shown:
            self._shown = view.captures
            self._show_captures(view.captures)

    def _show_captures(self, captures: tuple[Capture, ...]) -> None:
        empty(self._captures)
        texts = [capture_words(capture, self._formatter) for capture in captures]
        self.capture_texts = texts
        for number, text in enumerate(texts[-4:], max(len(texts) - 3, 1)):
            size = Size.STRONG if number == len(texts) else Size.BODY
            self._captures.addWidget(Words(f"{number}. {text}", size))
        if not texts:
            words = _("None yet. An average is captured by itself once the pressure is steady.")
            self._captures.addWidget(Words(words, muted=True))
        self.use.setText(_("Use this reading"))
        self.use.setEnabled(bool(texts))

    def _begin_anew(self) -> None:
        if self.stream is not None:
            self.stream.watch.restart()

    def _turn(self, pressure: int) -> None:
        shown = _("off") if pressure == 0 else _("set for {p} Pa").format(p=pressure)
        self.hand_words.setText(_("Simulated hand at the fan: {setting}").format(setting=shown))
        if self.training is not None and self.stream is not None:
            self.training.server.set_pressure(float(pressure))

    def _allow(self) -> None:
        is_reading = self.stream is not None and self.stream.is_running
        self.form.setEnabled(not is_reading)
        self.start_button.setEnabled(not is_reading and not self.form.lacks)
        self.start_button.setToolTip(self.form.lacks)
        self.stop_button.setEnabled(is_reading)
        self.again.setEnabled(is_reading)
        in_training = self.form.chosen is Way.TRAINING
        for part in (self.hand, self.hand_words, self._hand_about):
            part.setVisible(in_training)
            part.setEnabled(is_reading)
        if not is_reading and self.form.lacks:
            self.state.say(Glyph.NOTE, "", self.form.lacks)
        elif not is_reading and self.stream is None and self.training is None:
            self.state.hide()

    def _lay_out(self) -> None:
        left = Card()
        column = QVBoxLayout(left)
        column.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        column.setSpacing(GRID)
        column.addWidget(self.form)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        for button in (self.start_button, self.stop_button):
            button.setAutoDefault(False)
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self.state)
        self.hand.setRange(0, _HIGHEST_HAND)
        self.hand.setPageStep(5)
        self.hand.setAccessibleName(_("Simulated hand at the fan"))
        self._hand_about = Words(
            _("Only the simulated fan follows this. Readings of a training say so in their note."),
            Size.SMALL,
            muted=True,
        )
        for part in (self.hand_words, self.hand, self._hand_about):
            column.addWidget(part)
        column.addSpacing(GRID)
        column.addWidget(Words(_("Captured averages"), Size.STRONG))
        column.addLayout(self._captures)
        column.addStretch(1)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        halves.addWidget(left, 2)
        halves.addWidget(self.face, 3)
        self.column.addLayout(halves, 1)
        close = Command(_("Close"))
        close.clicked.connect(self.accept)
        words = _("The fan is set by hand. This program reads only; it never controls a fan.")
        self.foot(Words(words, muted=True), (self.again, close, self.use))
        self._turn(0)
        self._show_captures(())
