"""The result page and the live result tell how sure a result is, and what else a test gave."""

from __future__ import annotations

import pytest
from PySide6.QtWidgets import QLabel, QWidget

from deskapp.domain.result import LimitOutcome, SystemResult, Verdict
from deskapp.domain.result_parts import BudgetOf, CurvePoint, CurveResult, SidesResult
from deskapp.session.outcome_words import outcome_words
from deskapp.session.resources import Shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.ui.fold import Fold
from deskapp.ui.furnish import Furniture
from deskapp.ui.outcome_signs import close_words, sign_of, system_sign_of
from deskapp.ui.pages.budget_block import BudgetTable, ShareBar
from deskapp.ui.pages.curve_block import CurveBlock
from deskapp.ui.pages.curve_plot import CurvePlot
from deskapp.ui.pages.more_results import SidesBlock
from deskapp.ui.pages.owner_block import OwnerBlock
from deskapp.ui.pages.result_parts import OutcomeBlock, how_sure
from deskapp.ui.result_pane import ResultPane
from deskapp.ui.system_card import Detail, SystemCard
from deskapp.ui.workbench import Workbench
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle

FORMATTER = Formatter(UnitSystem.IP, NumberStyle.POINT)


def texts(widget: QWidget) -> str:
    return "\n".join(label.text() for label in widget.findChildren(QLabel))


def outcome(**more: object) -> LimitOutcome:
    known: dict[str, object] = {
        "limit": "k1",
        "test": "t1",
        "edition": "An invented code",
        "body": "An invented body",
        "verdict": Verdict.PASS,
        "measured": 32.7,
        "limit_value": 33.6,
        "margin": 0.9,
        "unit": "cfm",
    }
    return LimitOutcome.model_validate({**known, **more})


def sample(furniture: Furniture, shelf: Shelf, name: str) -> Workbench:
    furniture.files.show(open_sample(name, shelf, Preferences()))
    assert furniture.bench is not None
    furniture.bench.show_page("result")
    return furniture.bench


def test_that_a_close_call_is_remarked_with_its_probability_and_stays_a_pass(
    bench: Workbench,
) -> None:
    close = outcome(uncertainty=4.3, probability=0.65, too_close=True, remark="Too close to call.")
    card = SystemCard()
    system = SystemResult(system="s1", name="Attic", outcomes=(close,), verdict=Verdict.PASS)
    card.show_system(system, bench.bridge.formatter, Detail.FULL)
    assert card.verdict == "Pass"
    said = texts(card)
    assert "± 4.3\N{NO-BREAK SPACE}cfm" in said
    assert close_words(close, FORMATTER) in said
    assert "65%" in close_words(close, FORMATTER)
    words = outcome_words(close, FORMATTER)
    assert words is not None
    assert words.unsure == "± 4.3\N{NO-BREAK SPACE}cfm"


def test_that_both_places_that_tell_how_sure_a_result_is_tell_what_that_counts(
    bench: Workbench,
) -> None:
    by_area = {"uncertainty_of": BudgetOf.PER_AREA, "unit": "cfm/100ft2"}
    per_area = outcome(uncertainty=0.5, flow_uncertainty=0.3, **by_area)
    adds_nothing = outcome(uncertainty=0.5, flow_uncertainty=0.5, **by_area)
    of_flow = outcome(uncertainty=4.3, uncertainty_of=BudgetOf.FLOW)
    words = "The ± counts the floor area too; for the flow alone it is ± 0.30"
    for one, is_told in ((per_area, True), (adds_nothing, False), (of_flow, False)):
        card = SystemCard()
        system = SystemResult(system="s1", name="Attic", outcomes=(one,), verdict=Verdict.PASS)
        card.show_system(system, bench.bridge.formatter, Detail.FULL)
        assert (words in texts(card)) is is_told
        card.show_system(system, bench.bridge.formatter, Detail.BRIEF)
        assert (words in card.toolTip()) is is_told
        block = texts(OutcomeBlock(one, FORMATTER))
        assert (words in block) is is_told
        assert ("counts" in block) is is_told
    result = bench.bridge.assessment.tests[0]
    assert next(label for label, _text in how_sure(result, FORMATTER)).startswith(
        "Uncertainty of the flow alone"
    )


def test_that_each_card_names_the_edition_it_is_judged_by(bench: Workbench) -> None:
    """A card is read by itself, and looked at alone where the panel scrolls."""
    pane = ResultPane(bench.bridge)
    first, second = (texts(card) for card in pane.cards)
    edition = bench.bridge.assessment.systems[1].outcomes[0].edition
    rule = bench.bridge.assessment.systems[1].outcomes[0].rule_text
    assert edition in first
    assert edition in second
    assert rule.split()[0] in second


def test_that_a_test_nobody_asks_for_is_waived_and_not_passed() -> None:
    waived = outcome(
        test="", verdict=Verdict.NONE, measured=None, limit_value=None, margin=None, waiver="Short."
    )
    tested = outcome(waiver="Short.")
    assert sign_of(waived)[1] == "Waived"
    assert sign_of(tested)[1] == "Pass"
    system = SystemResult(system="s1", name="Attic", outcomes=(waived,))
    assert system_sign_of(system)[1] == "Waived"
    mixed = system.model_copy(update={"outcomes": (waived, tested), "verdict": Verdict.PASS})
    assert system_sign_of(mixed)[1] == "Pass"


