"""Sampling the units of a building in its dialog. The project is invented."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMessageBox
from pytestqt.qtbot import QtBot

from deskapp.domain.data_files import resources_folder
from deskapp.domain.sampling import SamplingPlan
from deskapp.session import sampling_desk
from deskapp.session.sampling_desk import StepKind, next_step
from deskapp.session.sampling_log_file import log_text
from deskapp.session.settings import Preferences
from deskapp.ui.limits.sampling_dialog import SamplingDialog
from deskapp.ui.main_window import MainWindow

UNITS = "\n".join(f"Unit {n}\ttype {n % 3}\t{n} Sample Court" for n in range(1, 21))


@pytest.fixture
def dialog(qtbot: QtBot, theme: object) -> SamplingDialog:
    assert theme
    rules, problems = sampling_desk.rules(resources_folder())
    dialog = SamplingDialog(rules, problems, Preferences(), None)
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog, before_close_func=discard)
    dialog.open()
    return dialog


def discard(dialog: SamplingDialog) -> None:
    dialog.work.plan = None


def begin(dialog: SamplingDialog, rule: str = "resnet-2025") -> None:
    dialog.start.project.setText("Sample Court")
    dialog.start.threshold.setText("at most 40 cfm")
    dialog.start.units.setPlainText(UNITS)
    dialog.start.rule.setCurrentIndex(dialog.start.rule.findData(rule))
    dialog.start.begin.click()


def plan_of(dialog: SamplingDialog) -> SamplingPlan:
    assert dialog.work.plan is not None
    return dialog.work.plan


def state_of(dialog: SamplingDialog, row: int) -> str:
    item = dialog.work.table.item(row, 1)
    assert item is not None
    return item.text()


def plain(text: str) -> str:
    return text.replace("\N{NO-BREAK SPACE}", " ")


def shown(dialog: SamplingDialog) -> str:
    return dialog.work.log.toPlainText()


def record(dialog: SamplingDialog, *, met: bool) -> None:
    form = dialog.work.form
    (form.met if met else form.not_met).click()
    form.record.click()


def test_that_a_rule_tells_its_clause_status_and_dates(dialog: SamplingDialog) -> None:
    from PySide6.QtWidgets import QLabel

    start = dialog.start
    assert start.rule.count() == 3
    start.rule.setCurrentIndex(start.rule.findData("california-groups"))
    said = "\n".join(label.text() for label in start.findChildren(QLabel))
    assert "Unverified: check the text of the rule" in said
    assert "When it is in force is not recorded here." in said
    assert "Clause: not known." in said


def test_that_pasted_units_are_counted_and_a_fault_names_its_line(dialog: SamplingDialog) -> None:
    start = dialog.start
    start.units.setPlainText(UNITS)
    assert start.count.text == "Units: 20. Kinds: 3."
    start.units.setPlainText("Unit 1\nunit 1")
    assert "Line 2" in start.count.text
    start.begin.click()
    assert "Line 2" in start.message.text
    assert dialog.work.plan is None


def test_that_a_short_list_is_remarked_and_an_empty_one_not_begun(dialog: SamplingDialog) -> None:
    start = dialog.start
    start.rule.setCurrentIndex(start.rule.findData("resnet-2025"))
    start.units.setPlainText("Unit 1\nUnit 2")
    assert "fewer than 12" in start.count.text
    start.units.setPlainText("")
    start.begin.click()
    assert "no units yet" in start.message.text
    start.units.setPlainText(UNITS)
    start.begin.click()
    assert "held against" in start.message.text
    assert dialog.work.plan is None


def test_that_units_are_drawn_with_a_seed_that_is_recorded(dialog: SamplingDialog) -> None:
    begin(dialog)
    assert next_step(plan_of(dialog)).kind is StepKind.DRAW
    dialog.work.draw_button.click()
    plan = plan_of(dialog)
    assert len(plan.draws) == 1
    assert f"Seed: {plan.draws[0].seed}" in dialog.work.log.toPlainText()
    assert sampling_desk.log(plan).draws[0].repeats
    assert not dialog.work.draw_button.isVisible()
    for key in plan.draws[0].drawn:
        unit = plan.unit_list.unit(key)
        assert unit is not None
        assert unit.name in dialog.work.due.text()
    states = [state_of(dialog, row) for row in range(20)]
    assert states.count("to be checked") == 5


def test_that_checks_are_recorded_and_lead_on(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    dialog.work.form.measured.setText("31 cfm")
    dialog.work.form.checked_by.setText("The rater")
    for _check in range(5):
        record(dialog, met=True)
    plan = plan_of(dialog)
    assert [check.met for check in plan.checks] == [True] * 5
    assert plan.checks[0].measured == "31 cfm"
    assert plan.checks[1].measured == ""
    assert plan.checks[4].checked_by == "The rater"
    assert next_step(plan).kind is StepKind.DRAW
    assert dialog.work.draw_button.isVisible()
    assert shown(dialog) == plain(log_text(plan, Preferences().formatter))


def test_that_what_follows_a_failure_is_told(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    failing = dialog.work.form.unit.currentText().removesuffix(" (due)")
    record(dialog, met=False)
    assert failing in dialog.work.failing.text
    for _check in range(4):
        record(dialog, met=True)
    step = next_step(plan_of(dialog))
    assert step.text in dialog.work.step.text
    states = [state_of(dialog, row) for row in range(20)]
    assert states.count("not met") == 1


def test_that_an_outcome_has_to_be_said_and_a_day_read(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    form = dialog.work.form
    form.record.click()
    assert "whether the unit meets" in form.message.text
    form.day.setText("soon")
    record(dialog, met=True)
    assert "soon" in form.message.text
    form.unit.setCurrentIndex(0)
    form.record.click()
    assert "Choose the unit" in form.message.text
    assert plan_of(dialog).checks == ()


def test_that_a_unit_is_picked_in_the_table(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.work.table.setCurrentCell(7, 0)
    assert dialog.work.form.unit.currentText() == "Unit 8"


def test_that_a_plan_is_saved_and_gone_on_with(dialog: SamplingDialog, tmp_path: Path) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    assert dialog.has_unsaved
    assert dialog.save_file(tmp_path / "court")
    assert not dialog.has_unsaved
    saved = plan_of(dialog)
    record(dialog, met=True)
    dialog.open_file(tmp_path / "court.ductsample")
    assert plan_of(dialog) == saved
    dialog.open_file(tmp_path / "gone.ductsample")
    assert "gone.ductsample" in dialog.message.text
    assert plan_of(dialog) == saved


def test_that_the_log_is_saved_as_text_and_as_a_table(
    dialog: SamplingDialog, tmp_path: Path
) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    dialog.write_log(tmp_path / "log.txt")
    assert plain((tmp_path / "log.txt").read_text(encoding="utf-8")) == shown(dialog)
    dialog.write_log(tmp_path / "log.csv")
    assert (tmp_path / "log.csv").exists()
    dialog.write_log(tmp_path / "log.pdf")
    assert (tmp_path / "log.pdf").read_bytes().startswith(b"%PDF")
    dialog.write_log(tmp_path / "nowhere" / "log.csv")
    assert "could not be written" in dialog.message.text


def test_that_closing_asks_once_about_draws_not_saved(
    dialog: SamplingDialog, tmp_path: Path
) -> None:
    begin(dialog)
    dialog.reject()
    assert dialog.isVisible()
    box = dialog.findChildren(QMessageBox)[0]
    box.button(QMessageBox.StandardButton.Cancel).click()
    assert dialog.isVisible()
    dialog.save_file(tmp_path / "court")
    dialog.reject()
    assert not dialog.isVisible()


def test_that_discarding_closes(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.reject()
    box = dialog.findChildren(QMessageBox)[0]
    box.button(QMessageBox.StandardButton.Discard).click()
    assert not dialog.isVisible()


def test_that_the_menu_opens_it_without_a_job(window: MainWindow) -> None:
    window.commands.sampling.trigger()
    (found,) = window.findChildren(SamplingDialog)
    assert found.isVisible()
    assert found.start.rule.count() == 3


def test_that_a_result_above_the_threshold_is_not_recorded_as_met(dialog: SamplingDialog) -> None:
    begin(dialog)
    dialog.work.draw_button.click()
    form = dialog.work.form
    form.measured.setText("99 cfm")
    record(dialog, met=True)
    assert "“99 cfm” is above the threshold, “at most 40 cfm”" in form.message.text
    assert plan_of(dialog).checks == ()
    record(dialog, met=False)
    assert [check.met for check in plan_of(dialog).checks] == [False]


def test_that_what_is_due_in_full_is_not_called_drawn_at_random(dialog: SamplingDialog) -> None:
    begin(dialog, "california-groups")
    work = dialog.work
    assert work.draw_button.text() == "Draw at random"
    work.draw_button.click()
    record(dialog, met=False)
    while next_step(plan_of(dialog)).kind is StepKind.CORRECT:
        record(dialog, met=True)
    step = next_step(plan_of(dialog))
    assert (step.kind, step.count) == (StepKind.DRAW, len(step.units))
    assert work.draw_button.text() == "Take all the rest"
