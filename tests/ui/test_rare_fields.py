"""Fields most jobs never need are folded away, and never with something in them unsaid."""

from __future__ import annotations

import tomllib

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.domain.data_files import templates_folder
from deskapp.domain.fields import FIELDS
from deskapp.ui.field_sheet import FieldSheet
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.typed_fields import LineField
from deskapp.ui.pages.form_page import FormPage
from deskapp.ui.workbench import Workbench


def field(bench: Workbench, page_id: str, path: str) -> Field:
    bench.show_page(page_id)
    assert isinstance(bench.page, FormPage)
    return next(one for one in bench.page.fields if one.path == path)


def sheet(bench: Workbench, page_id: str, path: str) -> FieldSheet:
    one = field(bench, page_id, path)
    return next(s for s in bench.page.findChildren(FieldSheet) if one in s.fields)


def test_that_no_field_a_compliance_report_must_state_is_out_of_sight() -> None:
    assert not [f.path for f in FIELDS if f.needed and (f.rare or f.shown_when)]


def test_that_what_the_certificate_asks_for_is_in_sight_or_called_for_by_an_answer() -> None:
    data = tomllib.loads((templates_folder() / "compliance.toml").read_text(encoding="utf-8"))
    specs = {one.path: one for one in FIELDS}
    asked = 0
    for rule in data["needed"]:
        for fields in rule["fields"]:
            for path in fields.split("|"):
                spec = specs[path]
                asked += 1
                is_always = "when" not in rule and "metric" not in rule
                assert not (is_always and (spec.rare or spec.shown_when)), path
                assert spec.shown_when or not spec.rare, path
    assert asked > 10


def test_that_a_fold_opens_where_the_reason_for_the_test_calls_for_what_is_in_it(
    bench: Workbench,
) -> None:
    one = field(bench, "house", "systems.0.accessible_fraction")
    assert not one.isVisible()
    bench.bridge.choose("compliance.path", "program")
    assert field(bench, "house", one.path).isVisible()
    assert field(bench, "client", "site.program_id").isVisible()
    assert field(bench, "house", "systems.0.cloth_tape_found").isVisible()


def test_that_every_answer_a_field_waits_for_belongs_to_a_field_or_a_list() -> None:
    known = {f.path for f in FIELDS}
    lists = {f.path.partition(".*")[0] for f in FIELDS if ".*" in f.path}
    for one in FIELDS:
        when = one.shown_when
        if when is None:
            continue
        assert when.path in known | lists
        if when.values:
            asked = next(f for f in FIELDS if f.path == when.path)
            assert asked.choices is not None
            assert set(when.values) <= {str(choice) for choice in asked.choices}


def test_that_a_rare_field_is_folded_away_while_it_is_empty_and_unfolded_by_the_keyboard(
    bench: Workbench, qtbot: QtBot
) -> None:
    one = field(bench, "house", "house.area_uncertainty")
    fold = sheet(bench, "house", one.path).fold
    assert fold is not None
    assert not one.isVisible()
    assert fold.button.text() == "More entries"
    assert fold.button.accessibleName() == "More entries, House"
    assert fold.button.accessibleDescription() == "folded away"
    fold.button.setFocus()
    qtbot.keyClick(fold.button, Qt.Key.Key_Space)
    assert one.isVisible()
    assert fold.button.accessibleDescription() == "unfolded"


@pytest.mark.parametrize("text", ["3 %", "some"])
def test_that_a_rare_field_comes_up_with_a_value_and_folded_away_is_still_counted(
    bench: Workbench, text: str
) -> None:
    one = field(bench, "house", "house.area_uncertainty")
    bench.bridge.enter(one.path, text)
    fold = sheet(bench, "house", one.path).fold
    assert fold is not None
    assert one.isVisible()
    fold.button.click()
    assert not one.isVisible()
    assert fold.button.text() == "More entries (1 filled in)"
    bench.bridge.enter("house.stories", "2")
    assert not one.isVisible(), "what a person folded away stays so"


def test_that_a_way_to_a_rare_field_unfolds_it(bench: Workbench) -> None:
    bench.go_to("gauges.0.accuracy_percent")
    one = field(bench, "setup", "gauges.0.accuracy_percent")
    assert one.isVisible()
    assert one.input.hasFocus()


def test_that_each_row_has_its_own_rare_fields_in_sight(bench: Workbench) -> None:
    bench.bridge.enter("systems.1.area_from_plans", "1,130")
    one = field(bench, "house", "systems.0.area_from_plans")
    assert not one.isVisible()
    bench.go_to("systems.1.name")
    assert field(bench, "house", "systems.1.area_from_plans").isVisible()


def test_that_what_matters_for_leakage_to_outside_comes_up_with_that_answer(
    bench: Workbench,
) -> None:
    one = field(bench, "readings", "tests.0.house_pressure")
    page = sheet(bench, "readings", one.path)
    assert not page.isVisible()
    bench.bridge.choose("tests.1.setup.metric", "outside")
    assert not one.isVisible(), "it is the answer of another test"
    bench.bridge.choose("tests.0.setup.metric", "outside")
    assert one.isVisible()
    bench.bridge.enter(one.path, "-24.9 Pa")
    bench.bridge.choose("tests.0.setup.metric", "total")
    assert one.isVisible(), "what was typed stays in sight"
    bench.bridge.enter(one.path, "")
    assert not one.isVisible()


def test_that_a_field_is_not_taken_away_under_the_cursor(bench: Workbench, qtbot: QtBot) -> None:
    bench.bridge.enter("tests.0.house_pressure", "-24.9 Pa")
    one = field(bench, "readings", "tests.0.house_pressure")
    assert isinstance(one, LineField)
    one.take_focus()
    one.line.selectAll()
    qtbot.keyClick(one.line, Qt.Key.Key_Delete)
    bench.bridge.settle()
    assert bench.bridge.value_at(one.path) is None
    assert one.isVisible()
    qtbot.keyClicks(one.line, "-25.1")
    bench.bridge.settle()
    assert one.isVisible()


def test_that_a_card_without_anything_called_for_is_not_there(bench: Workbench) -> None:
    one = field(bench, "leaks", "screening.house_pressure_before")
    assert not one.isVisible()
    bench.bridge.add_row("registers")
    assert one.isVisible()
    bench.bridge.undo()
    assert not one.isVisible()
    bench.go_to(one.path)
    assert one.isVisible()
    assert one.input.hasFocus()
