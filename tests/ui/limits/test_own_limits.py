"""Limits of one's own in their dialog: copied, changed, kept, shared. The town is invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.domain.data_files import resources_folder
from deskapp.domain.limit import PerFloorArea, Verification
from deskapp.session.editor import Editor
from deskapp.session.limits_desk import LimitsDesk, likely_limits_in_steps
from deskapp.session.settings import Preferences
from deskapp.ui.desk import Desk
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.limits.own_dialog import OwnLimitsDialog
from deskapp.ui.main_window import MainWindow
from deskapp.ui.workbench import Workbench


@pytest.fixture
def limits(tmp_path: Path) -> LimitsDesk:
    return LimitsDesk(resources_folder(), tmp_path / "settings" / "limits")


@pytest.fixture
def dialog(qtbot: QtBot, theme: object, limits: LimitsDesk, editor: Editor) -> OwnLimitsDialog:
    assert theme
    dialog = OwnLimitsDialog(limits, Preferences(), lambda: likely_limits_in_steps(editor), None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.open()
    return dialog


def type_in(dialog: OwnLimitsDialog, path: str, text: str) -> None:
    line = dialog.form.entries[path].line
    assert line is not None
    line.setText(text)
    line.editingFinished.emit()


def test_that_without_any_it_says_how_to_begin(dialog: OwnLimitsDialog) -> None:
    assert dialog.list.count() == 0
    assert not dialog.remove_button.isEnabled()
    assert not dialog.export_button.isEnabled()
    assert not dialog.form.isVisible()


def test_that_a_limit_is_copied_through_the_list_of_limits(
    dialog: OwnLimitsDialog, limits: LimitsDesk, qtbot: QtBot
) -> None:
    dialog.copy_button.click()
    chooser = dialog.findChildren(LimitChooser)[0]
    assert not chooser.add_one.isVisible()
    chooser.complete()
    chooser.list.mark("iecc-2021")
    with qtbot.waitSignal(dialog.kept):
        chooser.take.click()
    (file,), problems = limits.own_limits()
    assert problems == ()
    assert len(file.edition.rows) > 1
    assert {row.status for row in file.edition.rows} == {Verification.USER}
    assert dialog.marked_id == file.edition.id


def test_that_a_single_row_can_be_copied(dialog: OwnLimitsDialog, limits: LimitsDesk) -> None:
    dialog.copy("iecc-2021", "final")
    (file,), _problems = limits.own_limits()
    assert [row.id for row in file.edition.rows] == ["final"]


def test_that_numbers_clause_and_who_compared_it_are_kept_at_once(
    dialog: OwnLimitsDialog, limits: LimitsDesk
) -> None:
    dialog.copy("iecc-2021", "final")
    type_in(dialog, "title", "Our town amendment")
    assert "Our town amendment" in dialog.list.item(0).text()
    dialog.form.turn_to("final")
    type_in(dialog, "rows.0.rule.rate", "3.5")
    type_in(dialog, "rows.0.clause", "Ordinance 12, section 4")
    type_in(dialog, "rows.0.verified_by", "The inspector")
    type_in(dialog, "rows.0.verified_on", "2026-03-02")
    (file,), _problems = limits.own_limits()
    row = file.edition.rows[0]
    assert row.rule == PerFloorArea(kind="per_floor_area", rate=3.5)
    assert (row.clause, row.verified_by) == ("Ordinance 12, section 4", "The inspector")
    assert row.verified_on is not None
    assert row.verified_on.isoformat() == "2026-03-02"


def test_that_answers_are_kept(dialog: OwnLimitsDialog, limits: LimitsDesk) -> None:
    dialog.copy("iecc-2021", "final")
    dialog.form.turn_to("final")
    entry = dialog.form.entries["rows.0.air_handler_installed"]
    assert entry.box is not None
    at = entry.box.findData("yes")
    entry.box.setCurrentIndex(at)
    entry.box.activated.emit(at)
    ticks = dialog.form.entries["rows.0.stages"].ticks
    ticks[0].click()
    (file,), _problems = limits.own_limits()
    assert file.edition.rows[0].air_handler_installed is True
    assert [stage.value for stage in file.edition.rows[0].stages] == ["rough_in", "final"]


def test_that_what_cannot_be_taken_is_told_below_its_entry(
    dialog: OwnLimitsDialog, limits: LimitsDesk
) -> None:
    dialog.copy("iecc-2021", "final")
    dialog.form.turn_to("final")
    entry = dialog.form.entries["rows.0.rule.rate"]
    type_in(dialog, "rows.0.rule.rate", "four")
    assert not entry.message.isHidden()
    assert "four" in entry.message.text
    assert entry.text == "four"
    (file,), _problems = limits.own_limits()
    assert file.edition.rows[0].rule == PerFloorArea(kind="per_floor_area", rate=4.0)
    type_in(dialog, "rows.0.rule.rate", "3")
    assert entry.message.isHidden()


def test_that_rows_are_copied_and_removed(dialog: OwnLimitsDialog, limits: LimitsDesk) -> None:
    dialog.copy("iecc-2021", "final")
    assert dialog.form.copy_row.isHidden()
    dialog.form.turn_to("final")
    dialog.form.copy_row.click()
    type_in(dialog, "rows.1.title", "After construction, small houses")
    (file,), _problems = limits.own_limits()
    assert [row.title for row in file.edition.rows] == [
        "After construction",
        "After construction, small houses",
    ]
    dialog.form.turn_to("final")
    dialog.form.remove_row.click()
    (file,), _problems = limits.own_limits()
    assert [row.title for row in file.edition.rows] == ["After construction, small houses"]
    dialog.form.turn_to(file.edition.rows[0].id)
    dialog.form.remove_row.click()
    assert "only row" in dialog.form.message.text
    assert len(limits.own_limits()[0][0].edition.rows) == 1


def test_that_a_limit_travels_through_a_file(
    dialog: OwnLimitsDialog, limits: LimitsDesk, tmp_path: Path
) -> None:
    dialog.copy("iecc-2021", "final")
    dialog.save_file(tmp_path / "shared")
    assert (tmp_path / "shared.toml").exists()
    assert "shared.toml" in dialog.message.text
    dialog.take_file(tmp_path / "shared.toml")
    files, _problems = limits.own_limits()
    assert len(files) == dialog.list.count() == 2


def test_that_a_file_that_is_no_limit_is_named(dialog: OwnLimitsDialog, tmp_path: Path) -> None:
    (tmp_path / "letter.toml").write_text("half a ", encoding="utf-8")
    dialog.take_file(tmp_path / "letter.toml")
    assert dialog.message.isVisible()
    assert "letter.toml" in dialog.message.text
    assert dialog.list.count() == 0


def test_that_a_broken_file_among_ones_own_is_told_and_the_rest_is_listed(
    dialog: OwnLimitsDialog, limits: LimitsDesk, qtbot: QtBot, editor: Editor
) -> None:
    dialog.copy("iecc-2021", "final")
    (limits.own_folder / "broken.toml").write_text("half a ", encoding="utf-8")
    again = OwnLimitsDialog(limits, Preferences(), lambda: likely_limits_in_steps(editor), None)
    qtbot.addWidget(again)
    assert again.list.count() == 1
    assert "broken.toml" in again.message.text


def test_that_removing_asks_first(dialog: OwnLimitsDialog, limits: LimitsDesk) -> None:
    dialog.copy("iecc-2021", "final")
    dialog.remove_button.click()
    box = dialog.findChildren(QMessageBox)[0]
    assert len(limits.own_limits()[0]) == 1
    next(button for button in box.buttons() if button.text() == "Remove").click()
    assert limits.own_limits() == ((), ())
    assert dialog.list.count() == 0


def test_that_the_menu_leads_to_both_and_a_new_limit_can_be_chosen_at_once(
    window: MainWindow, bench: Workbench, desk: Desk
) -> None:
    window.commands.own_limits.trigger()
    own = window.findChildren(OwnLimitsDialog)[0]
    own.copy("iecc-2021", "final")
    (file,), _problems = desk.limits.own_limits()
    assert desk.shelf.edition(file.edition.id) is not None
    own.accept()
    window.commands.choose_limit.trigger()
    chooser = next(d for d in window.findChildren(LimitChooser) if d.isVisible())
    chooser.complete()
    chooser.list.mark(file.edition.id)
    chooser.take.click()
    chosen = [limit.edition for limit in bench.bridge.editor.job.compliance.limits]
    assert chosen[-1] == file.edition


def test_that_limits_of_ones_own_need_no_open_job(window: MainWindow, desk: Desk) -> None:
    assert not window.commands.choose_limit.isEnabled()
    window.commands.own_limits.trigger()
    own = window.findChildren(OwnLimitsDialog)[0]
    own.copy("iecc-2018")
    assert len(desk.limits.own_limits()[0]) == 1
