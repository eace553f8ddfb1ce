"""Odd texts typed into every field of every page: told about in place, never a broken slot."""

from __future__ import annotations

from itertools import cycle

import pytest
from PySide6.QtWidgets import QLineEdit, QPlainTextEdit

from deskapp.session.pages import PAGES
from deskapp.ui.bridge import Bridge
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.workbench import Workbench

TEXTS = (
    *("", " ", "\t", "0", "-0", "-1", "1e9", "1e400", "9" * 400, "nan", "inf", "1,234.5", "1.234"),
    *("3,5 Pa", "150 cfm", "12 parsecs", "½", "٣٤", "１２", "1\u202e2", "\u200b", "\x00", "a\x07b"),
    *("\ud800", "<b>bold</b>", "&amp;", "{n}", "%s", "'; drop", "2026-02-30", "25:61", "ß" * 300),
    *("八疊", "👩‍🔧", "line\nbreak", "=1+1", "../../x", "C:\\x"),
)


def type_into(bridge: Bridge, box: QLineEdit | QPlainTextEdit, text: str) -> None:
    box.setFocus()
    if isinstance(box, EntryLine):
        box.retype(text)
    elif isinstance(box, QLineEdit):
        box.selectAll()
        box.insert(text)
    else:
        box.setPlainText(text)
    box.clearFocus()
    bridge.settle()


@pytest.mark.parametrize("page_id", [page.id for page in PAGES if page.sections])
def test_that_odd_texts_break_no_slot(bench: Workbench, page_id: str) -> None:
    bench.show_page(page_id)
    texts = cycle(TEXTS)
    boxes = [
        box
        for kind in (QLineEdit, QPlainTextEdit)
        for box in bench.page.findChildren(kind)
        if not box.isReadOnly() and box.isEnabled()
    ]
    for box in boxes:
        for _turn in range(4):
            type_into(bench.bridge, box, next(texts))
    bench.bridge.leave()
    assert bench.bridge.assessment is not None
    for field in bench.page.findChildren(Field):
        finding = bench.bridge.finding_at(field.path)
        if finding is not None and not field.input.hasFocus():
            assert not field.message.isHidden(), field.path
            assert field.message.text
