"""Messages under the fields: where they stand, and that they leave alone who is typing."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from deskapp.domain.choices import Reference
from deskapp.ui.bridge import TYPING_PAUSE
from deskapp.ui.fields.chosen_fields import ChoiceField
from deskapp.ui.fields.field import Field
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.workbench import Workbench


def field(bench: Workbench, page_id: str, path: str) -> Field:
    bench.show_page(page_id)
    assert isinstance(bench.page, FormPage)
    return next(one for one in bench.page.fields if one.path == path)


def test_that_a_message_elsewhere_waits_until_the_field_being_typed_in_is_left(
    bench: Workbench, qtbot: QtBot
) -> None:
    area = field(bench, "house", "house.floor_area")
    served = field(bench, "house", "systems.0.area_served")
    served.take_focus()
    qtbot.waitUntil(served.input.hasFocus)
    qtbot.wait(1)
    where = served.input.mapTo(bench, served.input.rect().topLeft())
    qtbot.keyClicks(served.input, "2400")
    qtbot.waitUntil(
        lambda: bench.bridge.finding_at("house.floor_area") is not None, timeout=20 * TYPING_PAUSE
    )
    assert area.message.isHidden()
    assert served.input.mapTo(bench, served.input.rect().topLeft()) == where
    bench.page.take_focus()
    assert area.message.isVisible()
    assert "3,520" in area.message.text


def test_that_what_comes_up_above_the_cursor_does_not_move_it(
    bench: Workbench, qtbot: QtBot
) -> None:
    served = field(bench, "house", "systems.0.area_served")
    bench.go_to("systems.0.area_served")
    qtbot.waitUntil(lambda: bench.page.verticalScrollBar().value() > 0)
    where = served.input.mapTo(bench, served.input.rect().topLeft())
    bench.bridge.enter("house.floor_area", "a barn")
    assert field(bench, "house", "house.floor_area").message.isVisible()
    assert served.input.mapTo(bench, served.input.rect().topLeft()) == where


def test_that_all_that_is_wrong_with_a_field_stands_under_it(bench: Workbench) -> None:
    area = field(bench, "house", "house.floor_area")
    bench.bridge.enter("house.floor_area", "20,500")
    said = [finding.text for finding in bench.bridge.findings_at("house.floor_area")]
    assert len(said) == 2
    assert all(text in area.message.text for text in said)


def test_that_the_open_list_is_wide_enough_for_its_longest_answer(
    bench: Workbench, qtbot: QtBot
) -> None:
    against = field(bench, "setup", "tests.0.setup.reference")
    assert isinstance(against, ChoiceField)
    bench.go_to("tests.0.setup.reference")
    qtbot.waitUntil(lambda: against.box.width() < 400)
    against.box.showPopup()
    view = against.box.view()
    qtbot.waitUntil(view.isVisible)
    at = against.box.findData(Reference.HOUSE_OPEN.value)
    longest = view.fontMetrics().horizontalAdvance(against.box.itemText(at))
    assert view.viewport().width() >= longest
    against.box.hidePopup()


def test_that_an_answer_too_long_for_its_box_stands_below_it_in_full(
    bench: Workbench, qtbot: QtBot
) -> None:
    against = field(bench, "setup", "tests.0.setup.reference")
    measured = field(bench, "setup", "tests.0.setup.metric")
    assert isinstance(against, ChoiceField)
    assert isinstance(measured, ChoiceField)
    bench.go_to("tests.0.setup.reference")
    qtbot.waitUntil(lambda: against.whole_answer == against.box.currentText())
    assert "open to outside" in against.whole_answer
    assert measured.whole_answer == ""
