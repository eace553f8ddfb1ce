"""Choosing the limits a job is judged by."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel
from pytestqt.qtbot import QtBot

from deskapp.ui.limit_card import LimitCard
from deskapp.ui.limits.chooser import LimitChooser
from deskapp.ui.pages.house_page import HousePage
from deskapp.ui.workbench import Workbench


@pytest.fixture
def card(bench: Workbench) -> LimitCard:
    bench.show_page("house")
    assert isinstance(bench.page, HousePage)
    return bench.page.limits


def texts(widget: LimitCard) -> str:
    return "\n".join(label.text() for label in widget.findChildren(QLabel) if not label.isHidden())


def test_that_a_chosen_limit_says_for_each_system_which_row_applies(
    card: LimitCard, bench: Workbench
) -> None:
    said = texts(card)
    for system in bench.bridge.assessment.systems:
        assert system.name in said
        assert system.outcomes[0].rule_text in said
    assert "Rough-in, air handler installed" in said
    assert "Rough-in, air handler not installed" in said


def test_that_a_fact_still_missing_is_named_beside_the_system(
    card: LimitCard, bench: Workbench, qtbot: QtBot
) -> None:
    bench.bridge.choose("systems.0.air_handler_installed", None)
    reason = bench.bridge.assessment.systems[0].outcomes[0].reason
    assert reason
    qtbot.waitUntil(lambda: reason in texts(card))


def test_that_a_row_can_be_fixed_by_hand_and_freed_again(card: LimitCard, bench: Workbench) -> None:
    block = card.blocks[0]
    at = block.rows.findData("final")
    block.rows.setCurrentIndex(at)
    block.rows.activated.emit(at)
    assert bench.bridge.editor.job.compliance.limits[0].row == "final"
    card.blocks[0].rows.activated.emit(0)
    assert bench.bridge.editor.job.compliance.limits[0].row == ""


def test_that_a_limit_is_chosen_in_the_dialog_and_removed_on_the_card(
    card: LimitCard, bench: Workbench, qtbot: QtBot
) -> None:
    card.add_button.click()
    dialog = next(d for d in bench.window().findChildren(LimitChooser) if d.isVisible())
    qtbot.keyClicks(dialog.search, "2021 energy conservation")
    dialog.take.click()
    chosen = [limit.edition.id for limit in bench.bridge.editor.job.compliance.limits]
    assert chosen == ["iecc-2018", "iecc-2021"]
    assert len(card.blocks) == 2
    card.blocks[0].remove_button.click()
    assert [limit.edition.id for limit in bench.bridge.editor.job.compliance.limits] == [
        "iecc-2021"
    ]
