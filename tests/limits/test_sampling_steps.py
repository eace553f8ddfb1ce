"""What follows from the log of a sampling plan: qualify, draw, correct, qualify again, done.

Sources: RESNET Standards, chapter 6, sections 602, 605, 607, 608 and 610 (excerpts, text of 2025);
the older rule from a page of 2014 and a rater's page; California's groups from memory, not checked
against the text. Projects are invented.
"""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from sampling_cases import (
    RULES,
    START,
    carried_out,
    check,
    check_drawn,
    plan,
    shipped,
)

from deskapp.domain.sampling import Purpose, SamplingPlan, SamplingRule, UnitCheck
from deskapp.limits.sampling import (
    SamplingProblem,
    repeats,
)
from deskapp.limits.sampling_log import sampling_log
from deskapp.limits.sampling_record import draw_next, record
from deskapp.limits.sampling_steps import StepKind, next_step, progress

CURRENT, OLDER, GROUPS = (shipped(i) for i in ("resnet-2025", "resnet-older", "california-groups"))


# The current rule: five in a row, then a fifth of the rest.


def qualified(units: int = 100, kinds: tuple[str, ...] = ("",)) -> SamplingPlan:
    of = draw_next(plan(CURRENT, units, kinds), 1, START)
    return check_drawn(of, True)


def test_that_five_in_a_row_qualify() -> None:
    first = next_step(plan(CURRENT, 100))
    assert (first.kind, first.count, first.purpose) == (StepKind.DRAW, 5, Purpose.QUALIFY)
    of = qualified()
    step = next_step(of)
    assert (step.kind, step.count, step.purpose) == (StepKind.DRAW, 19, Purpose.SAMPLE)
    assert progress(of).qualified == 5


def test_that_a_miss_while_qualifying_starts_the_row_anew() -> None:
    of = draw_next(plan(CURRENT, 100), 1, START)
    of = check_drawn(of, True, True, True, True, False)
    step = next_step(of)
    assert (step.kind, step.count) == (StepKind.DRAW, 5)
    of = check_drawn(draw_next(of, 2, START), True)
    assert progress(of).qualified == 10
    # the miss is still to be corrected before sampling starts; then 18 of the rest of 90
    assert next_step(of).kind is StepKind.CORRECT
    of = check_drawn(of, True)
    step = next_step(of)
    assert (step.kind, step.count, step.purpose) == (StepKind.DRAW, 18, Purpose.SAMPLE)


def test_that_the_row_must_be_unbroken() -> None:
    of = draw_next(plan(CURRENT, 100), 1, START)
    of = check_drawn(of, True, False, True, True, True)
    step = next_step(of)
    assert (step.kind, step.count) == (StepKind.DRAW, 2)


def sampling_failed() -> tuple[SamplingPlan, str]:
    of = draw_next(qualified(), 3, START)
    third = next_step(of).units[2]
    for unit in next_step(of).units[:2]:
        of = check(of, unit, True)
    return check(of, third, False), third


def test_that_a_failure_stops_sampling_until_three_in_a_row() -> None:
    of, missed = sampling_failed()
    assert progress(of).must_requalify
    step = next_step(of)
    assert (step.kind, step.units) == (StepKind.CORRECT, (missed,))
    of = check(of, missed, False)
    assert next_step(of).kind is StepKind.CORRECT
    of = check(of, missed, True)
    step = next_step(of)
    assert (step.kind, step.count, step.purpose) == (StepKind.DRAW, 3, Purpose.REQUALIFY)
    of = check_drawn(draw_next(of, 4, START), True)
    assert not progress(of).must_requalify
    # three of 19 were counted; the three to qualify again do not count
    assert progress(of).counted == 3
    step = next_step(of)
    assert (step.kind, step.purpose, len(step.units)) == (StepKind.CHECK, Purpose.SAMPLE, 16)
    of = check_drawn(of, True)
    assert next_step(of).kind is StepKind.DONE
    assert progress(of).counted == progress(of).asked == 19


def test_that_a_miss_while_qualifying_again_starts_that_row_anew() -> None:
    of, missed = sampling_failed()
    of = check(of, missed, True)
    of = check_drawn(draw_next(of, 4, START), True, True, False)
    assert next_step(of).kind is StepKind.CORRECT
    of = check_drawn(of, True)
    step = next_step(of)
    assert (step.count, step.purpose) == (3, Purpose.REQUALIFY)


