"""What new jobs start with: entered in the fields of a job, or taken from the open one."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from deskapp.ui.company.usual_dialog import UsualDialog
from deskapp.ui.fields.field import Field
from deskapp.ui.furnish import Furniture
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


def open_dialog(furniture: Furniture, window: MainWindow) -> UsualDialog:
    furniture.edit_usual()
    return next(one for one in window.findChildren(UsualDialog) if one.isVisible())


def field(dialog: UsualDialog, path: str) -> Field:
    return next(one for sheet in dialog.sheets for one in sheet.fields if one.path == path)


def test_that_new_jobs_start_with_what_was_entered(
    furniture: Furniture, window: MainWindow, qtbot: QtBot
) -> None:
    dialog = open_dialog(furniture, window)
    name = field(dialog, "tester.name")
    name.take_focus()
    qtbot.keyClicks(name.input, "Robin Vale")
    target = field(dialog, "tests.0.setup.target_pressure")
    target.take_focus()
    qtbot.keyClicks(target.input, "25")
    dialog.save.click()
    assert not dialog.isVisible()
    furniture.new()
    assert furniture.files.editor is not None
    assert furniture.files.editor.job.tester.name == "Robin Vale"
    assert furniture.files.editor.value_at("tests.0.setup.target_pressure").si == 25.0
    assert not furniture.has_unsaved


def test_that_cancel_keeps_nothing(furniture: Furniture, window: MainWindow, qtbot: QtBot) -> None:
    dialog = open_dialog(furniture, window)
    name = field(dialog, "tester.name")
    name.take_focus()
    qtbot.keyClicks(name.input, "Nobody")
    dialog.reject()
    assert furniture.desk.new_job().job.tester.name == ""


def test_that_the_set_up_of_the_open_job_becomes_the_usual_one(
    bench: Workbench, furniture: Furniture
) -> None:
    furniture.keep_as_usual()
    assert "from now on" in bench.strip.remark_text
    new = furniture.desk.new_job()
    assert new.value_at("tests.0.setup.direction") == "depressurize"
    assert [limit.edition.id for limit in new.job.compliance.limits] == ["iecc-2018"]
    assert new.job.number == ""
    assert new.value_at("tests.0.readings") == (type(new.job.tests[0].readings[0])(),)


def test_that_a_damaged_file_is_said_in_the_dialog(
    furniture: Furniture, window: MainWindow
) -> None:
    furniture.desk.folder.mkdir(parents=True, exist_ok=True)
    (furniture.desk.folder / "new_jobs.ductjob").write_bytes(b"no zip")
    dialog = open_dialog(furniture, window)
    assert dialog.message.isVisible()
    assert "cannot be read" in dialog.message.text
    furniture.new()
    assert furniture.bench is not None
    assert "cannot be read" in furniture.bench.strip.remark_text


def test_that_an_entry_that_cannot_be_read_is_not_kept_but_led_to(
    furniture: Furniture, window: MainWindow, qtbot: QtBot
) -> None:
    dialog = open_dialog(furniture, window)
    expires = field(dialog, "tester.certification_expires")
    expires.take_focus()
    qtbot.keyClicks(expires.input, "31/31/2020")
    dialog.save.click()
    assert dialog.isVisible()
    assert "31/31/2020" in dialog.message.text
    assert dialog.focusWidget() is not None
    assert expires.isAncestorOf(dialog.focusWidget())
    assert furniture.desk.new_job().entry_text("tester.certification_expires") == ""
    dialog.bridge.enter("tester.certification_expires", "2031-03-31")
    dialog.save.click()
    assert not dialog.isVisible()
    assert furniture.desk.new_job().entry_text("tester.certification_expires") == "2031-03-31"


def test_that_the_set_up_of_the_open_job_is_not_kept_with_an_entry_that_cannot_be_read(
    bench: Workbench, furniture: Furniture
) -> None:
    bench.bridge.enter("tester.certification_expires", "31/31/2020")
    furniture.keep_as_usual()
    assert "31/31/2020" in bench.strip.remark_text
    assert furniture.desk.new_job().entry_text("tester.certification_expires") == ""
