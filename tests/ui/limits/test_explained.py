"""How a limit was worked out, folded away below each outcome on the page of results."""

from __future__ import annotations

from PySide6.QtWidgets import QLabel

from deskapp.session.limits_desk import ExplainLine, LinePart, explained
from deskapp.ui.limits.explained import Explained, ExplainLines
from deskapp.ui.limits.fit_words import held_of
from deskapp.ui.workbench import Workbench


def texts(widget: Explained | ExplainLines) -> list[str]:
    return [label.text() for label in widget.findChildren(QLabel)]


def panels(bench: Workbench) -> list[Explained]:
    bench.show_page("result")
    return bench.page.findChildren(Explained)


def test_that_each_outcome_can_be_explained_and_starts_folded(bench: Workbench) -> None:
    found = panels(bench)
    outcomes = [o for system in bench.bridge.assessment.systems for o in system.outcomes]
    assert len(found) == len(outcomes) == 2
    assert not any(panel.is_open for panel in found)
    assert texts(found[0]) == []


def test_that_every_line_is_shown_with_the_facts_of_the_job(bench: Workbench) -> None:
    panel = panels(bench)[0]
    panel.button.click()
    system = bench.bridge.assessment.systems[0]
    lines = explained(bench.bridge.editor, system.system, system.outcomes[0])
    parts = {line.part for line in lines}
    assert {
        LinePart.CLAUSE,
        LinePart.STATUS,
        LinePart.CONDITION,
        LinePart.ARITHMETIC,
        LinePart.VERDICT,
    } <= parts
    said = texts(panel)
    for line in lines:
        assert line.text in said
        assert line.label in said


def test_that_it_is_folded_away_again(bench: Workbench) -> None:
    panel = panels(bench)[0]
    closed = panel.button.accessibleDescription()
    panel.button.click()
    assert panel.is_open
    assert panel.button.accessibleDescription() != closed
    panel.button.click()
    assert not panel.is_open
    assert panel.button.accessibleDescription() == closed
    assert all(not label.isVisible() for label in panel.findChildren(QLabel))


def test_that_a_condition_that_does_not_hold_says_so_in_words(theme: object) -> None:
    assert theme
    lines = (
        ExplainLine(LinePart.CONDITION, "Stage: Rough-in"),
        ExplainLine(LinePart.CONDITION, "Returns: 4", holds=False),
        ExplainLine(LinePart.CONDITION, "Area: not given", holds=None),
    )
    said = texts(ExplainLines(lines))
    assert "Stage: Rough-in" in said
    assert f"Returns: 4 ({held_of(False)[1]})" in said
    assert f"Area: not given ({held_of(None)[1]})" in said
    assert len({held_of(holds) for holds in (True, False, None)}) == 3


def test_that_the_explanation_follows_the_job(bench: Workbench) -> None:
    bench.bridge.choose("systems.0.air_handler_installed", None)
    panel = panels(bench)[0]
    panel.button.click()
    assert bench.bridge.assessment.systems[0].outcomes[0].reason in texts(panel)