def test_that_checks_before_the_correction_do_not_qualify() -> None:
    of, missed = sampling_failed()
    waiting = next_step(check(of, missed, True)).units[:3]
    for unit in waiting:
        of = check(of, unit, True)  # not drawn, and the failure is still open
    of = check(of, missed, True)
    assert next_step(of).count == 3


def test_that_a_unit_that_was_not_drawn_does_not_count() -> None:
    of = draw_next(qualified(), 3, START)
    drawn = set(next_step(of).units)
    other = next(
        unit.key
        for unit in of.unit_list.units
        if unit.key not in drawn and not of.draw_of(unit.key)
    )
    before = progress(of)
    of = check(of, other, True)
    assert progress(of).counted == before.counted
    assert progress(of).asked == before.asked
    assert sampling_log(of).checks[-1].purpose == "Not drawn, does not count"


def test_that_every_kind_of_unit_is_drawn_once() -> None:
    kinds = ("a", "a", "a", "a", "b", "c", "d")
    for seed in range(20):
        of = draw_next(qualified(20, kinds), seed, START)
        drawn = next_step(of).units
        rest = {unit.kind for unit in of.unit_list.units if not of.draws[0].drawn.count(unit.key)}
        units = [of.unit_list.unit(key) for key in drawn]
        assert {unit.kind for unit in units if unit} == rest


def test_that_a_small_project_is_checked_whole() -> None:
    of = carried_out(plan(CURRENT, 4), lambda _unit, _time: True)
    assert len(of.checks) == 4
    assert "every unit" in next_step(of).text


# The older rule: sets of seven, two more after a miss, then all the rest.


def older_qualified(units: int) -> SamplingPlan:
    of = draw_next(plan(OLDER, units), 1, START)
    assert len(next_step(of).units) == 7
    return check_drawn(of, True)


def test_that_one_of_each_set_of_seven_is_drawn() -> None:
    of = carried_out(plan(OLDER, 7 + 16), lambda _unit, _time: True)
    assert progress(of).asked == progress(of).counted == 3
    assert len(of.checks) == 7 + 3


def test_that_two_more_follow_a_miss_and_can_settle_it() -> None:
    of = check_drawn(draw_next(older_qualified(21), 2, START), False)
    assert next_step(of).kind is StepKind.CORRECT
    of = check_drawn(of, True)
    step = next_step(of)
    assert (step.count, step.purpose, step.set_number) == (2, Purpose.FURTHER, 1)
    of = check_drawn(draw_next(of, 3, START), True)
    assert next_step(of).set_number == 2


def test_that_a_second_miss_asks_for_all_the_rest_of_the_set() -> None:
    of = check_drawn(draw_next(older_qualified(21), 2, START), False)
    of = check_drawn(of, True)
    of = check_drawn(draw_next(of, 3, START), True, False)
    of = check_drawn(of, True)
    step = next_step(of)
    assert (step.kind, step.count, step.purpose) == (StepKind.DRAW, 4, Purpose.WHOLE_SET)
    of = check_drawn(draw_next(of, 4, START), True)
    assert next_step(of).set_number == 2


def test_that_the_last_set_may_be_small() -> None:
    of = check_drawn(draw_next(older_qualified(8), 2, START), False)
    of = check_drawn(of, True)
    assert next_step(of).kind is StepKind.DONE


def test_that_a_unit_checked_without_a_draw_does_not_settle_its_set() -> None:
    of = older_qualified(14)
    extra = next_step(of).units[0]
    of = check(of, extra, True)
    assert next_step(of).kind is StepKind.DRAW
    assert extra not in next_step(of).units


# California: the whole group after a miss, from memory.


def test_that_a_group_is_checked_whole_after_a_miss() -> None:
    of = plan(GROUPS, 10)
    step = next_step(of)
    assert (step.count, len(step.units), step.set_number) == (1, 7, 1)
    of = check_drawn(draw_next(of, 1, START), False)
    of = check_drawn(of, True)
    step = next_step(of)
    assert (step.count, step.purpose) == (6, Purpose.WHOLE_SET)
    of = check_drawn(draw_next(of, 2, START), True)
    step = next_step(of)
    assert (step.count, len(step.units), step.set_number) == (1, 3, 2)


# All rules


