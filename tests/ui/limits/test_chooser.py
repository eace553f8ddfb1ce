"""Choosing among the limits proposed: order, reasons, filter, rows, several, keys."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QCoreApplication, QEvent, Qt
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from deskapp.domain.limit import Verification
from deskapp.session.editor import Editor
from deskapp.session.limit_words import row_words
from deskapp.session.limits_desk import Fit, likely_limits, likely_limits_in_steps
from deskapp.session.resources import Shelf
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.limits.fit_words import fit_of


@pytest.fixture
def chooser(qtbot: QtBot, theme: object, editor: Editor) -> LimitChooser:
    assert theme
    editor.enter("site.region", "Washington")
    dialog = LimitChooser(lambda: likely_limits_in_steps(editor), None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    with qtbot.waitActive(dialog):
        dialog.open()
        dialog.activateWindow()
    dialog.complete()
    return dialog


def texts(chooser: LimitChooser) -> str:
    chooser.sheet.complete()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
    labels = chooser.sheet.findChildren(QLabel)
    return "\n".join(label.text() for label in labels)


def said_of(chooser: LimitChooser, edition_id: str) -> str:
    for at in range(chooser.list.count()):
        item = chooser.list.item(at)
        if item.data(Qt.ItemDataRole.UserRole) == edition_id:
            return str(item.data(Qt.ItemDataRole.AccessibleTextRole))
    raise AssertionError(edition_id)


def test_that_all_limits_are_listed_in_the_order_proposed(
    chooser: LimitChooser, editor: Editor
) -> None:
    proposed = likely_limits(editor)
    assert chooser.list.shown_ids == [candidate.edition.id for candidate in proposed]
    for candidate in (proposed[0], proposed[-1]):
        said = said_of(chooser, candidate.edition.id)
        assert fit_of(candidate.fits)[1] in said
        assert candidate.edition.body in said


def test_that_each_way_to_fit_has_a_word_and_a_drawing_of_its_own() -> None:
    shown = [fit_of(fit) for fit in Fit]
    assert len({glyph for glyph, _word in shown}) == 3
    assert len({word for _glyph, word in shown}) == 3


def test_that_the_marked_limit_says_why_it_fits_and_what_it_allows(
    chooser: LimitChooser, editor: Editor
) -> None:
    candidate = next(c for c in likely_limits(editor) if c.edition.id == "washington-2021")
    chooser.list.mark("washington-2021")
    said = texts(chooser)
    for point in candidate.points:
        assert point.why[1:] in said
    for row in candidate.edition.rows:
        words = row_words(row)
        assert words.title in said
        assert words.rule in said
        assert words.status in said


def test_that_a_limit_known_from_memory_is_called_unverified(
    chooser: LimitChooser, editor: Editor
) -> None:
    unread = [
        candidate.edition.id
        for candidate in likely_limits(editor)
        if all(row.status is Verification.MEMORY for row in candidate.edition.rows)
    ]
    assert unread
    for edition_id in unread:
        said = said_of(chooser, edition_id)
        assert "Unverified" in said
        assert "check the code text" in said


def test_that_the_list_gets_shorter_while_one_types(chooser: LimitChooser) -> None:
    chooser.search.setText("washington 2021")
    assert chooser.list.shown_ids == ["washington-2021"]
    assert chooser.list.marked_id == "washington-2021"
    chooser.search.setText("no such code anywhere")
    assert chooser.list.shown_ids == []
    assert not chooser.take.isEnabled()
    assert not chooser.add_one.isEnabled()
    assert texts(chooser) == ""
    chooser.search.setText("")
    assert chooser.take.isEnabled()


def test_that_it_works_without_a_mouse(chooser: LimitChooser, qtbot: QtBot) -> None:
    qtbot.keyClicks(chooser.search, "iecc 2018")
    with qtbot.waitSignal(chooser.picked) as picked:
        qtbot.keyClick(chooser.search, Qt.Key.Key_Return)
    assert picked.args == ["iecc-2018", ""]
    assert not chooser.isVisible()


def test_that_the_arrow_keys_lead_into_the_list_and_enter_takes_once(
    chooser: LimitChooser, qtbot: QtBot
) -> None:
    taken: list[str] = []
    chooser.picked.connect(lambda edition, _row: taken.append(edition))
    second = chooser.list.shown_ids[1]
    qtbot.keyClick(chooser.search, Qt.Key.Key_Down)
    assert chooser.list.hasFocus()
    chooser.list.mark(second)
    qtbot.keyClick(chooser.list, Qt.Key.Key_Return)
    assert taken == [second]


def test_that_a_row_can_be_fixed_before_choosing(chooser: LimitChooser, shelf: Shelf) -> None:
    chooser.list.mark("iecc-2021")
    edition = shelf.edition("iecc-2021")
    assert edition is not None
    offered = [chooser.rows.itemData(at) for at in range(chooser.rows.count())]
    assert offered == ["", *(row.id for row in edition.rows)]
    taken: list[tuple[str, str]] = []
    chooser.picked.connect(lambda *ids: taken.append(ids))
    chooser.rows.setCurrentIndex(chooser.rows.findData("final"))
    chooser.take.click()
    assert taken == [("iecc-2021", "final")]


def test_that_several_limits_are_chosen_one_after_the_other(
    chooser: LimitChooser, editor: Editor
) -> None:
    chooser.picked.connect(editor.choose_limit)
    chooser.list.mark("iecc-2021")
    chooser.add_one.click()
    assert chooser.isVisible()
    assert "chosen already" in said_of(chooser, "iecc-2021")
    assert chooser.remark.text()
    chooser.list.mark("washington-2021")
    chooser.take.click()
    chosen = [limit.edition.id for limit in editor.job.compliance.limits]
    assert chosen == ["iecc-2018", "iecc-2021", "washington-2021"]


def test_that_a_row_picked_stays_while_one_types_on(qtbot: QtBot, chooser: LimitChooser) -> None:
    chooser.search.setText("washington 202")
    chooser.list.mark("washington-2021")
    chooser.rows.setCurrentIndex(1)
    picked = chooser.row_id
    assert picked
    qtbot.keyClicks(chooser.search, "1")
    assert chooser.list.shown_ids == ["washington-2021"]
    assert chooser.row_id == picked
