"""Live readings: from the simulated stream to the next reading of the test."""

from __future__ import annotations

import threading
from collections.abc import Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from deskapp.session.live.columns import SampleField
from deskapp.session.live.watch import Plan
from deskapp.session.live.wires import FileWire
from deskapp.session.settings import Preferences
from deskapp.ui.live.columns_dialog import ColumnsDialog
from deskapp.ui.live.gauge_readings_page import GaugeReadingsPage
from deskapp.ui.live.kit import LiveKit, load_kit
from deskapp.ui.live.live_dialog import LiveDialog
from deskapp.ui.live.source_form import Way
from deskapp.ui.workbench import Workbench

LONGEST_MS = 20_000
HEADER = "time [s],duct pressure [Pa],fan signal [Pa]"
# An invented log: steady at 25 Pa for half a minute.
STEADY = "\n".join([HEADER, *(f"{n / 2},-25.{n % 3},32.{n % 2}" for n in range(60))]) + "\n"


@pytest.fixture
def kit() -> LiveKit:
    kit = load_kit()
    assert isinstance(kit, LiveKit)
    return kit


def threads() -> list[str]:
    named = (thread.name for thread in threading.enumerate())
    return [name for name in named if name in ("line source", "training")]


def opened(qtbot: QtBot, dialog: LiveDialog) -> LiveDialog:
    dialog.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose, False)
    qtbot.addWidget(dialog)
    dialog.open()
    return dialog


@pytest.fixture
def dialog(qtbot: QtBot, theme: object, kit: LiveKit) -> Iterator[LiveDialog]:
    assert theme
    formatter = Preferences().formatter

    def plan(is_baseline: bool) -> Plan:
        return Plan(5.0) if is_baseline else Plan(5.0, -25.0)

    dialog = opened(qtbot, LiveDialog(kit, plan, formatter, None, pace=0.002))
    yield dialog
    dialog.reject()
    qtbot.waitUntil(lambda: threads() == [], timeout=LONGEST_MS)


def read_log(dialog: LiveDialog, path: Path) -> None:
    dialog.form.way.setCurrentIndex(dialog.form.way.findData(Way.LOG))
    dialog.form.path.setText(str(path))
    dialog.form.follow.setChecked(False)
    dialog.start_button.click()


def read_whole_log(dialog: LiveDialog, path: Path, qtbot: QtBot) -> None:
    """Have a log read to its end: what is captured last stays so then."""
    read_log(dialog, path)
    qtbot.waitUntil(dialog.start_button.isEnabled, timeout=LONGEST_MS)


def test_that_a_steady_log_is_captured_and_handed_over(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY, encoding="utf-8")
    assert not dialog.use.isEnabled()
    read_whole_log(dialog, log, qtbot)
    assert len(dialog.capture_texts) > 2
    with qtbot.waitSignal(dialog.used) as used:
        dialog.use.click()
    texts = used.args[0]
    assert texts["duct_pressure"].startswith("-25.1")
    assert texts["fan_signal"].startswith("32.")
    assert "simulated" not in texts["note"]
    assert not dialog.use.isEnabled()
    assert dialog.face.trace.count > 50
    assert "On target" in dialog.face.aim.text()


