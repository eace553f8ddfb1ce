"""The company's name, logo and color on its reports."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFontMetrics, QPainter, QPaintEvent, QPixmap
from PySide6.QtWidgets import (
    QColorDialog,
    QDialog,
    QFormLayout,
    QHBoxLayout,
    QLabel,
    QLineEdit,
    QVBoxLayout,
    QWidget,
)

from deskapp.i18n import _
from deskapp.session.colors import READABLE, contrast
from deskapp.ui.dialogs.files import ask_pictures
from deskapp.ui.fields.plain_line import PlainLine
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Notice
from deskapp.ui.theme import GRID, sized
from deskapp.ui.words import Command, Size, Words

if TYPE_CHECKING:
    from deskapp.ui.desk import Desk

_PAPER = QColor("#ffffff")


class Swatch(QWidget):
    """How the head of a report will look: the accent color, the name, the logo."""

    def __init__(self) -> None:
        super().__init__()
        self._color = QColor("#1f5f7a")
        self._company = ""
        self._lines = ""
        self._logo = QPixmap()
        self.setFixedHeight(92)
        self.setMinimumWidth(480)
        self.setAccessibleName(_("Head of a report, as a sample"))

    def show_look(self, color: QColor, company: str, lines: str, logo: QPixmap) -> None:
        """Show another look."""
        self._color, self._company, self._lines, self._logo = color, company, lines, logo
        self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        """Draw the head on white paper."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.SmoothPixmapTransform)
        painter.fillRect(self.rect(), _PAPER)
        painter.fillRect(0, self.height() - 4, self.width(), 4, self._color)
        left = 16
        if not self._logo.isNull():
            room = QSize(110, 60)
            size = self._logo.size().scaled(room, Qt.AspectRatioMode.KeepAspectRatio)
            place = QRectF(left, 14 + (60 - size.height()) / 2, size.width(), size.height())
            painter.drawPixmap(place, self._logo, QRectF(self._logo.rect()))
            left += size.width() + 16
        painter.setPen(self._color)
        painter.setFont(sized(self.font(), 1.4, strong=True))
        room_left = self.width() - left - 16
        for text, font, ink, y in (
            (self._company, sized(self.font(), 1.4, strong=True), self._color, 40),
            (self._lines, sized(self.font(), 0.9), QColor("#3c3c3c"), 62),
        ):
            painter.setFont(font)
            painter.setPen(ink)
            shown = QFontMetrics(font).elidedText(text, Qt.TextElideMode.ElideRight, room_left)
            painter.drawText(left, y, shown)
        painter.end()
        event.accept()