@settings(max_examples=60)
@given(
    rule=st.sampled_from(RULES),
    units=st.integers(1, 60),
    kinds=st.integers(1, 4),
    misses=st.sets(st.integers(1, 60), max_size=20),
    seed=st.integers(0, 10**9),
)
def test_that_every_plan_comes_to_an_end_with_all_misses_corrected(
    rule: SamplingRule, units: int, kinds: int, misses: set[int], seed: int
) -> None:
    of = carried_out(
        plan(rule, units, tuple("abcd"[:kinds])),
        lambda unit, time: time > 1 or int(unit[1:]) not in misses,
        seed,
    )
    done = progress(of)
    assert done.not_met == ()
    assert all(repeats(draw, of) for draw in of.draws)
    checked = {one.unit for one in of.checks}
    if len(checked) < units:
        assert done.is_qualified
        assert done.counted >= done.asked
        assert not done.must_requalify
    drawn = [key for draw in of.draws for key in draw.drawn]
    assert len(drawn) == len(set(drawn))
    assert SamplingPlan.model_validate_json(of.model_dump_json()) == of


@given(misses=st.sets(st.integers(1, 40), max_size=10), extra=st.integers(1, 40))
def test_that_one_more_miss_never_means_fewer_units_checked_in_groups(
    misses: set[int], extra: int
) -> None:
    def checked(bad: set[int]) -> int:
        of = carried_out(plan(GROUPS, 40), lambda unit, time: time > 1 or int(unit[1:]) not in bad)
        return len({one.unit for one in of.checks})

    assert checked(misses | {extra}) >= checked(misses)


def test_that_a_draw_is_refused_where_none_is_due() -> None:
    of = draw_next(plan(CURRENT, 20), 1, START)
    with pytest.raises(SamplingProblem, match="Nothing is to be drawn now"):
        draw_next(of, 2, START)


def test_that_a_check_that_cannot_be_is_refused_with_a_reason() -> None:
    of = draw_next(plan(CURRENT, 20), 1, START)
    unit = next_step(of).units[0]
    with pytest.raises(SamplingProblem, match="not in the list"):
        record(of, UnitCheck(unit="nobody", met=True, checked_on=START))
    with pytest.raises(
        SamplingProblem, match="cannot have been checked on Mar\N{NO-BREAK SPACE}1, 2026"
    ):
        record(of, UnitCheck(unit=unit, met=True, checked_on=START.replace(day=1)))
    of = check(of, unit, True)
    with pytest.raises(SamplingProblem, match="needs no further check"):
        check(of, unit, True)


def test_that_a_list_without_units_asks_for_them() -> None:
    step = next_step(plan(CURRENT, 0))
    assert step.kind is StepKind.DONE
    assert "Enter them first" in step.text
    assert not sampling_log(plan(CURRENT, 0)).is_done


def test_that_the_log_tells_all_that_must_be_kept() -> None:
    of, missed = sampling_failed()
    of = check(of, missed, True)
    log = sampling_log(of)
    facts = {fact.label: fact.text for fact in log.facts}
    assert facts["Units"] == "100"
    assert facts["Asked for"] == "19"
    assert facts["Keep this log for"] == "3 years"
    assert "The text of the code was read" in facts["How well it is known"]
    assert "sampling" in facts["Statement"]
    assert [row.number for row in log.checks] == list(range(1, len(of.checks) + 1))
    last, before = log.checks[-1], log.checks[-2]
    assert (before.met, before.outcome, before.again) == (False, "not met", False)
    assert (last.met, last.outcome, last.again) == (True, "met", True)
    assert last.unit == before.unit == f"Unit {missed[1:]}"
    assert last.threshold == "at most 40 cfm at 25 Pa"
    assert [draw.seed for draw in log.draws] == [1, 3]
    assert all(draw.repeats for draw in log.draws)
    assert len(log.draws[1].pool) == 95
    assert not log.is_done


def test_that_a_draw_that_was_changed_by_hand_is_found_out() -> None:
    of = draw_next(plan(CURRENT, 20), 1, START)
    (draw,) = of.draws
    other = next(key for key in draw.pool if key not in draw.drawn)
    forged = draw.model_copy(update={"drawn": (other, *draw.drawn[1:])})
    assert not sampling_log(of.model_copy(update={"draws": (forged,)})).draws[0].repeats
