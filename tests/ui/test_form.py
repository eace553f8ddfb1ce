"""Forms built from the table of fields."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QDate, QPoint, QPointF, Qt, QTime
from PySide6.QtGui import QWheelEvent
from PySide6.QtWidgets import QApplication, QLabel, QWidget
from pytestqt.qtbot import QtBot

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import field_at, pattern_of
from deskapp.session.pages import PAGES, Page
from deskapp.ui.fields.chosen_fields import ChoiceField, YesNoField
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.moment_fields import ClockField, DayField
from deskapp.ui.fields.typed_fields import LineField, QuantityField
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.workbench import Workbench

FORM_PAGES = [page for page in PAGES if page.sections]


def form_page(bench: Workbench, page_id: str) -> FormPage:
    bench.show_page(page_id)
    view = bench.page
    assert isinstance(view, FormPage)
    return view


def with_rows(bench: Workbench, page: Page) -> FormPage:
    """Return the view of a page in which every list has a row."""
    for section in page.sections:
        list_path = section.list_path.replace("*", "0")
        if list_path and bench.bridge.row_count(list_path) == 0:
            bench.bridge.add_row(list_path)
    return form_page(bench, page.id)


def field(bench: Workbench, page_id: str, path: str) -> Field:
    return next(f for f in form_page(bench, page_id).fields if f.path == path)


def leave(widget: QWidget, qtbot: QtBot) -> None:
    qtbot.keyClick(widget, Qt.Key.Key_Tab)


@pytest.mark.parametrize("page", FORM_PAGES, ids=lambda page: page.id)
def test_that_every_field_of_a_page_has_a_named_widget_and_another_widget_as_its_label(
    bench: Workbench, page: Page
) -> None:
    view = with_rows(bench, page)
    shown = {one.spec.path: one for one in view.fields}
    in_grids = {
        pattern_of(cell.path): cell for grid in view.grids for cell in grid.cells if cell.path
    }
    for path in (path for section in page.sections for path in section.fields):
        if path in in_grids:
            assert in_grids[path].accessibleName().startswith(field_at(path).label)
            assert field_at(path).help in in_grids[path].accessibleDescription()
            continue
        one = shown[path]
        assert one.input.accessibleName() == field_at(path).label
        buddies = [label for label in one.findChildren(QLabel) if label.buddy() is one.input]
        assert len(buddies) == 1
        assert buddies[0] is not one.input
        if field_at(path).help:
            assert field_at(path).help in one.input.accessibleDescription()


@pytest.mark.parametrize("page", FORM_PAGES, ids=lambda page: page.id)
def test_that_tab_visits_the_fields_in_the_order_of_the_table(bench: Workbench, page: Page) -> None:
    view = with_rows(bench, page)
    wanted: list[str] = [
        path
        for section in page.sections
        for path in sorted(section.fields, key=lambda path: field_at(path).rare)
    ]
    first = view.fields[0].input
    seen: list[str] = []
    widget = first
    while True:
        path = _path_of(widget, view)
        if path and pattern_of(path) not in seen:
            seen.append(pattern_of(path))
        widget = widget.nextInFocusChain()
        if widget is first:
            break
    assert seen == wanted


def _path_of(widget: QWidget, view: FormPage) -> str:
    """Return the field that takes the focus with `widget`; empty for anything else."""
    if not widget.focusPolicy() & Qt.FocusPolicy.TabFocus:
        return ""
    for grid in view.grids:
        for cell in grid.cells:
            if cell is widget:
                return cell.path
    for one in view.fields:
        if one.input is widget or one.input.focusProxy() is widget:
            return one.path
    return ""


def test_that_a_message_appears_under_the_field_on_leaving_it_and_goes_when_mended(
    bench: Workbench, qtbot: QtBot
) -> None:
    area = field(bench, "house", "house.floor_area")
    assert isinstance(area, QuantityField)
    area.take_focus()
    area.line.clear()
    qtbot.keyClicks(area.line, "25 Pa")
    bench.bridge.settle()
    assert area.message.isHidden(), "while typing nobody is interrupted"
    leave(area.line, qtbot)
    assert area.message.isVisible()
    assert "25 Pa" in area.message.text
    assert area.message.text.startswith("Must be mended")
    assert area.message.text in area.line.accessibleDescription()
    area.take_focus()
    area.line.clear()
    qtbot.keyClicks(area.line, "2640")
    bench.bridge.settle()
    assert area.message.isHidden(), "the message goes as soon as the text can be read"


def test_that_a_quantity_shows_its_unit_and_the_other_unit_and_gives_the_typed_text_back(
    bench: Workbench, qtbot: QtBot
) -> None:
    area = field(bench, "house", "systems.0.area_served")
    assert isinstance(area, QuantityField)
    area.take_focus()
    area.line.clear()
    qtbot.keyClicks(area.line, "1520.4")
    leave(area.line, qtbot)
    formatter = bench.bridge.formatter
    si = bench.bridge.value_at("systems.0.area_served").si
    assert area.line.text() == formatter.show(area.spec.kind, si)
    assert area.echo == "= 141.2\N{NO-BREAK SPACE}m²"
    area.take_focus()
    assert area.line.text() == "1520.4"
    leave(area.line, qtbot)
    assert area.line.text() == formatter.show(area.spec.kind, si), "left as it was"


def test_that_leaving_a_field_untouched_changes_nothing(bench: Workbench, qtbot: QtBot) -> None:
    before = bench.bridge.editor.job
    for page in FORM_PAGES:
        for one in form_page(bench, page.id).fields:
            one.take_focus()
            leave(one.input, qtbot)
    assert bench.bridge.editor.job is before


def test_that_switching_units_a_hundred_times_changes_no_stored_value(
    bench: Workbench,
) -> None:
    before = bench.bridge.editor.job
    window = bench.window()
    for _turn in range(50):
        window.furniture.show_units("si")
        window.furniture.show_units("ip")
    assert bench.bridge.editor.job is before
    window.furniture.show_units("si")
    area = field(bench, "house", "systems.0.area_served")
    assert isinstance(area, QuantityField)
    assert area.line.text() == "141.2\N{NO-BREAK SPACE}m²"
    assert area.echo == "= 1,520\N{NO-BREAK SPACE}ft²"


def test_that_scrolling_over_a_choice_does_not_change_it(bench: Workbench) -> None:
    kind = field(bench, "house", "house.building_type")
    assert isinstance(kind, ChoiceField)
    kind.take_focus()
    event = QWheelEvent(
        QPointF(5, 5),
        QPointF(5, 5),
        QPoint(0, -120),
        QPoint(0, -120),
        Qt.MouseButton.NoButton,
        Qt.KeyboardModifier.NoModifier,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(kind.input, event)
    assert bench.bridge.value_at("house.building_type") is None
    assert not event.isAccepted()


def test_that_an_answer_is_given_by_clicks_and_taken_back_by_its_menu_or_by_delete(
    bench: Workbench, qtbot: QtBot
) -> None:
    question = field(bench, "safety", "safety.gas_smell")
    assert isinstance(question, YesNoField)
    yes = question.input.focusProxy()
    assert yes is not None
    yes.click()
    assert bench.bridge.value_at("safety.gas_smell") == "yes"
    yes.click()
    assert bench.bridge.value_at("safety.gas_smell") == "yes", "a second click keeps it"
    (take_back,) = yes.actions()
    take_back.trigger()
    assert bench.bridge.value_at("safety.gas_smell") is None
    assert not take_back.isEnabled()
    yes.click()
    qtbot.keyClick(yes, Qt.Key.Key_Delete)
    assert bench.bridge.value_at("safety.gas_smell") is None


def test_that_a_choice_offers_an_empty_line_that_clears_it(bench: Workbench) -> None:
    kind = field(bench, "house", "house.area_source")
    assert isinstance(kind, ChoiceField)
    kind.box.setCurrentIndex(kind.box.findData("measured"))
    kind.box.activated.emit(kind.box.currentIndex())
    assert bench.bridge.value_at("house.area_source") == "measured"
    kind.box.activated.emit(0)
    assert bench.bridge.value_at("house.area_source") is None


def test_that_a_day_can_be_picked_from_the_calendar(bench: Workbench, qtbot: QtBot) -> None:
    day = field(bench, "client", "site.permit_date")
    assert isinstance(day, DayField)
    day.open_calendar()
    calendar = day.calendar
    assert calendar is not None
    qtbot.waitUntil(calendar.isVisible)
    picked = calendar.selectedDate().addDays(0)
    calendar.activated.emit(picked)
    held = bench.bridge.value_at("site.permit_date").value
    assert (held.year, held.month, held.day) == (picked.year(), picked.month(), picked.day())


def test_that_a_time_of_day_keeps_what_is_being_typed(bench: Workbench, qtbot: QtBot) -> None:
    clock = field(bench, "setup", "tests.0.start_time")
    assert isinstance(clock, LineField)
    assert clock.spec.form is Form.CLOCK
    clock.take_focus()
    qtbot.keyClicks(clock.line, "840")
    bench.bridge.settle()
    assert clock.line.text() == "840"
    qtbot.keyClick(clock.line, Qt.Key.Key_Home)
    qtbot.keyClicks(clock.line, "0")
    bench.bridge.settle()
    leave(clock.line, qtbot)
    assert bench.bridge.value_at("tests.0.start_time") == "08:40"
    assert clock.line.text() == "08:40"


def test_that_delete_takes_back_the_answer_of_a_choice(bench: Workbench, qtbot: QtBot) -> None:
    bench.bridge.choose("house.area_source", "measured")
    kind = field(bench, "house", "house.area_source")
    assert isinstance(kind, ChoiceField)
    kind.take_focus()
    qtbot.keyClick(kind.box, Qt.Key.Key_Delete)
    assert bench.bridge.value_at("house.area_source") is None
    assert kind.box.currentIndex() == 0


def test_that_a_day_picked_while_the_cursor_is_in_the_field_stands_there_as_typed(
    bench: Workbench, qtbot: QtBot
) -> None:
    day = field(bench, "client", "site.permit_date")
    assert isinstance(day, DayField)
    day.take_focus()
    qtbot.keyClick(day.line, Qt.Key.Key_Down, Qt.KeyboardModifier.AltModifier)
    calendar = day.calendar
    assert calendar is not None
    qtbot.waitUntil(calendar.isVisible)
    calendar.clicked.emit(QDate(2026, 3, 11))
    assert day.line.text() == "2026-03-11"
    assert bench.bridge.value_at("site.permit_date").value.isoformat() == "2026-03-11"


def test_that_one_key_or_click_puts_in_today_and_now(bench: Workbench, qtbot: QtBot) -> None:
    day = field(bench, "setup", "tests.0.tested_on")
    assert isinstance(day, DayField)
    day.take_focus()
    before = QDate.currentDate()
    qtbot.keyClick(day.line, Qt.Key.Key_Semicolon, Qt.KeyboardModifier.ControlModifier)
    held = bench.bridge.value_at("tests.0.tested_on").value.isoformat()
    assert before.toString(Qt.DateFormat.ISODate) <= held
    assert held <= QDate.currentDate().toString(Qt.DateFormat.ISODate)
    clock = field(bench, "setup", "tests.0.start_time")
    assert isinstance(clock, ClockField)
    clock.now.click()
    held = bench.bridge.value_at("tests.0.start_time")
    assert held in (clock.now_text, QTime.currentTime().addSecs(-60).toString("HH:mm"))
    assert clock.line.hasFocus()


def test_that_a_day_is_hinted_at_in_the_form_its_message_asks_for(bench: Workbench) -> None:
    day = field(bench, "setup", "tests.0.tested_on")
    assert isinstance(day, DayField)
    bench.bridge.enter(day.path, "soon")
    [found] = [one for one in bench.bridge.findings if one.path == day.path]
    assert f"such as {day.line.placeholderText()}." in found.allowed