class BrandingDialog(QDialog):
    """Edits the branding file."""

    def __init__(self, desk: Desk, parent: QWidget | None) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowTitle(_("Company"))
        self._desk = desk
        read = desk.branding()
        self._branding = read.branding
        self._logo_file: Path | None = None
        self._logo = QPixmap() if read.logo is None else QPixmap(str(read.logo))
        self._lines: dict[str, QLineEdit] = {}
        self.swatch = Swatch()
        self._remark = Notice()
        self._message = Notice()
        self._logo_name = QLabel(read.branding.logo or _("none"))
        self._lay_out()
        if read.findings:
            self._tell(read.findings[0].level, " ".join(f.text for f in read.findings))
        self._show_look()

    def line(self, name: str) -> QLineEdit:
        """Return the line of one entry (``company``, ``accent``, ...)."""
        return self._lines[name]

    @property
    def remark(self) -> str:
        """What is said about the accent color; empty if nothing."""
        return "" if self._remark.isHidden() else self._remark.text

    @property
    def message_text(self) -> str:
        """Why the look was not kept; empty if nothing is said."""
        return "" if self._message.isHidden() else self._message.text

    def use_logo(self, files: list[Path]) -> None:
        """Take a picture as the logo; it is copied when the dialog is saved."""
        self._logo_file = files[0]
        self._logo = QPixmap(str(files[0]))
        self._logo_name.setText(files[0].name)
        self._show_look()

    def _lay_out(self) -> None:
        form = QFormLayout()
        form.setHorizontalSpacing(2 * GRID)
        form.setVerticalSpacing(GRID + 2)
        form.setFieldGrowthPolicy(QFormLayout.FieldGrowthPolicy.ExpandingFieldsGrow)
        for name, label in (
            ("company", _("Company")),
            ("license", _("License")),
            ("address", _("Address")),
            ("phone", _("Phone")),
            ("email", _("E-mail")),
        ):
            form.addRow(label, self._new_line(name, label))
        form.addRow(_("Logo"), self._logo_row())
        form.addRow(_("Accent color"), self._color_row())
        column = QVBoxLayout(self)
        column.setContentsMargins(3 * GRID, 2 * GRID, 3 * GRID, 2 * GRID)
        column.setSpacing(12)
        purpose = _("Printed at the head of every report. Jobs already saved stay as they are.")
        column.addWidget(Words(purpose, muted=True))
        column.addLayout(form)
        column.addWidget(self._remark)
        column.addWidget(Words(_("How it will look"), Size.SMALL, muted=True))
        column.addWidget(self.swatch)
        column.addWidget(self._message)
        column.addLayout(self._buttons())

    def _new_line(self, name: str, label: str) -> QLineEdit:
        line = PlainLine(str(getattr(self._branding, name)), label)
        line.textChanged.connect(self._show_look)
        self._lines[name] = line
        return line

    def _logo_row(self) -> QHBoxLayout:
        choose = Command(_("Choose a picture…"), Glyph.PICTURE)
        choose.setAutoDefault(False)
        choose.clicked.connect(self._ask_logo)
        row = QHBoxLayout()
        row.addWidget(self._logo_name, 1)
        row.addWidget(choose)
        return row

    def _color_row(self) -> QHBoxLayout:
        pick = Command(_("Pick a color…"))
        pick.setAutoDefault(False)
        pick.clicked.connect(self._ask_color)
        row = QHBoxLayout()
        row.setSpacing(GRID)
        row.addWidget(self._new_line("accent", _("Accent color")), 1)
        row.addWidget(pick)
        return row

    def _buttons(self) -> QHBoxLayout:
        cancel = Command(_("Cancel"))
        cancel.setAutoDefault(False)
        cancel.clicked.connect(self.reject)
        self.save_button = Command(_("Save"), main=True)
        self.save_button.setDefault(True)
        self.save_button.clicked.connect(self._save)
        row = QHBoxLayout()
        row.addStretch(1)
        row.addWidget(cancel)
        row.addWidget(self.save_button)
        return row

    def _ask_logo(self) -> None:
        ask_pictures(self, _("Choose a logo"), self.use_logo, several=False)

    def _ask_color(self) -> None:
        dialog = QColorDialog(QColor(self._lines["accent"].text()), self)
        dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        dialog.colorSelected.connect(self._take_color)
        dialog.open()

    def _take_color(self, color: QColor) -> None:
        self._lines["accent"].setText(color.name())

    def _show_look(self) -> None:
        if "accent" not in self._lines:
            return
        color = QColor(self._lines["accent"].text().strip())
        if not color.isValid():
            text = _("This is not a color yet. Type # and six digits or letters a to f.")
            self._remark.say(Glyph.CHECK, _("Check"), text)
            color = QColor("#1f5f7a")
        elif contrast(color.name(), _PAPER.name()) < READABLE:
            text = _("Text in this color is hard to read on white paper ({ratio:.1f} to 1).")
            advice = _("From 4.5 to 1 it reads well; a darker one would do.")
            words = text.format(ratio=contrast(color.name(), _PAPER.name()))
            self._remark.say(Glyph.CHECK, _("Check"), f"{words} {advice}")
        else:
            self._remark.hide()
        texts = [self._lines[name].text() for name in ("license", "address", "phone", "email")]
        lines = " · ".join(text for text in texts if text)
        company = self._lines["company"].text() or _("Your company")
        self.swatch.show_look(color, company, lines, self._logo)

    def _save(self) -> None:
        entries = {name: line.text().strip() for name, line in self._lines.items()}
        branding = self._branding.model_copy(update=entries)
        findings = self._desk.save_branding(branding, self._logo_file)
        if findings:
            self._tell(findings[0].level, " ".join(finding.text for finding in findings))
        else:
            self.accept()

    def _tell(self, level: str, text: str) -> None:
        glyph, word = level_of(level)
        self._message.say(glyph, word, text)
