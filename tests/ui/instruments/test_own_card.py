"""Copies from the company's instruments on the page of the set-up."""

from __future__ import annotations

from PySide6.QtCore import Qt

from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.instruments.setup_page import SetupPage
from deskapp.ui.instruments.take_dialog import TakeDialog
from deskapp.ui.workbench import Workbench


def card_of(bench: Workbench) -> OwnCard:
    bench.show_page("setup")
    assert isinstance(bench.page, SetupPage)
    return bench.page.own


def register_a_gauge(bench: Workbench) -> None:
    """Two invented gauges."""
    card = card_of(bench)
    editor = card.cabinet.editor(bench.bridge.preferences)
    for row, serial in enumerate(("GA-17", "GA-18")):
        editor.add_row("gauges")
        editor.enter(f"gauges.{row}.description", "Two-channel gauge")
        editor.enter(f"gauges.{row}.serial", serial)


def take(bench: Workbench, serial: str) -> None:
    card = card_of(bench)
    card.ask_what_to_take()
    dialog = bench.window().findChild(TakeDialog)
    assert dialog is not None
    assert not dialog.take.isEnabled()
    for at in range(dialog.list.count()):
        if serial in dialog.list.item(at).text():
            dialog.list.item(at).setCheckState(Qt.CheckState.Checked)
    dialog.take.click()


def test_that_a_ticked_instrument_is_copied_and_no_other(new_bench: Workbench) -> None:
    register_a_gauge(new_bench)
    take(new_bench, "GA-18")
    job = new_bench.bridge.editor.job
    assert [gauge.serial for gauge in job.gauges] == ["GA-18"]


def test_that_a_later_change_is_offered_and_reaches_the_job_only_when_asked_for(
    new_bench: Workbench,
) -> None:
    register_a_gauge(new_bench)
    take(new_bench, "GA-17")
    card = card_of(new_bench)
    assert card.offered == ()
    editor = card.cabinet.editor(new_bench.bridge.preferences)
    editor.enter("gauges.0.certificate", "C-2026-4")
    assert [offer.name for offer in card.offered] == ["Two-channel gauge, GA-17"]
    assert new_bench.bridge.editor.job.gauges[0].certificate == ""
    card.updates[0].click()
    assert new_bench.bridge.editor.job.gauges[0].certificate == "C-2026-4"
    assert card.offered == ()
    new_bench.bridge.undo()
    assert new_bench.bridge.editor.job.gauges[0].certificate == ""
    assert len(card.offered) == 1


def test_that_instruments_of_a_job_are_kept_for_the_next_one(new_bench: Workbench) -> None:
    card = card_of(new_bench)
    card.keep.click()
    assert "name or serial" in card.remark.text()
    new_bench.bridge.enter("fans.0.serial", "FA-09")
    card.keep.click()
    register = card.cabinet.register(new_bench.bridge.preferences)
    assert [item.fan.serial for item in register.fans] == ["FA-09"]
    card.keep.click()
    assert "already" in card.remark.text()
    assert len(card.cabinet.register(new_bench.bridge.preferences).fans) == 1