def test_that_a_log_can_be_read_again_before_its_thread_is_quite_over(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    log, gate = tmp_path / "log.csv", threading.Event()
    log.write_text(STEADY, encoding="utf-8")
    close = FileWire.close

    def close_slowly(wire: FileWire) -> None:
        gate.wait(20)
        close(wire)

    monkeypatch.setattr(FileWire, "close", close_slowly)
    read_whole_log(dialog, log, qtbot)
    assert threads() == ["line source"]
    gate.set()


def test_that_a_log_that_is_not_there_is_told_in_words(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    read_log(dialog, tmp_path / "none.csv")
    qtbot.waitUntil(lambda: "There is no file" in dialog.state.text, timeout=LONGEST_MS)
    qtbot.waitUntil(lambda: dialog.start_button.isEnabled(), timeout=LONGEST_MS)


def test_that_a_training_follows_the_simulated_hand_and_says_so_in_its_note(
    dialog: LiveDialog, qtbot: QtBot
) -> None:
    assert dialog.form.chosen is Way.TRAINING
    dialog.start_button.click()
    qtbot.waitUntil(lambda: dialog.face.trace.count > 2, timeout=LONGEST_MS)
    assert dialog.training is not None
    target = dialog.training.plan.target
    dialog.hand.setValue(25)
    qtbot.waitUntil(lambda: dialog.face.aim.text() == "On target.", timeout=LONGEST_MS)
    qtbot.waitUntil(lambda: bool(dialog.capture_texts), timeout=LONGEST_MS)
    qtbot.waitUntil(dialog.use.isEnabled, timeout=LONGEST_MS)
    with qtbot.waitSignal(dialog.used, timeout=LONGEST_MS) as used:
        dialog.use.click()
    assert used.args[0]["note"].startswith("simulated for training")
    assert target in (25.0, -25.0)
    dialog.stop_button.click()
    assert "leak" in dialog.state.text


def test_that_a_training_says_that_its_target_is_not_that_of_the_test(dialog: LiveDialog) -> None:
    dialog.start_button.click()
    assert dialog.training is not None
    target = "−25" if dialog.training.plan.target == -25.0 else "25"
    assert f"target of this training {target}" in dialog.face.target.text()
    assert "The target of the test is −25" in dialog.face.target.text()
    dialog.stop_button.click()


def name_time_and_pressure(naming: ColumnsDialog) -> None:
    for field, position in ((SampleField.TIME, 0), (SampleField.DUCT_PRESSURE, 1)):
        box = naming.picker.columns[field]
        box.setCurrentIndex(box.findData(position))
        box.activated.emit(box.currentIndex())


def test_that_columns_nothing_names_are_named_from_the_lines_that_came(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    bare = STEADY.removeprefix(HEADER + "\n").replace(",", ";").replace(".", ",")
    log.write_text(bare, encoding="utf-8")
    dialog.form.way.setCurrentIndex(dialog.form.way.findData(Way.LOG))
    assert dialog.name_columns.isVisible()
    assert "No line was read yet" in dialog.name_columns.toolTip()
    read_whole_log(dialog, log, qtbot)
    assert not dialog.capture_texts
    assert "Columns…" in dialog.face.tally.text
    dialog.name_columns.click()
    naming = dialog.findChild(ColumnsDialog)
    assert naming is not None
    assert not naming.take.isEnabled()
    assert "duct pressure" in naming.remark.text
    name_time_and_pressure(naming)
    with qtbot.waitSignal(dialog.columns_named) as named:
        naming.take.click()
    assert named.args[0].delimiter == ";"
    qtbot.waitUntil(dialog.start_button.isEnabled, timeout=LONGEST_MS)
    assert len(dialog.capture_texts) > 2
    assert "-25.1" in dialog.capture_texts[0].replace("−", "-")


def test_that_columns_named_while_reading_are_remembered_for_the_gauge(
    bench: Workbench, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY.removeprefix(HEADER + "\n"), encoding="utf-8")
    bench.bridge.enter("gauges.0.serial", "GA-18")
    bench.show_page("readings")
    assert isinstance(bench.page, GaugeReadingsPage)
    card = bench.page.gauge
    for named in (False, True):
        card.live.click()
        dialog = bench.window().findChildren(LiveDialog)[-1]
        read_whole_log(dialog, log, qtbot)
        assert bool(dialog.capture_texts) is named
        if not named:
            dialog.name_columns.click()
            naming = dialog.findChildren(ColumnsDialog)[-1]
            name_time_and_pressure(naming)
            naming.take.click()
        dialog.accept()


def test_that_closing_ends_every_thread(dialog: LiveDialog, qtbot: QtBot) -> None:
    dialog.start_button.click()
    qtbot.waitUntil(lambda: dialog.face.trace.count > 2, timeout=LONGEST_MS)
    assert sorted(threads()) == ["line source", "training"]
    dialog.close()
    qtbot.waitUntil(lambda: threads() == [], timeout=LONGEST_MS)


def test_that_nothing_starts_without_an_address(dialog: LiveDialog) -> None:
    dialog.form.way.setCurrentIndex(dialog.form.way.findData(Way.TCP))
    assert not dialog.start_button.isEnabled()
    assert "host and port" in dialog.state.text
    dialog.form.address.setText("192.0.2.1:9000")
    assert dialog.start_button.isEnabled()


def test_that_nothing_claims_to_control_a_fan(dialog: LiveDialog) -> None:
    from PySide6.QtWidgets import QLabel

    said = " ".join(label.text() for label in dialog.findChildren(QLabel))
    assert "never controls a fan" in said
    assert "set by hand" in said


def test_that_a_live_average_becomes_the_next_reading_of_the_test_shown(
    bench: Workbench, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY, encoding="utf-8")
    bench.show_page("readings")
    assert isinstance(bench.page, GaugeReadingsPage)
    bench.page.gauge.live.click()
    dialog = bench.window().findChild(LiveDialog)
    assert dialog is not None
    read_whole_log(dialog, log, qtbot)
    dialog.use.click()
    readings = bench.bridge.value_at("tests.0.readings")
    assert len(readings) == 4
    assert readings[3].duct_pressure.si == pytest.approx(-25.1, abs=0.1)
    assert readings[3].note.startswith("average of")
    dialog.accept()


def test_that_a_baseline_goes_into_the_test_and_is_taken_off_from_then_on(
    bench: Workbench, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY.replace("-25.", "-1."), encoding="utf-8")
    bench.show_page("readings")
    assert isinstance(bench.page, GaugeReadingsPage)
    bench.page.gauge.live.click()
    dialog = bench.window().findChild(LiveDialog)
    assert dialog is not None
    dialog.purpose.setCurrentIndex(1)
    read_whole_log(dialog, log, qtbot)
    assert dialog.use.text() == "Use as baseline"
    dialog.use.click()
    held = bench.bridge.value_at("tests.0.baseline_before")
    assert held.si == pytest.approx(-1.1, abs=0.1)
    assert len(bench.bridge.value_at("tests.0.readings")) == 3
    assert not dialog.is_baseline
    assert dialog.stream is not None
    assert dialog.stream.watch.plan.baseline == held.si
    dialog.accept()


def test_that_a_baseline_is_said_to_have_no_target(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY.replace("-25.", "-1."), encoding="utf-8")
    dialog.purpose.setCurrentIndex(1)
    read_whole_log(dialog, log, qtbot)
    assert "enter target pressure" not in dialog.face.target.text()
    assert "A baseline has no target" in dialog.face.target.text()
    dialog.purpose.setCurrentIndex(0)
    assert "target −25" in dialog.face.target.text()


def test_that_the_baseline_of_a_training_is_said_to_stay_there(
    dialog: LiveDialog, qtbot: QtBot
) -> None:
    dialog.purpose.setCurrentIndex(1)
    dialog.start_button.click()
    qtbot.waitUntil(dialog.use.isEnabled, timeout=LONGEST_MS)
    with qtbot.assertNotEmitted(dialog.baseline_used):
        dialog.use.click()
    assert "stays in the training" in dialog.state.text
    assert "baseline of this training taken off" in dialog.face.target.text()


def test_that_a_log_read_after_a_training_is_not_called_simulated(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    dialog.start_button.click()
    qtbot.waitUntil(lambda: dialog.face.trace.count > 2, timeout=LONGEST_MS)
    dialog.stop_button.click()
    log = tmp_path / "log.csv"
    log.write_text(STEADY, encoding="utf-8")
    qtbot.waitUntil(lambda: dialog.form.isEnabled(), timeout=LONGEST_MS)
    read_whole_log(dialog, log, qtbot)
    assert dialog.capture_texts
    with qtbot.waitSignal(dialog.used) as used:
        dialog.use.click()
    assert used.args[0]["note"].startswith("average of")


def test_that_an_average_with_the_fan_off_is_offered_as_baseline_only(
    dialog: LiveDialog, tmp_path: Path, qtbot: QtBot
) -> None:
    log = tmp_path / "log.csv"
    log.write_text(STEADY.replace("-25.", "-0."), encoding="utf-8")
    read_whole_log(dialog, log, qtbot)
    assert dialog.capture_texts
    assert not dialog.use.isEnabled()
    assert "turn the fan on" in dialog.too_low.text()
    dialog.purpose.setCurrentIndex(1)
    assert dialog.use.isEnabled()
    assert not dialog.too_low.text()
