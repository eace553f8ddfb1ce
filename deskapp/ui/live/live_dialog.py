"""Readings while they arrive: source, face, captured averages, and the way into the test."""

from __future__ import annotations

import random
from dataclasses import replace
from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QHBoxLayout, QSlider, QVBoxLayout, QWidget

from deskapp.domain.finding import Finding
from deskapp.domain.trial import SIMULATED
from deskapp.i18n import _
from deskapp.session.live.import_log import log_of_lines
from deskapp.session.live.live_words import capture_words, reading_texts, too_low_words
from deskapp.session.live.plan_of_test import training_run
from deskapp.session.live.reader import FIRST_LINES
from deskapp.session.live.sources import SourceState, from_tcp
from deskapp.session.live.watch import LiveWatch, Plan
from deskapp.ui.dialogs.entry_dialog import EntryDialog, scrolled
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.glyphs import Glyph
from deskapp.ui.limits.candidate_sheet import empty
from deskapp.ui.live.columns_dialog import ColumnsDialog
from deskapp.ui.live.gauge_face import GaugeFace
from deskapp.ui.live.source_form import SourceForm, Way
from deskapp.ui.live.stream import Stream
from deskapp.ui.marks import Notice
from deskapp.ui.row_tabs import WrappingRow
from deskapp.ui.theme import GRID
from deskapp.ui.words import Card, Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QShowEvent

    from deskapp.session.live.columns import ColumnMapping
    from deskapp.session.live.plan_of_test import TrainingRun
    from deskapp.session.live.sources import LineSource
    from deskapp.session.live.steadiness import Capture
    from deskapp.session.live.watch import LiveView
    from deskapp.ui.live.kit import LiveKit
    from deskapp.units.display import Formatter

_HIGHEST_HAND = 60
_TROUBLED = (SourceState.TROUBLE, SourceState.QUIET, SourceState.TRYING_AGAIN)


class Slide(QSlider):
    """A slide that the wheel does not move: it would change a flow while one scrolls."""

    def __init__(self) -> None:
        super().__init__(Qt.Orientation.Horizontal)
        self.setFocusPolicy(Qt.FocusPolicy.StrongFocus)

    def wheelEvent(self, event: QWheelEvent) -> None:
        """Leave scrolling to what it stands in."""
        event.ignore()


