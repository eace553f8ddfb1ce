"""The safety walk in the window: readings wait for it, and the list is closed by name."""

from __future__ import annotations

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.session.opening import new_job
from deskapp.session.settings import Preferences
from deskapp.ui.form import RowGroup
from deskapp.ui.live.gauge_readings_page import GaugeReadingsPage
from deskapp.ui.pages.leaks_page import LeaksPage
from deskapp.ui.pages.safety_pages import LeavePage, SafetyPage
from deskapp.ui.places import path_of
from deskapp.ui.words import Words
from deskapp.ui.workbench import Workbench


def readings_page(bench: Workbench) -> GaugeReadingsPage:
    bench.show_page("readings")
    assert isinstance(bench.page, GaugeReadingsPage)
    return bench.page


def safety_page(bench: Workbench) -> SafetyPage:
    bench.show_page("safety")
    assert isinstance(bench.page, SafetyPage)
    return bench.page


def may_read(page: GaugeReadingsPage) -> bool:
    cells = [cell for grid in page.grids for cell in grid.cells if cell.path]
    assert cells
    answers = {cell.isEnabled() for cell in cells} | {page.gauge.isEnabled()}
    assert len(answers) == 1
    return answers.pop()


def test_that_a_stop_keeps_readings_back_and_a_name_with_a_reason_frees_them(
    bench: Workbench, qtbot: QtBot
) -> None:
    page = readings_page(bench)
    assert may_read(page)
    assert page.stops.isHidden()
    bench.bridge.choose("safety.gas_smell", "yes")
    assert not may_read(page)
    rows = next(group for group in page.groups if isinstance(group, RowGroup))
    assert all(tab.isEnabled() for tab in rows.tabs.tabs), "all tests can still be looked at"
    panel = page.stops.panels["gas_smell"]
    panel.name.setText("")
    panel.go_on.click()
    assert "Name: nothing is entered." in panel.message.text
    assert "Reason: nothing is entered." in panel.message.text
    panel.name.setFocus()
    qtbot.keyClicks(panel.name, "Kim Example")
    qtbot.keyClicks(panel.reason, "Gas company shut the valve")
    qtbot.keyClick(panel.reason, Qt.Key.Key_Return)
    assert may_read(page)
    assert page.stops.isHidden()
    (record,) = bench.bridge.editor.job.acknowledgments
    assert (record.name, record.reason) == ("Kim Example", "Gas company shut the valve")
    assert len(record.at) == len("2026-03-11T08:40")
    bench.bridge.undo()
    assert not may_read(page)


def test_that_the_stop_stands_with_its_answer_and_who_went_on(bench: Workbench) -> None:
    page = safety_page(bench)
    bench.bridge.enter("safety.ambient_co", "40 ppm")
    panel = page.stops.panels["co_stop"]
    panel.name.setText("Kim Example")
    panel.reason.setText("Doors open, burner off")
    panel.go_on.click()
    assert not page.stops.isHidden()
    assert not panel.back.isHidden()
    panel.back.click()
    assert bench.bridge.editor.job.acknowledgments == ()
    bench.bridge.enter("safety.ambient_co", "5 ppm")
    assert page.stops.panels == {}
    assert page.stops.isHidden()


def test_that_what_is_being_typed_stays_when_another_answer_changes(bench: Workbench) -> None:
    page = safety_page(bench)
    bench.bridge.choose("safety.gas_smell", "yes")
    page.stops.panels["gas_smell"].reason.setText("Half a rea")
    bench.bridge.choose("safety.asbestos_suspected", "yes")
    assert page.stops.panels["gas_smell"].reason.text() == "Half a rea"
    assert page.stops.panels.keys() == {"gas_smell", "asbestos"}


def test_that_what_was_half_typed_does_not_stay_when_another_job_opens(bench: Workbench) -> None:
    """Another job with the same stop: name and reason would be taken for those of that job."""
    page, other = safety_page(bench), new_job(bench.bridge.editor.shelf, Preferences())
    other.choose("safety.gas_smell", "yes")
    bench.bridge.choose("safety.gas_smell", "yes")
    panel = page.stops.panels["gas_smell"]
    panel.name.setText("Kim Exa")
    panel.reason.setText("Half a rea")
    bench.show_page("leave")
    assert isinstance(bench.page, LeavePage)
    bench.page.closing.name.setText("Kim Exa")
    bench.open(other)
    page = safety_page(bench)
    assert (
        page.stops.panels["gas_smell"].name.text(),
        page.stops.panels["gas_smell"].reason.text(),
    ) == ("", "")
    bench.show_page("leave")
    assert isinstance(bench.page, LeavePage)
    assert bench.page.closing.name.text() == ""


def test_that_the_answers_bring_up_words_of_care(bench: Workbench) -> None:
    page = safety_page(bench)
    bench.bridge.choose("safety.lung_trouble", "yes")
    assert not page.care.isHidden()
    bench.bridge.add_row("appliances")
    bench.bridge.choose("appliances.0.vent", "unvented")
    assert len(page.care.words()) >= 2


