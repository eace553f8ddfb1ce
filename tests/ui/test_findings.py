"""The strip of findings, and the way from a finding to its field."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QRect, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from deskapp.domain.drawing import Item, Shape
from deskapp.domain.fields import FIELDS
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.measured import Measured
from deskapp.domain.safety import Safety
from deskapp.domain.sketch import Sketch
from deskapp.i18n import speaking
from deskapp.session.opening import new_job
from deskapp.session.pages import PAGES
from deskapp.session.resources import Shelf
from deskapp.session.settings import Preferences
from deskapp.ui.glyphs import Glyph
from deskapp.ui.link_list import LinkList
from deskapp.ui.places import home_of
from deskapp.ui.step_state import StepState, how_full, state_of
from deskapp.ui.workbench import Workbench


def row_with(bench: Workbench, path: str) -> int:
    return next(n for n, finding in enumerate(bench.bridge.findings) if finding.path == path)


def test_that_the_strip_counts_findings_and_says_their_level_in_words(bench: Workbench) -> None:
    bench.bridge.enter("house.floor_area", "a barn")
    bench.show_page("client")
    assert bench.strip.summary.startswith("Must be mended: 1")
    at = row_with(bench, "house.floor_area")
    item = bench.strip.list.item(at)
    assert item.text().startswith("Must be mended: ")
    assert "a barn" in item.text()
    assert not item.icon().isNull()


def test_that_a_job_without_findings_says_so(bench: Workbench) -> None:
    bench.bridge.drop_limit(bench.bridge.editor.job.compliance.limits[0].key)
    for at in reversed(range(2)):
        bench.bridge.remove_row(f"tests.{at}")
    bench.bridge.remove_row("fans.0")
    bench.show_rest()
    assert bench.bridge.findings == ()
    assert bench.strip.summary == "Nothing to mend so far"
    assert bench.strip.list.isHidden()


@pytest.mark.parametrize("by_key", [False, True])
def test_that_a_finding_leads_to_its_field_on_another_page(
    bench: Workbench, qtbot: QtBot, by_key: bool
) -> None:
    bench.bridge.enter("systems.1.area_served", "plenty")
    bench.show_page("report")
    strip = bench.strip.list
    strip.setCurrentRow(row_with(bench, "systems.1.area_served"))
    if by_key:
        strip.setFocus()
        qtbot.keyClick(strip, Qt.Key.Key_Return)
    else:
        place = strip.visualItemRect(strip.currentItem()).center()
        qtbot.mouseClick(strip.viewport(), Qt.MouseButton.LeftButton, pos=place)
    assert bench.page.page.id == "house"
    line = bench.focusWidget()
    assert line.text() == "plenty"
    assert line.path == "systems.1.area_served"


def test_that_a_finding_about_a_reading_leads_into_the_grid_of_its_test(
    bench: Workbench,
) -> None:
    bench.bridge.enter("tests.1.readings.2.fan_signal", "much")
    bench.go_to("tests.1.readings.2.fan_signal")
    assert bench.page.page.id == "readings"
    assert bench.focusWidget().path == "tests.1.readings.2.fan_signal"


def test_that_a_missing_limit_leads_to_the_place_where_limits_are_chosen(
    bench: Workbench,
) -> None:
    bench.bridge.drop_limit(bench.bridge.editor.job.compliance.limits[0].key)
    bench.go_to("compliance.limits")
    assert bench.page.page.id == "house"
    assert bench.focusWidget().text() == "Choose a limit…"


def test_that_every_field_of_the_table_can_be_reached_by_its_path(bench: Workbench) -> None:
    for page in PAGES:
        for section in page.sections:
            list_path = section.list_path.replace("*", "0")
            if list_path and bench.bridge.row_count(list_path) == 0:
                bench.bridge.add_row(list_path)
    for spec in FIELDS:
        path = spec.path.replace("*", "0")
        if not home_of(path):
            continue
        bench.go_to(path)
        held = bench.focusWidget()
        assert held is not None, path
        assert spec.label in held.accessibleName(), path


def test_that_a_new_finding_is_announced_once(bench: Workbench, qtbot: QtBot) -> None:
    with qtbot.waitSignal(bench.strip.new_found) as told:
        bench.bridge.enter("house.floor_area", "a barn")
    assert "a barn" in told.args[0]
    with qtbot.assertNotEmitted(bench.strip.new_found):
        bench.bridge.enter("title", "No news")


def test_that_the_strip_can_be_folded_away(bench: Workbench) -> None:
    bench.bridge.enter("house.floor_area", "a barn")
    assert bench.strip.list.isVisible()
    bench.strip.fold_button.click()
    assert not bench.strip.list.isVisible()
    bench.bridge.enter("house.volume", "a hall")
    assert not bench.strip.list.isVisible(), "what was folded away stays so"
    bench.strip.fold_button.click()
    assert bench.strip.list.isVisible()


def test_that_each_step_says_how_far_it_is(bench: Workbench, new_bench: Workbench) -> None:
    del new_bench
    bench.show_rest()
    steps = {
        bench.steps.item(n).text(): bench.steps.item(n).data(Qt.ItemDataRole.AccessibleTextRole)
        for n in range(bench.steps.count())
    }
    assert steps["Client and site"] == "Client and site, empty"
    assert steps["House and systems"] == "House and systems, empty"
    bench.bridge.enter("title", "Begun")
    bench.show_rest()
    assert bench.steps.item(0).data(Qt.ItemDataRole.AccessibleTextRole).endswith("begun")


def test_that_a_test_without_readings_leaves_its_page_begun(bench: Workbench) -> None:
    page = next(page for page in PAGES if page.id == "readings")
    job = bench.bridge.editor.job
    bare = job.tests[0].model_copy(update={"readings": ()})
    assert how_full(page, job).glyph is Glyph.DONE
    begun = job.model_copy(update={"tests": (bare, *job.tests[1:])})
    assert how_full(page, begun).glyph is Glyph.PART


def test_that_one_answer_of_the_safety_walk_leaves_its_page_begun() -> None:
    page = next(page for page in PAGES if page.id == "safety")
    answers: dict[str, object] = {"gas_smell": "no"}

    def glyph() -> Glyph:
        return how_full(page, Job(safety=Safety.model_validate(answers))).glyph

    assert glyph() is Glyph.PART
    answers |= {
        "asbestos_suspected": "no",
        "vermiculite_suspected": "no",
        "mold_suspected": "no",
        "fireplace": "no",
        "lung_trouble": "no",
        "co_alarm": "yes",
        "smoke_alarm": "yes",
        "combustion_appliances": "no",
    }
    assert glyph() is Glyph.DONE
    for name in answers:
        kept, answers[name] = answers[name], None
        assert glyph() is Glyph.PART, name
        answers[name] = kept
    answers |= {"combustion_appliances": "yes", "ambient_co": Measured(si=0.0, unit="ppm")}
    assert glyph() is Glyph.PART, "burners off is open"
    answers["burners_off"] = "yes"
    assert glyph() is Glyph.DONE
    answers["fireplace"] = "yes"
    assert glyph() is Glyph.PART, "whether the fire is out is open"


@pytest.mark.parametrize("spoken", ["en", "es", "fr_CA"])
def test_that_no_page_of_a_new_job_is_begun(spoken: str) -> None:
    with speaking(spoken):
        editor = new_job(Shelf(), Preferences())
    states = {page.id: how_full(page, editor.job).glyph for page in PAGES}
    assert set(states.values()) == {Glyph.BLANK}
    editor.enter("systems.0.name", "Upstairs")
    editor.enter("gauges.0.serial", "G-1")
    states = {page.id: how_full(page, editor.job).glyph for page in PAGES}
    assert {at for at, glyph in states.items() if glyph is Glyph.PART} == {"house", "setup"}


def test_that_a_page_with_a_photo_or_a_sketch_alone_is_begun() -> None:
    page = next(page for page in PAGES if page.id == "leaks")
    assert how_full(page, Job()).glyph is Glyph.BLANK
    photo = Photo(digest="a" * 64)
    assert how_full(page, Job(photos=(photo,))).glyph is Glyph.PART
    assert how_full(page, Job(leaks=(Leak(key="l1", photos=(photo,)),))).glyph is Glyph.PART
    drawn = Sketch(items=(Item(shape=Shape.TEXT, x=0.1, y=0.1, text="Hall"),))
    assert how_full(page, Job(sketch=drawn)).glyph is Glyph.PART
    job = Job(photos=(photo,), sketch=drawn)
    others = {one.id: how_full(one, job).glyph for one in PAGES}
    assert {at for at, glyph in others.items() if glyph is not Glyph.BLANK} == {"leaks"}


def test_that_choosing_a_limit_marks_no_page_on_which_nothing_was_entered(
    new_bench: Workbench,
) -> None:
    """What is missing is not wrong: it is noted until a test was read, and then worth a check."""
    steps, roles = new_bench.steps, Qt.ItemDataRole
    at = next(at for at, page in enumerate(PAGES) if page.id == "setup")
    new_bench.bridge.choose_limit("washington-2021", "")
    new_bench.show_rest()
    assert steps.item(at).data(roles.AccessibleTextRole).endswith("empty")
    (noted,) = [one for one in new_bench.bridge.findings if one.code == "not_decided"]
    assert noted.level is Level.NOTE
    assert "is not answered" in noted.what, "the reason is listed at the foot"
    new_bench.bridge.enter("tests.0.readings.0.duct_pressure", "-25")
    new_bench.bridge.enter("tests.0.readings.0.fan_signal", "30")
    new_bench.show_rest()
    assert steps.item(at).data(roles.AccessibleTextRole).endswith("to be checked")


def test_that_a_danger_and_a_mistake_are_told_in_different_words(bench: Workbench) -> None:
    bench.bridge.enter("tests.0.tested_on", "31/13/2026")
    bench.bridge.choose("safety.gas_smell", "yes")
    bench.show_page("safety")
    assert bench.strip.summary.startswith("Danger: 1    Must be mended: 1")
    first, second = (bench.strip.list.item(at).text() for at in range(2))
    assert first.startswith("Danger: Gas was smelled.")
    assert second.startswith("Must be mended: ")
    assert "31/13/2026" in second
    states = {
        page.id: state_of(page, bench.bridge, lambda _page: StepState(Glyph.DONE, "")).word
        for page in PAGES
    }
    assert (states["safety"], states["setup"]) == ("safety first", "must be mended")


def test_that_no_line_of_a_finding_is_cut_at_any_width(qtbot: QtBot) -> None:
    listed = LinkList("Findings", 6)
    qtbot.addWidget(listed)
    text = "The sides add up to 168 cfm, but the whole system read 294 cfm. Look for a way around."
    listed.resize(600, 200)
    listed.show()
    listed.show_findings([Finding(level=Level.CHECK, code="some", what=text)])
    item, metrics = listed.item(0), listed.fontMetrics()
    beside = listed.iconSize().width() + 12  # as Qt leaves beside icons and words
    heights: set[int] = set()
    for width in range(260, 600):
        listed.resize(width, 200)
        QApplication.processEvents()
        place = listed.visualItemRect(item)
        wide = min(place.width(), listed.viewport().width() - 2 * listed.spacing())
        room = QRect(0, 0, wide - beside, 0)
        drawn = metrics.boundingRect(room, Qt.TextFlag.TextWordWrap, item.text())
        assert drawn.height() <= place.height(), width
        heights.add(place.height())
    assert len(heights) > 1
