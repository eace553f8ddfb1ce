"""What the person is asking about: the field that has the cursor."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.session.help.topics import HelpBook
from deskapp.session.resources import Shelf
from deskapp.ui.fields.cells import ChoiceCell, LineCell
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.help.topic_view import TopicDialog

if TYPE_CHECKING:
    from PySide6.QtWidgets import QWidget


def field_of(widget: QWidget | None) -> Field | LineCell | ChoiceCell | EntryLine | None:
    """Return the field or cell that `widget` is part of, if any."""
    found = widget
    while found is not None:
        if isinstance(found, Field | ChoiceCell | LineCell):
            return found
        found = found.parentWidget()
    return widget if isinstance(widget, EntryLine) else None


def explain_in_front_of(dialog: QWidget) -> None:
    """Explain the field of `dialog` that has the cursor, in front of it."""
    field = field_of(dialog.focusWidget())
    if field is not None:
        book = HelpBook(Shelf(), field.bridge.preferences)
        TopicDialog(book, book.of_spec(field.spec), dialog).open()