def test_that_the_list_is_filled_ticked_off_and_closed(bench: Workbench) -> None:
    page = safety_page(bench)
    page.arrival.start.click()
    at = {row.item: n for n, row in enumerate(bench.bridge.editor.job.arrival)}
    burners = f"arrival.{at['burners']}"
    bench.bridge.choose(f"{burners}.changed", "yes")
    bench.bridge.enter(f"{burners}.was", "Pilot on")
    page.arrival.rest.click()
    assert not page.arrival.rest.isEnabled()
    bench.show_page("leave")
    leave = bench.page
    assert isinstance(leave, LeavePage)
    (grid,) = leave.grids
    shown = [cell.path for cell in grid.cells if cell.isVisibleTo(grid)]
    assert {path.rpartition(".")[0] for path in shown} == {burners}
    assert grid.title(burners) == "Pilots and burners · was: Pilot on"
    leave.closing.name.setText("Kim Example")
    leave.closing.close_list.click()
    assert "Pilots and burners: changed, and not put back." in leave.closing.message.text
    bench.bridge.choose(f"{burners}.undone", "yes")
    leave.closing.close_list.click()
    assert leave.closing.words.text().startswith("Confirmed by Kim Example, ")
    leave.closing.reopen.click()
    assert leave.closing.words.isHidden()


def test_that_an_empty_list_tells_of_what_the_tests_changed_and_can_be_begun(
    bench: Workbench,
) -> None:
    bench.bridge.add_row("tests")
    bench.bridge.enter("tests.0.setup.supplies_sealed", "11")
    bench.show_page("leave")
    leave = bench.page
    assert isinstance(leave, LeavePage)
    (grid,) = leave.grids
    said = [one.text() for one in grid.findChildren(Words) if one.isVisibleTo(grid)]
    assert any("the tests tell of: Registers and grilles sealed (11)" in words for words in said)
    assert leave.closing.reveal("arrival")
    leave.closing.start.click()
    assert leave.closing.start.isHidden()
    shown = {cell.path for cell in grid.cells if cell.isVisibleTo(grid)}
    at = next(n for n, row in enumerate(bench.bridge.editor.job.arrival) if row.item == "registers")
    assert f"arrival.{at}.seals_off" in shown


def test_that_words_about_tracer_smoke_unfold_when_a_leak_was_found_with_it(
    bench: Workbench,
) -> None:
    bench.bridge.add_row("leaks")
    bench.show_page("leaks")
    page = bench.page
    assert isinstance(page, LeaksPage)
    assert not page.tracers.fold.is_open
    page.tracers.fold.button.click()
    assert page.tracers.words.words(), "it can be asked for"
    page.tracers.fold.button.click()
    bench.bridge.choose("leaks.0.found_by", "smoke")
    assert page.tracers.fold.is_open


def test_that_undo_on_another_page_shows_and_tells_the_acknowledgment_it_takes_back(
    bench: Workbench,
) -> None:
    bench.bridge.choose("safety.gas_smell", "yes")
    page = safety_page(bench)
    panel = page.stops.panels["gas_smell"]
    panel.name.setText("Kim Example")
    panel.reason.setText("Gas company shut the valve")
    panel.go_on.click()
    bench.show_page("house")
    bench.undo()
    assert bench.page is page, "the page of what was undone is turned to"
    assert bench.window().focusWidget() is panel.name
    assert "Undone: acknowledge a stop (page “Before you start”)." in bench.notice.text
    assert "open again: Gas was smelled." in bench.notice.text
    bench.show_page("house")
    bench.redo()
    assert bench.page is page
    assert "acknowledged again: Gas was smelled." in bench.notice.text
    bench.bridge.enter("number", "J-0002")
    assert bench.notice.text == "", "it goes with the next change"


def test_that_undo_turns_to_the_field_it_changed_and_says_so(bench: Workbench) -> None:
    bench.bridge.enter("site.address", "15 Larkspur Lane")
    bench.show_page("readings")
    bench.undo()
    assert bench.page.page.id == "client"
    assert path_of(bench.window().focusWidget()) == "site.address"
    assert bench.strip.remark_text == "Undone: street address (page “Client and site”)."
    assert bench.notice.text == "", "what is no matter of safety is said at the foot"


def test_that_undo_of_an_answer_about_safety_is_told_above_a_page_it_is_not_on(
    bench: Workbench,
) -> None:
    bench.bridge.choose("safety.smoke_alarm", "no")
    bench.show_page("safety")
    bench.undo()
    assert bench.notice.text == "", "seen where it happens"
    bench.redo()
    bench.show_page("leaks")
    bench.undo()
    assert bench.page.page.id == "safety"
    assert bench.notice.text.startswith("Undone: ")


def test_that_undo_shows_the_list_of_a_row_that_is_gone_by_it(bench: Workbench) -> None:
    for list_path, page_id in (("leaks", "leaks"), ("systems", "house"), ("arrival", "safety")):
        row = bench.bridge.add_row(list_path)
        bench.show_page("report")
        bench.undo()
        assert not bench.bridge.has(row)
        assert bench.page.page.id == page_id
        assert bench.page.isAncestorOf(bench.window().focusWidget())
