"""Repairs in words. All readings are invented; flows by hand: 24 * sqrt(signal) in cfm."""

from __future__ import annotations

import pytest

from deskapp.domain.choices import Stage
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.leak_words import leak_list
from deskapp.session.repairs import (
    ledger_words,
    name_of_test,
    repeatable_test,
    retest,
    retest_words,
)
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.settings import Preferences

TYPED = {
    "systems.0.name": "System 1",
    "systems.0.area_served": "2,000 ft2",
    "fans.0.rings.0.coefficient": "24",
    "fans.0.rings.0.exponent": "0.5",
    "tests.0.label": "First test",
    "tests.0.setup.target_pressure": "25",
    "tests.0.setup.tap_location": "Supply plenum",
    "tests.0.baseline_before": "0",
    "tests.0.baseline_after": "0",
    "tests.0.readings.0.duct_pressure": "25",
    "tests.0.readings.0.fan_signal": "64",
    "tests.0.readings.1.duct_pressure": "25",
    "tests.0.readings.1.fan_signal": "64",
    "leaks.0.place": "Collar",
    "leaks.1.place": "Boot",
    "leaks.2.place": "Filter slot",
    "rereadings.0.read_time": "10:05",
    "rereadings.0.duct_pressure": "25",
    "rereadings.0.fan_signal": "49",
    "rereadings.1.duct_pressure": "25",
    "rereadings.1.fan_signal": "48.9",
}
CHOSEN = {
    "systems.0.air_handler_installed": "yes",
    "tests.0.setup.stage": "before_repair",
    "tests.0.setup.metric": "total",
    "tests.0.setup.direction": "pressurize",
    "tests.0.setup.flow_basis": "as_indicated",
    "leaks.0.location": "takeoff",
    "leaks.0.repaired": "yes",
    "leaks.1.location": "boot_gap",
    "leaks.2.location": "filter_slot",
    "leaks.2.size": "major",
}
LISTS = (
    "systems",
    "gauges",
    "fans",
    "fans.0.rings",
    "tests",
    "tests.0.readings",
    "tests.0.readings",
)


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture
def editor(shelf: Shelf) -> Editor:
    made = Editor(Job(), shelf, Preferences())
    for list_path in (*LISTS, "leaks", "leaks", "leaks", "rereadings", "rereadings"):
        made.add_row(list_path)
    for path, text in TYPED.items():
        made.enter(path, text)
    for path, value in CHOSEN.items():
        made.choose(path, value)
    made.choose("leaks.0.reread", made.job.rereadings[0].key)
    return made


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def test_that_a_ledger_tells_each_gain_and_whether_it_is_one(editor: Editor) -> None:
    (ledger,) = ledger_words(editor)
    rows = [tuple(plain(cell) for cell in row) for row in ledger.rows]
    assert rows[0][:3] == ("Test", "–", "192.0 cfm")
    assert rows[1][:3] == ("10:05", "1", "168.0 cfm")
    assert rows[1][3].startswith("24.0 ± ")
    assert rows[1][4] == "gained"
    assert rows[2][:3] == ("Quick reading 2", "–", "167.8 cfm")
    assert rows[2][4] == "not told apart from zero"
    assert rows[3][0] == "In all"


def test_that_without_a_limit_nothing_is_said_to_be_left(editor: Editor) -> None:
    (ledger,) = ledger_words(editor)
    assert ledger.is_met is None
    assert ledger.left.startswith("No limit is chosen")


def test_that_open_leaks_are_named_by_severity_while_the_limit_is_not_met(editor: Editor) -> None:
    # By hand: filter slot usually 3, boot gap usually 2; the collar is closed.
    (ledger,) = ledger_words(editor)
    assert [text.split(".")[0] for text in ledger.could_close] == ["3", "2"]
    assert "Size, a guess: large." in ledger.could_close[0]


def test_that_the_leak_list_puts_open_ones_first_and_keeps_their_numbers(editor: Editor) -> None:
    leaks = leak_list(editor)
    assert [(leak.number, leak.level, leak.is_open) for leak in leaks] == [
        (3, 3, True),
        (2, 2, True),
        (1, 3, False),
    ]
    assert leaks[0].advice.startswith("Fit a cover with a gasket")
    assert "Duct Sealing and Insulation checklist" in leaks[0].source


def test_that_a_retest_is_set_up_alike_and_leaves_the_first_test_alone(editor: Editor) -> None:
    before = editor.job
    path = retest(editor, repeatable_test(editor, before.systems[0].key))
    assert path == "tests.1"
    first, again = editor.job.tests
    assert first == before.tests[0]
    assert again.retest_of == first.key
    assert again.setup.stage is Stage.AFTER_REPAIR
    assert again.setup.model_copy(update={"stage": first.setup.stage}) == first.setup
    assert (again.baseline_before, len(again.readings)) == (None, 1)
    assert "retest_differs" not in {finding.code for finding in editor.findings}
    editor.undo()
    assert editor.job == before


def test_that_a_retest_is_told_beside_the_test_it_repeats(editor: Editor) -> None:
    path = retest(editor, editor.job.tests[0].key)
    for at in range(2):
        if at:
            editor.add_row(f"{path}.readings")
        editor.enter(f"{path}.readings.{at}.duct_pressure", "25")
        editor.enter(f"{path}.readings.{at}.fan_signal", "16")
    words = retest_words(editor, editor.job.tests[1].key)
    assert words is not None
    assert (plain(words.before_text), plain(words.now_text)) == ("192.0 cfm", "96.0 cfm")
    assert plain(words.change).startswith("96.0 ± ")
    assert "50.0% ± " in plain(words.change)
    assert words.differences == ()
    editor.enter(f"{path}.setup.tap_location", "Far register")
    told = retest_words(editor, editor.job.tests[1].key)
    assert told is not None
    assert told.differences == ("Pressure tap at",)


def test_that_removing_a_test_empties_what_pointed_at_it(editor: Editor) -> None:
    retest(editor, editor.job.tests[0].key)
    editor.remove_row("tests.0")
    assert editor.job.tests[0].retest_of == ""
    assert {row.test for row in editor.job.rereadings} == {""}
    editor.remove_row("rereadings.0")
    assert editor.job.leaks[0].reread == ""


def test_that_a_test_without_a_result_is_not_repeated(editor: Editor) -> None:
    assert repeatable_test(editor, "nowhere") == ""
    with pytest.raises(KeyError):
        retest(editor, "nowhere")


def test_that_only_several_systems_are_named(editor: Editor) -> None:
    key = editor.job.tests[0].key
    assert name_of_test(editor.job, key) == "First test"
    editor.add_row("systems")
    assert name_of_test(editor.job, key) == "System 1: First test"