def test_that_the_budget_is_folded_away_and_tells_each_share_and_the_sum(bench: Workbench) -> None:
    bench.show_page("result")
    result = bench.bridge.assessment.tests[0]
    assert result.budget is not None
    table = BudgetTable(result.budget, FORMATTER)
    said = texts(table)
    for row in result.budget.rows:
        assert row.label in said
        assert FORMATTER.show(Kind.FRACTION, row.share, digits=1) in said
    assert FORMATTER.show(Kind.FLOW, result.budget.expanded, digits=2) in said
    assert len(table.findChildren(ShareBar)) == len(result.budget.rows)
    folds = [f for f in bench.page.findChildren(Fold) if "uncertainty" in f.button.text()]
    assert folds
    assert not folds[0].body.isVisible()
    folds[0].button.click()
    assert folds[0].body.isVisible()


def test_that_a_curve_is_drawn_with_its_figures_and_stray_points_are_named() -> None:
    points = tuple(
        CurvePoint(
            reading=at,
            pressure=float(10 + 10 * at),
            flow=0.01 * (1 + at),
            curve_flow=0.01 * (1 + at),
            residual_percent=4.8 if at == 3 else 0.1,
            is_off=at == 3,
        )
        for at in range(5)
    )
    curve = CurveResult(
        coefficient=0.002,
        exponent=0.62,
        exponent_low=0.57,
        exponent_high=0.67,
        r_squared=0.995,
        target_pressure=25.0,
        flow_at_target=0.015,
        points=points,
    )
    block = CurveBlock(curve, FORMATTER)
    block.resize(600, 500)
    assert not block.grab().isNull()
    said = texts(block)
    assert "0.620   (0.570 to 0.670)" in said
    assert "0.99500" in said
    assert "reading 4 lies 4.8% off the curve" in said
    (plot,) = block.findChildren(CurvePlot)
    assert plot.accessibleDescription().count("reading") == len(points)


@pytest.mark.parametrize("flows", [(0.0, 0.0), (1e-9, 1e9), (0.01, 0.01)])
def test_that_a_curve_of_absurd_points_is_drawn_without_trouble(
    flows: tuple[float, float],
) -> None:
    points = tuple(
        CurvePoint(reading=at, pressure=25.0, flow=flow, curve_flow=flow, residual_percent=0.0)
        for at, flow in enumerate(flows)
    )
    plot = CurvePlot(CurveResult(coefficient=0.001, exponent=0.6, points=points), FORMATTER)
    plot.resize(300, 200)
    assert not plot.grab().isNull()


@pytest.mark.parametrize(("agrees", "words"), [(True, "add up"), (False, "do not add up")])
def test_that_both_sides_are_added_up_and_compared_with_the_whole(agrees: bool, words: str) -> None:
    sides = SidesResult(
        target_pressure=25.0,
        supply_test="t1",
        return_test="t2",
        supply=0.0072,
        returns=0.0049,
        sum=0.0121,
        total_test="t3",
        total=0.0154,
        difference=-0.0033,
        allowed=0.0016,
        agrees=agrees,
    )
    said = texts(SidesBlock(sides, FORMATTER))
    for flow in (0.0072, 0.0049, 0.0121, 0.0154):
        assert FORMATTER.show(Kind.FLOW, flow) in said
    assert words in said


def test_that_the_owner_is_told_shares_costs_as_a_range_and_every_assumption(
    furniture: Furniture, shelf: Shelf
) -> None:
    bench = sample(furniture, shelf, "maple")
    owner = bench.bridge.assessment.systems[0].owner
    assert owner is not None
    assert owner.now is not None
    assert owner.now.heating is not None
    assert owner.cost_low is not None
    block = OwnerBlock(owner, FORMATTER)
    said = texts(block)
    assert FORMATTER.show(Kind.FRACTION, owner.now.heating) in said
    assert FORMATTER.number(owner.cost_low, 0) in said
    for one in owner.assumptions:
        assert one.label in said


def test_that_duct_classes_are_named_with_their_standard(
    furniture: Furniture, shelf: Shelf
) -> None:
    bench = sample(furniture, shelf, "clinic")
    said = texts(bench.page)
    classes = bench.bridge.assessment.tests[0].classes
    assert classes
    for one in classes:
        assert f"{one.standard}" in said
        assert one.name in said


def test_that_no_card_of_the_live_result_is_wider_than_its_pane(
    furniture: Furniture, shelf: Shelf
) -> None:
    for name in ("larkspur", "maple", "crossover"):
        bench = sample(furniture, shelf, name)
        bench.window().resize(1280, 800)
        if not bench.result.is_flat:
            inside = bench.result.widget()
            assert inside.minimumSizeHint().width() <= bench.result.viewport().width()
