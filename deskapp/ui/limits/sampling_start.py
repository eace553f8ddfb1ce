"""The beginning of a sampling plan: what is checked, by which rule, in which units."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Signal
from PySide6.QtGui import QPalette
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from deskapp.domain.limit import Verification
from deskapp.i18n import _
from deskapp.session.limit_words import STATUS_WORDS
from deskapp.session.sampling_desk import SamplingProblem, read_units, start
from deskapp.ui.fields.chosen_fields import Choices
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.limits.candidate_sheet import empty, in_scroll
from deskapp.ui.limits.own_entry import PlainSheet
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.sampling import SamplingRule
    from deskapp.units.display import Formatter


class RuleSheet(QWidget):
    """What a sampling rule says: clause, dates, how well it is known, and its notes."""

    def __init__(self) -> None:
        super().__init__()
        self.setBackgroundRole(QPalette.ColorRole.Window)
        outer = QVBoxLayout(self)
        outer.setContentsMargins(0, 0, GRID, 0)
        self._column = QVBoxLayout()
        self._column.setSpacing(6)
        outer.addLayout(self._column)
        outer.addStretch(1)

    def show_rule(self, rule: SamplingRule, formatter: Formatter) -> None:
        """Describe a rule."""
        empty(self._column)
        add = self._column.addWidget
        add(Words(rule.name, Size.STRONG))
        add(Words(_("Clause: {clause}.").format(clause=rule.clause)))
        add(Words(_in_force(rule, formatter)))
        if rule.status is Verification.MEMORY:
            notice = Notice()
            add(notice)
            notice.say(Glyph.CHECK, _("Unverified"), _("check the text of the rule"))
        source = _("Source: {source}.").format(source=_(rule.source).rstrip("."))
        add(Words(f"{_(STATUS_WORDS[rule.status])} {source}", Size.SMALL, muted=True))
        for text in (rule.note, rule.choosing, rule.recording):
            if text:
                add(Words(_(text), Size.SMALL))


def _in_force(rule: SamplingRule, formatter: Formatter) -> str:
    first, last = rule.in_force_from, rule.in_force_to
    if first is None and last is None:
        return _("When it is in force is not recorded here.")
    parts = [_("from {day}").format(day=formatter.day(first))] if first else []
    if last:
        parts.append(_("to {day}").format(day=formatter.day(last)))
    return _("In force {dates}.").format(dates=" ".join(parts))


class SamplingStart(QWidget):
    """Project, feature, threshold, rule and the list of units.

    Signals: `begun` with the new plan; `open_wanted` when a plan on file is to be gone on with.
    """

    begun = Signal(object)
    open_wanted = Signal()

    def __init__(self, rules: Sequence[SamplingRule], formatter: Formatter) -> None:
        super().__init__()
        self._rules = {rule.id: rule for rule in rules}
        self._formatter = formatter
        self.project = PlainLine()
        self.feature = PlainLine(_("Duct leakage"))
        self.threshold = PlainLine()
        self.threshold.setPlaceholderText(_("such as: total leakage at most 40 cfm at 25 Pa"))
        self.rule = Choices()
        for rule in rules:
            self.rule.addItem(rule.name, rule.id)
        self.units = PlainSheet(9, grows=True)
        self.units.setPlaceholderText(
            _("One unit a line; paste a column of a table. After the name: kind, then address.")
        )
        self.count = Notice()
        self.message = Notice(Size.BODY)
        self._about = RuleSheet()
        self.begin = Command(_("Begin"), main=True)
        self.open = Command(_("Go on with a plan on file…"), Glyph.FOLDER)
        self._lay_out()
        self.rule.currentIndexChanged.connect(self._describe)
        self.units.textChanged.connect(self._read)
        self.begin.clicked.connect(self._begin)
        self.open.clicked.connect(self.open_wanted)
        self._describe()

    def _lay_out(self) -> None:
        left = QVBoxLayout()
        left.setSpacing(4)
        for label, part in (
            (_("Project"), self.project),
            (_("What is checked"), self.feature),
            (_("What each check is held against"), self.threshold),
            (_("Units, in the order of the building"), self.units),
        ):
            words = Words(label)
            words.setBuddy(part)
            part.setAccessibleName(label)
            left.addWidget(words)
            left.addWidget(part)
            left.addSpacing(4)
        left.setStretchFactor(self.units, 1)
        left.addWidget(self.count)
        right = QVBoxLayout()
        right.setSpacing(4)
        label = Words(_("Rule"))
        label.setBuddy(self.rule)
        self.rule.setAccessibleName(_("Rule"))
        right.addWidget(label)
        right.addWidget(self.rule)
        right.addSpacing(GRID)
        right.addWidget(in_scroll(self._about), 1)
        halves = QHBoxLayout()
        halves.setSpacing(3 * GRID)
        halves.addLayout(left, 1)
        halves.addLayout(right, 1)
        for button in (self.open, self.begin):
            button.setAutoDefault(False)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2 * GRID)
        column.addLayout(halves, 1)
        column.addWidget(self.message)

    def _describe(self) -> None:
        rule = self._rules.get(str(self.rule.currentData()))
        self.begin.allow(rule is not None, _("Choose a rule first."))
        if rule is not None:
            self._about.show_rule(rule, self._formatter)
        self._read()

    def _read(self) -> None:
        rule = self._rules.get(str(self.rule.currentData()))
        try:
            units = read_units(self.units.toPlainText(), self._formatter.style).units
        except SamplingProblem as problem:
            self.count.say(Glyph.CHECK, _("Check"), problem.text)
            return
        kinds = {unit.kind for unit in units if unit.kind}
        words = _("Units: {units}. Kinds: {kinds}.").format(units=len(units), kinds=len(kinds))
        if units and rule is not None and rule.smallest and len(units) < rule.smallest:
            text = _("With fewer than {count} units sampling is hardly worth it.")
            self.count.say(Glyph.CHECK, _("Check"), f"{words} {text.format(count=rule.smallest)}")
        elif units:
            self.count.say(Glyph.DONE, "", words)
        else:
            self.count.hide()

    def _begin(self) -> None:
        self.message.hide()
        rule = self._rules[str(self.rule.currentData())]
        try:
            units = read_units(self.units.toPlainText(), self._formatter.style)
        except SamplingProblem as problem:
            self._refuse(problem.text, self.units)
            return
        if not units.units:
            self._refuse(_("The list has no units yet. Type or paste their names."), self.units)
            return
        texts = [line.text().strip() for line in (self.project, self.feature, self.threshold)]
        if not texts[-1]:
            text = _("Say what each check is held against, such as the limit; the log states it.")
            self._refuse(text, self.threshold)
            return
        self.begun.emit(start(rule, units, *texts))

    def _refuse(self, text: str, part: QWidget) -> None:
        self.message.say(Glyph.CHECK, _("Check"), text)
        part.setFocus()
