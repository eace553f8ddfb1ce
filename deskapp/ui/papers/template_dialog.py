"""A company's own template of a report: order, parts and words, with the PDF beside them."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import (
    QDialog,
    QFrame,
    QHBoxLayout,
    QScrollArea,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import N_, _
from deskapp.session.report_kinds import KIND_WORDS, ReportKind
from deskapp.ui.dialogs.room import give_room
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.levels import tell_stop
from deskapp.ui.marks import Notice
from deskapp.ui.papers.block_list import BlockList
from deskapp.ui.papers.word_form import WordForm
from deskapp.ui.preview import PageSheets, draft_pages, pages_in_words
from deskapp.ui.tasks import Dispatcher
from deskapp.ui.theme import GRID
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtGui import QImage

    from deskapp.session.reports import ReportOrder
    from deskapp.session.template_draft import At, TemplateDraft
    from deskapp.ui.desk import Desk

_CALM = 400
_SIZE = (1180, 780)


class TemplateDialog(QDialog):
    """Changes a draft and shows what comes of it; `kept` is called once it is saved."""

    def __init__(
        self,
        desk: Desk,
        order: ReportOrder,
        draft: TemplateDraft,
        kept: Callable[[], None],
        parent: QWidget,
    ) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._desk, self._order, self._kept = desk, order, kept
        self.draft = draft
        self._title = _(KIND_WORDS[ReportKind(draft.kind)])
        self.setWindowTitle(_("Own template: {report}").format(report=self._title))
        self.dispatcher = Dispatcher(N_("Drawing the draft of a template"), self)
        self.dispatcher.done.connect(self._show_pages)
        self.dispatcher.broken.connect(self._say_why)
        self._calm = QTimer(self)
        self._calm.setSingleShot(True)
        self._calm.timeout.connect(self._draw)
        self.blocks = BlockList()
        self.blocks.led.connect(self._show_words)
        self.blocks.move_wanted.connect(self.move_block)
        self.blocks.switched.connect(self._switch)
        self.form = WordForm()
        self.form.reworded.connect(self._reword)
        self.sheets = PageSheets()
        self.remark = Words(muted=True)
        self.message = Notice(Size.BODY)
        self._lay_out()
        self._list((0,))
        self._show_words(self.blocks.at)
        give_room(self, *_SIZE)
        self._draw()

    def move_block(self, by: int) -> None:
        """Move the chosen block up (-1) or down (1)."""
        at = self.blocks.at
        if at:
            self.draft, now = self.draft.moved(at, by)
            self._list(now)
            self._changed()

    def save(self) -> None:
        """Keep the template under its name and use it."""
        name = self.name.text().strip()
        if not name:
            self._stop(_("Give the template a name, so that you find it again."))
            self.name.setFocus()
            return
        finding = self._desk.keep_template(self.draft.named(name))
        if finding is not None:
            self._stop(finding.text)
            return
        self._kept()
        self.accept()

    def _lay_out(self) -> None:
        self.name = PlainLine(self.draft.name or _("Our own"))
        self.name.setAccessibleName(_("Name of the template"))
        top = QHBoxLayout()
        label = Words(_("Name"), wraps=False)
        label.setBuddy(self.name)
        top.addWidget(label)
        top.addWidget(self.name, 1)
        left, right, pages = QWidget(), QScrollArea(), QWidget()
        preview = QVBoxLayout(pages)
        preview.addWidget(self.remark)
        preview.addWidget(self.sheets, 1)
        column = QVBoxLayout(left)
        column.setContentsMargins(0, 0, GRID, 0)
        column.setSpacing(GRID)
        column.addLayout(top)
        column.addWidget(Words(_("Parts, in printing order"), Size.STRONG))
        column.addWidget(self.blocks, 3)
        column.addLayout(self._moves())
        column.addWidget(Words(_("Words of this part"), Size.STRONG))
        hint = _("Names in braces are filled in; **stars** make words strong.")
        column.addWidget(Words(hint, Size.SMALL, muted=True))
        column.addWidget(self.form, 4)
        right.setWidgetResizable(True)
        right.setFrameShape(QFrame.Shape.NoFrame)
        right.setWidget(pages)
        split = QSplitter(Qt.Orientation.Horizontal)
        split.addWidget(left)
        split.addWidget(right)
        split.setStretchFactor(1, 1)
        split.setSizes([430, 750])
        whole = QVBoxLayout(self)
        whole.setContentsMargins(2 * GRID, 2 * GRID, 2 * GRID, 2 * GRID)
        whole.setSpacing(12)
        whole.addWidget(split, 1)
        whole.addWidget(self.message)
        whole.addLayout(self._buttons())

    def _moves(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(GRID)
        for words, by in ((_("Move up"), -1), (_("Move down"), 1)):
            command = Command(words)
            command.setAutoDefault(False)
            command.clicked.connect(self._mover(by))
            row.addWidget(command)
        row.addWidget(Words(_("or Alt and an arrow key"), Size.SMALL, muted=True), 1)
        return row

    def _mover(self, by: int) -> Callable[[], None]:
        def move() -> None:
            self.move_block(by)

        return move

    def _buttons(self) -> QHBoxLayout:
        cancel, save = Command(_("Cancel")), Command(_("Save and use"), main=True)
        for command in (cancel, save):
            command.setAutoDefault(False)
        cancel.clicked.connect(self.reject)
        save.clicked.connect(self.save)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(cancel)
        row.addWidget(save)
        return row

    def _list(self, at: At) -> None:
        self.blocks.show_blocks(self.draft.blocks(), at)

    def _show_words(self, at: At) -> None:
        self.form.show_words(self.draft.words(at))

    def _switch(self, at: At, is_shown: bool) -> None:
        self.draft = self.draft.showing(at, is_shown=is_shown)
        self._changed()

    def _reword(self, path: tuple[str | int, ...], text: str) -> None:
        self.draft = self.draft.reworded(self.blocks.at, path, text)
        self._changed()

    def _changed(self) -> None:
        self._calm.start(_CALM)

    def _draw(self) -> None:
        order, draft = self._order, self.draft
        self.remark.setText(_("Drawing…"))
        self.dispatcher.start(lambda: draft_pages(order, draft))

    def _show_pages(self, images: list[QImage]) -> None:
        self.message.hide()
        self.sheets.show_pages(images, self._title)
        self.remark.setText(pages_in_words(len(images)))

    def _say_why(self, error: Exception) -> None:
        self.remark.setText(_("The pages below are those before the last change."))
        self._stop(str(error))

    def _stop(self, text: str) -> None:
        tell_stop(self.message, text)
