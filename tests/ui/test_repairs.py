"""The ledger of a repair and retests on the page of leaks, with the sample that shows them."""

from __future__ import annotations

from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.ui.bridge import Bridge
from deskapp.ui.repairs.before_after import BeforeAfter
from deskapp.ui.repairs.leak_list import LeakListCard
from deskapp.ui.repairs.ledger_card import LedgerCard, RetestCard
from deskapp.ui.repairs.register_walk import RegisterWalk, RegisterWalkCard
from deskapp.ui.words import Command, Words


def texts(card) -> str:
    return "\n".join(label.text() for label in card.findChildren(Words)).replace("\xa0", " ")


def test_that_the_sample_shows_what_each_repair_gained(qtbot, shelf):
    bridge = Bridge(open_sample("maple", shelf, Preferences()))
    card = LedgerCard(bridge)
    qtbot.addWidget(card)
    card.refresh()
    # By hand: 62 * sqrt(62) * (25 / 22.4) ** 0.6 = 521.4 cfm, 96.0 less than 617.4.
    assert "521.4 cfm" in texts(card)
    assert "96.0 ± " in texts(card)
    assert "not told apart from zero" in texts(card)


def test_that_a_retest_is_drawn_and_another_one_is_a_button_away(qtbot, shelf):
    bridge = Bridge(open_sample("maple", shelf, Preferences()))
    gone_to: list[str] = []
    card = RetestCard(bridge, gone_to.append)
    qtbot.addWidget(card)
    card.refresh()
    (picture,) = card.findChildren(BeforeAfter)
    assert picture.accessibleName().replace("\xa0", " ").endswith("Limit 180.0 cfm")
    (button,) = card.findChildren(Command)
    button.click()
    assert [test.retest_of for test in bridge.editor.job.tests] == ["", "t1", "t2"]
    assert gone_to == ["tests.2.tested_on"]


def test_that_the_leak_list_has_the_numbers_of_the_papers(qtbot, shelf):
    bridge = Bridge(open_sample("maple", shelf, Preferences()))
    card = LeakListCard(bridge)
    qtbot.addWidget(card)
    card.refresh()
    heads = [line for line in texts(card).splitlines() if line.endswith("(sealed)")]
    assert sorted(int(line.split(".")[0]) for line in heads) == [1, 2, 3, 4, 5, 6]


def test_that_the_registers_are_drawn_by_their_readings_the_worst_first(qtbot, shelf):
    bridge = Bridge(open_sample("maple", shelf, Preferences()))
    card = RegisterWalkCard(bridge)
    qtbot.addWidget(card)
    card.refresh()
    (picture,) = card.findChildren(RegisterWalk)
    first, second, *rest = picture.accessibleName().replace("\xa0", " ").split("; ")
    assert first == "Laundry, No sign of a leak, before the work 12.4 Pa, after the work 0.9 Pa"
    assert second.startswith("Front bedroom")
    assert len(rest) == 8
