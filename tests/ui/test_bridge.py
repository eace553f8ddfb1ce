"""The door between widgets and the open job."""

from __future__ import annotations

import pytest
from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from deskapp.domain.fields import field_at
from deskapp.session.editor import Editor
from deskapp.session.settings import Preferences
from deskapp.ui.bridge import TYPING_PAUSE, Bridge
from deskapp.units.display import UnitSystem


@pytest.fixture
def bridge(qapp: object, editor: Editor) -> Bridge:
    del qapp
    return Bridge(editor)


def test_that_text_still_being_typed_is_taken_after_a_pause(bridge: Bridge, qtbot: QtBot) -> None:
    bridge.enter_soon("title", "Half")
    assert bridge.value_at("title") == "Larkspur Lot 14"
    with qtbot.waitSignal(bridge.changed, timeout=4 * TYPING_PAUSE):
        bridge.enter_soon("title", "Half typed")
    assert bridge.value_at("title") == "Half typed"


def test_that_typing_in_one_field_takes_over_what_waits_in_another(bridge: Bridge) -> None:
    bridge.enter_soon("title", "First")
    bridge.enter_soon("number", "J-2")
    assert bridge.value_at("title") == "First"
    bridge.settle()
    assert bridge.value_at("number") == "J-2"


@pytest.mark.parametrize("act", ["undo", "add_row", "choose", "drop_limit"])
def test_that_typed_text_is_taken_before_anything_else_is_done(bridge: Bridge, act: str) -> None:
    before = bridge.value_at("title")
    bridge.enter_soon("title", "Waiting")
    if act == "undo":
        bridge.undo()
        assert bridge.value_at("title") == before
        bridge.redo()
    elif act == "add_row":
        bridge.add_row("leaks")
    elif act == "choose":
        bridge.choose("house.area_source", "plans")
    else:
        bridge.drop_limit(bridge.editor.job.compliance.limits[0].key)
    assert bridge.value_at("title") == "Waiting"


def test_that_a_row_that_is_gone_reads_as_empty_and_takes_nothing(bridge: Bridge) -> None:
    gone = "systems.7.area_served"
    before = bridge.editor.job
    assert bridge.value_at(gone) is None
    assert bridge.entry_text(gone) == bridge.shown_text(gone) == ""
    assert bridge.options_at("systems.7.work") == ()
    assert bridge.row_count("fans.7.rings") == 0
    bridge.enter(gone, "1200")
    bridge.choose("systems.7.work", "new")
    assert bridge.editor.job is before


def test_that_another_job_drops_what_was_being_typed(bridge: Bridge, new_editor: Editor) -> None:
    bridge.enter_soon("title", "For the old job")
    bridge.open(new_editor)
    bridge.settle()
    assert new_editor.job.title == ""


def test_that_the_old_job_is_heard_no_more(
    bridge: Bridge, editor: Editor, new_editor: Editor, qtbot: QtBot
) -> None:
    bridge.open(new_editor)
    with qtbot.assertNotEmitted(bridge.changed):
        editor.enter("title", "Nobody listens")


@pytest.mark.parametrize(
    ("system", "path", "typed", "echo"),
    [
        (UnitSystem.IP, "house.floor_area", "2,640 ft2", "= 245.3\N{NO-BREAK SPACE}m²"),
        (UnitSystem.SI, "house.floor_area", "245.3 m2", "= 2,640.4\N{NO-BREAK SPACE}ft²"),
        (UnitSystem.IP, "tests.0.setup.target_pressure", "25 Pa", ""),
        (UnitSystem.IP, "tests.0.setup.target_pressure", "0.1 in. w.c.", "= 0.1 in. w.c."),
        (UnitSystem.IP, "house.floor_area", "a barn", ""),
        (UnitSystem.IP, "house.stories", "2", ""),
        (UnitSystem.IP, "house.floor_area", "", ""),
    ],
)
def test_that_a_quantity_is_repeated_in_the_other_units(
    bridge: Bridge, system: UnitSystem, path: str, typed: str, echo: str
) -> None:
    bridge.prefer(Preferences(unit_system=system))
    bridge.enter(path, typed)
    assert bridge.echo(field_at(path), path) == echo


def test_that_a_door_that_is_gone_listens_no_more(qapp: object, editor: Editor) -> None:
    del qapp
    door = Bridge(editor)
    assert door.editor is editor
    door.deleteLater()
    QApplication.sendPostedEvents(door, QEvent.Type.DeferredDelete)
    editor.enter("title", "after the door has gone")
    assert editor.job.title == "after the door has gone"