class LiveDialog(EntryDialog):
    """Reads one stream at a time. Closing it ends the stream.

    Signals: `used` with the texts of a reading by field name, `baseline_used` with the text of a
    baseline, `columns_named` with a mapping that somebody chose for the lines.
    """

    used = Signal(dict)
    baseline_used = Signal(str)
    columns_named = Signal(object)

    def __init__(
        self,
        kit: LiveKit,
        plan: Callable[[bool], Plan],
        formatter: Formatter,
        parent: QWidget | None,
        *,
        mapping: ColumnMapping | None = None,
        pace: float = 1.0,
    ) -> None:
        """Read by what `plan` returns, for a baseline (True) or a reading (False).

        `mapping` says which column of a line holds what, for a gauge known from before. `pace` is
        real seconds for each second of a training.
        """
        super().__init__(_("Read live"), parent)
        self._kit, self._plan, self._formatter = kit, plan, formatter
        self._mapping, self._pace = mapping, pace
        self.stream: Stream | None = None
        self.training: TrainingRun | None = None
        self._shown: tuple[Capture, ...] = ()
        self._first_lines: tuple[str, ...] = ()
        self._training_baseline = 0.0
        self.purpose = Choices()
        self.purpose.setAccessibleName(_("What is read"))
        self.purpose.addItem(_("A reading of the test"), False)
        self.purpose.addItem(_("The baseline, fan off and covered"), True)
        self.form = SourceForm([weather.id for weather in kit.training.weathers])
        self.start_button = Command(_("Start reading"), main=True)
        self.stop_button = Command(_("Stop reading"))
        self.name_columns = Command(_("Columns…"))
        self.state = Notice()
        self.face = GaugeFace(formatter)
        self.hand = Slide()
        self.hand_words = Words()
        self.use = Command(_("Use this reading"), main=True)
        self.again = Command(_("Begin the average anew"))
        self.too_low = Words(size=Size.SMALL)
        self._captures = QVBoxLayout()
        self._captures.setSpacing(GRID)
        self.capture_texts: list[str] = []
        self._lay_out()
        self.start_button.clicked.connect(self.begin)
        self.stop_button.clicked.connect(self.end)
        self.name_columns.clicked.connect(self.ask_for_columns)
        self.use.clicked.connect(self.use_latest)
        self.again.clicked.connect(self._begin_anew)
        self.hand.valueChanged.connect(self._turn)
        self.form.changed.connect(self._allow)
        self.purpose.currentIndexChanged.connect(self._replan)
        self._allow()
        give_room(self, 1060, 700)

    def begin(self) -> None:
        """Start reading from the source described."""
        self.end()
        self.training, self._training_baseline = None, 0.0
        reader = self.form.new_reader(self._mapping)
        if isinstance(reader, Finding):
            self.state.say(Glyph.CHECK, "", reader.text)
            return
        in_training = self.form.chosen is Way.TRAINING
        source = self._training_source() if in_training else self.form.source()
        if source is None:
            return
        server = None if self.training is None else self.training.server
        plan = self._plan_now()
        watch = LiveWatch(reader, self._kit.rules, plan, self._formatter)
        self._shown = ()
        self._show_captures(())
        self._face_begins(plan)
        self._first_lines = ()
        self.stream = Stream(source, watch, server, self)
        self.stream.sampled.connect(self.face.trace.add)
        self.stream.viewed.connect(self._view)
        self.stream.over.connect(self._allow)
        self.stream.start()
        self.hand.setValue(0)
        is_pressed = self.start_button.hasFocus()
        self._allow()
        if is_pressed:
            # Else the cursor would go on to whatever comes next, which Enter would press.
            self.stop_button.setFocus()

    def ask_for_columns(self) -> None:
        """Let the columns of the lines that came be named; they are read anew by them."""
        log = log_of_lines(self._first_lines, _("lines read live"))
        if isinstance(log, Finding):
            self.state.say(Glyph.CHECK, "", log.text)
            return
        dialog = ColumnsDialog(log, self._formatter, self, mapping=self._mapping)
        dialog.named.connect(self._read_by)
        dialog.open()

    def _read_by(self, mapping: ColumnMapping) -> None:
        self._mapping = mapping
        self.columns_named.emit(mapping)
        self.begin()

    def _training_source(self) -> LineSource | None:
        """Draw a hidden duct system, and return the source of its lines."""
        training = training_run(
            self._kit.training,
            random.randrange(1_000_000),
            self._formatter,
            str(self.form.weather.currentData()),
            averaging_time=self._plan(False).averaging_time,
            pace=self._pace,
        )
        try:
            training.server.start()
        except OSError as error:
            words = _("The training cannot begin: {why}.")
            self.state.say(Glyph.CHECK, "", words.format(why=error.strerror or error))
            return None
        self.training = training
        return from_tcp(*training.server.address)

    @property
    def is_baseline(self) -> bool:
        """Whether the baseline is read, not the test."""
        return bool(self.purpose.currentData())

    def _plan_now(self) -> Plan:
        """Return what is to be read now, from the job or the training."""
        if self.training is None:
            return self._plan(self.is_baseline)
        plan = replace(self.training.plan, baseline=self._training_baseline)
        return Plan(plan.averaging_time) if self.is_baseline else plan

    def _replan(self) -> None:
        """Read on for the other purpose."""
        if self.stream is not None:
            plan = self._plan_now()
            self.stream.watch.replan(plan)
            self._face_begins(plan)
        self._name_use()
        self._allow_use()

    def _face_begins(self, plan: Plan) -> None:
        own = None if self.training is None else self._plan(False)
        self.face.begin(plan, for_baseline=self.is_baseline, in_place_of=own)

    def _use_as_baseline(self, capture: Capture, text: str) -> None:
        """Take an average as the baseline, and go on with the readings."""
        if self.training is None:
            self.baseline_used.emit(text)
        else:
            self._training_baseline = capture.duct_pressure
            words = _("The baseline of a training stays in the training: the test gets none of it.")
            self.state.say(Glyph.NOTE, "", words)
        self.purpose.setCurrentIndex(0)
        self.use.allow(False, _("This average is used already."))

    def _name_use(self) -> None:
        words = _("Use as baseline") if self.is_baseline else _("Use this reading")
        self.use.setText(words)

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
        if self.is_baseline:
            self._use_as_baseline(self._shown[-1], texts["duct_pressure"])
            return
        if self.training is not None:
            texts["note"] = f"{_(SIMULATED)}; {texts['note']}"
        self.used.emit(texts)
        self.use.allow(False, _("This average is used already."))
        self.use.setText(_("Used"))

    def showEvent(self, event: QShowEvent) -> None:
        """Begin at the choice of source."""
        super().showEvent(event)
        self.form.way.setFocus()

    def _view(self, view: LiveView) -> None:
        self.face.show_view(view)
        self._keep_first_lines()
        if view.notice is not None:
            glyph = Glyph.CHECK if view.notice.state in _TROUBLED else Glyph.NOTE
            self.state.say(glyph, "", view.notice.text)
        if view.captures != self._shown:
            self._shown = view.captures
            self._show_captures(view.captures)

    def _keep_first_lines(self) -> None:
        """Keep what the columns can be named by, also once the stream is over."""
        if self.stream is not None and len(self._first_lines) < FIRST_LINES:
            was_empty = not self._first_lines
            self._first_lines = self.stream.watch.first_lines
            if was_empty and self._first_lines:
                self._allow()

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
        self._name_use()
        self._allow_use()

    def _allow_use(self) -> None:
        """Let the latest average be used, unless the fan hardly moved the pressure."""
        doubt = ""
        if self._shown and not self.is_baseline:
            baseline = self._plan_now().baseline
            doubt = too_low_words(self._shown[-1], baseline, self._formatter)
        self.too_low.setText(doubt)
        self.too_low.setVisible(bool(doubt))
        none = _("No average is captured yet.")
        self.use.allow(bool(self._shown) and not doubt, doubt or none)

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
        why = self.form.lacks or _("It is being read already.")
        self.start_button.allow(not is_reading and not self.form.lacks, why)
        for button in (self.stop_button, self.again):
            button.allow(is_reading, _("Nothing is being read."))
        in_training = self.form.chosen is Way.TRAINING
        self.name_columns.setVisible(self.form.names_columns)
        self.name_columns.allow(bool(self._first_lines), _("No line was read yet."))
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
        label = Words(_("What is read"))
        label.setBuddy(self.purpose)
        column.addWidget(label)
        column.addWidget(self.purpose)
        row = WrappingRow()
        for button in (self.start_button, self.stop_button):
            button.setAutoDefault(False)
            row.addWidget(button)
        column.addLayout(row)
        self.name_columns.setAutoDefault(False)
        self.name_columns.hide()
        column.addWidget(self.name_columns, 0, Qt.AlignmentFlag.AlignLeft)
        column.addWidget(self.state)
        self.hand.setRange(0, _HIGHEST_HAND)
        self.hand.setPageStep(5)
        self.hand.setAccessibleName(_("Simulated hand at the fan"))
        self._hand_about = Words(
            _(
                "Only the simulated fan follows this. A training has a fan, a ring and a target of"
                " its own, whatever the test says; its readings say so in their note."
            ),
            Size.SMALL,
            muted=True,
        )
        for part in (self.hand_words, self.hand, self._hand_about):
            column.addWidget(part)
        column.addSpacing(GRID)
        column.addWidget(Words(_("Captured averages"), Size.STRONG))
        column.addLayout(self._captures)
        column.addWidget(self.too_low)
        column.addStretch(1)
        halves = QHBoxLayout()
        halves.setSpacing(2 * GRID)
        area = scrolled(left)
        bar = area.verticalScrollBar().sizeHint().width()
        area.setMinimumWidth(left.minimumSizeHint().width() + bar)
        halves.addWidget(area, 2)
        halves.addWidget(self.face, 3)
        self.column.addLayout(halves, 1)
        close = Command(_("Close"))
        close.clicked.connect(self.accept)
        words = _("The fan is set by hand. This program reads only; it never controls a fan.")
        self.foot(Words(words, muted=True), (self.again, close, self.use))
        self._turn(0)
        self._show_captures(())
