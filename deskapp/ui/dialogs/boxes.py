"""Short questions and messages; none of them holds up the program."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox, QWidget

from deskapp.i18n import _
from deskapp.ui.glyphs import Glyph, pixmap_of
from deskapp.ui.theme import colors_of

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping

_Buttons = QMessageBox.StandardButton


def tell(parent: QWidget, title: str, text: str) -> QMessageBox:
    """Show what could not be done and how to go on; one button closes it."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setIconPixmap(pixmap_of(Glyph.CHECK, 36, colors_of(parent.palette()), ratio=2))
    box.setWindowTitle(title)
    box.setText(title)
    box.setInformativeText(text)
    box.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    box.addButton(_("Close"), QMessageBox.ButtonRole.RejectRole)
    box.open()
    return box


def ask_to_save(
    parent: QWidget,
    name: str,
    save: Callable[[], object],
    discard: Callable[[], object],
    stay: Callable[[], object] | None = None,
) -> QMessageBox:
    """Ask once what to do with a job that has unsaved changes; canceled, it stays."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setIconPixmap(pixmap_of(Glyph.NOTE, 36, colors_of(parent.palette()), ratio=2))
    box.setWindowTitle("Ductfolio")
    box.setText(_("Save the changes to {name}?").format(name=name))
    box.setInformativeText(_("Without saving, they are gone once the job is closed."))
    box.setStandardButtons(_Buttons.Save | _Buttons.Discard | _Buttons.Cancel)
    box.setDefaultButton(_Buttons.Save)

    def answered(result: int) -> None:
        if result == _Buttons.Save.value:
            save()
        elif result == _Buttons.Discard.value:
            discard()
        elif stay is not None:
            stay()

    box.finished.connect(answered)
    box.open()
    return box


def ask_about(
    parent: QWidget, title: str, text: str, ways: Mapping[str, Callable[[], object]]
) -> QMessageBox:
    """Ask how to go on; each of `ways` is a button, the first one the usual way, and Cancel."""
    box = QMessageBox(parent)
    box.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
    box.setIconPixmap(pixmap_of(Glyph.NOTE, 36, colors_of(parent.palette()), ratio=2))
    box.setWindowTitle("Ductfolio")
    box.setText(title)
    box.setInformativeText(text)
    for number, (words, act) in enumerate(ways.items()):
        button = box.addButton(words, QMessageBox.ButtonRole.AcceptRole)
        button.clicked.connect(act)
        if number == 0:
            box.setDefaultButton(button)
    box.addButton(_Buttons.Cancel)
    box.open()
    return box
