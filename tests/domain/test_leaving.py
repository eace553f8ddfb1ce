"""What was changed on arrival, put back, explained, and closed. Invented data."""

from __future__ import annotations

import pytest

from deskapp.domain.arrival import ArrivalItem, Leaving
from deskapp.domain.choices import YesNo
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.leaving import (
    closed,
    consistent,
    is_closed,
    leaving_findings,
    left_sealed,
    unsettled,
    why_unsettled,
)
from deskapp.domain.measured import Measured
from deskapp.domain.safety import Safety
from deskapp.domain.trial import LeakageTest, Reading, SetUp
from deskapp.domain.vocabulary import ArrivalThing

THINGS = (
    ArrivalThing(id="burners", label="Burners", grave=True, source="s", status="memory"),
    ArrivalThing(id="filter", label="Filter", source="s", status="memory"),
)
TESTED = LeakageTest(key="t1", readings=(Reading(duct_pressure=Measured(si=-25.0, unit="Pa")),))


def seals(count: float) -> Measured:
    return Measured(si=count, unit="1", typed=f"{count:g}")


def item(**given: object) -> ArrivalItem:
    return ArrivalItem(**{"key": "a1", "what": "Filter", **given})


def job_of(*items: ArrivalItem, tested: bool = True) -> Job:
    return Job(arrival=items, tests=(TESTED,) if tested else ())


@pytest.mark.parametrize(
    ("row", "settled"),
    [
        (item(), False),
        (item(changed=YesNo.NO), True),
        (item(changed=YesNo.YES), False),
        (item(changed=YesNo.YES, undone=YesNo.NO), False),
        (item(changed=YesNo.YES, undone=YesNo.YES), True),
        (item(changed=YesNo.YES, explained="Left off, owner told"), True),
        (item(changed=YesNo.YES, explained="   "), False),
        (item(seals_on=seals(12)), False),
        (item(seals_on=seals(12), undone=YesNo.YES), False),
        (item(seals_on=seals(12), undone=YesNo.YES, seals_off=seals(11)), False),
        (item(seals_on=seals(12), undone=YesNo.YES, seals_off=seals(13)), False),
        (item(seals_on=seals(12), undone=YesNo.YES, seals_off=seals(12)), True),
        (item(seals_on=seals(12), undone=YesNo.YES, explained="One lost in the duct"), True),
        (item(seals_on=seals(0), changed=YesNo.NO), True),
    ],
)
def test_that_a_row_is_settled_when_put_back_or_explained(row: ArrivalItem, settled: bool) -> None:
    assert row.is_settled is settled
    assert (next(unsettled(job_of(row)), None) is None) is settled


def test_that_seals_that_differ_are_counted_out() -> None:
    row = item(seals_on=seals(12), undone=YesNo.YES, seals_off=seals(11))
    assert why_unsettled(row) == "12 seals put on, 11 taken off"


@pytest.mark.parametrize(
    ("thing", "level"), [("burners", "stop"), ("filter", "check"), ("", "check")]
)
def test_that_what_can_hurt_someone_is_a_stop_and_all_else_a_check(thing: str, level: str) -> None:
    row = item(item=thing, changed=YesNo.YES)
    (finding,) = leaving_findings(job_of(row), THINGS)
    assert finding.level == level
    assert finding.path == "arrival.0.undone"
    assert finding.mend
    assert list(leaving_findings(job_of(row, tested=False), THINGS)) == [], "before a fan has run"
    told = row.model_copy(update={"explained": "Off until the technician comes, owner told"})
    assert {one.code for one in leaving_findings(job_of(told), THINGS)} == {"leaving_open"}


def test_that_a_list_that_is_not_closed_is_asked_about_once() -> None:
    job = job_of(item(changed=YesNo.NO))
    assert [one.code for one in leaving_findings(job, THINGS)] == ["leaving_open"]
    done = closed(job, "Kim Example", "2026-03-11T15:20")
    assert list(leaving_findings(done, THINGS)) == []
    assert list(leaving_findings(job_of(), THINGS)) == []


def test_that_a_row_in_which_nothing_stands_neither_opens_nor_begins_a_list() -> None:
    blank = ArrivalItem(key="a9")
    shut = closed(job_of(item(changed=YesNo.NO)), "Kim Example", "2026-03-11T15:20")
    more = shut.model_copy(update={"arrival": (*shut.arrival, blank)})
    assert is_closed(consistent(shut, more))
    assert list(leaving_findings(more, THINGS)) == []
    assert list(leaving_findings(job_of(blank), THINGS)) == []
    named = blank.model_copy(update={"what": "Attic ladder"})
    assert not is_closed(consistent(more, more.model_copy(update={"arrival": (named,)})))


def test_that_closing_says_who_and_when_and_whether_all_was_put_back() -> None:
    whole = closed(job_of(item(changed=YesNo.YES, undone=YesNo.YES)), "Kim", "2026-03-11T15:20")
    assert whole.leaving == Leaving(closed_by="Kim", closed_at="2026-03-11T15:20")
    assert whole.safety.equipment_restored is YesNo.YES
    part = closed(job_of(item(changed=YesNo.YES, explained="Off")), "Kim", "2026-03-11T15:20")
    assert part.safety.equipment_restored is YesNo.NO


def test_that_a_change_after_closing_opens_the_list_again() -> None:
    before = closed(job_of(item(changed=YesNo.NO)), "Kim", "2026-03-11T15:20")
    other = before.model_copy(update={"comments": "Warm day"})
    assert consistent(before, other) is other
    row = before.arrival[0].model_copy(update={"changed": YesNo.YES})
    after = consistent(before, before.model_copy(update={"arrival": (row,)}))
    assert not is_closed(after)
    assert after.leaving == Leaving()
    assert after.safety.equipment_restored is None


REGISTERS = ArrivalThing(
    id="registers",
    label="Registers sealed",
    seals=("tests.*.setup.supplies_sealed", "tests.*.setup.returns_sealed"),
    source="s",
    status="memory",
)
VENTS = ArrivalThing(
    id="vents",
    label="Fresh air",
    grave=True,
    seals=("tests.*.setup.fresh_air_sealed",),
    source="s",
    status="memory",
)


def sealed_test(system: str, supplies: float, returns: float, **others: object) -> LeakageTest:
    setup = SetUp(supplies_sealed=seals(supplies), returns_sealed=seals(returns), **others)
    return LeakageTest(key=f"t{system}{supplies}", system=system, setup=setup)


@pytest.mark.parametrize(
    ("row", "told"),
    [
        (item(item="registers", changed=YesNo.NO), "not listed as changed, but 15 were sealed"),
        (item(item="filter", changed=YesNo.NO), "not listed as changed, but 15 were sealed"),
        (item(item="registers", seals_on=seals(12)), "only 12 seals are listed, but 15 were put"),
        (item(item="registers", seals_on=seals(15)), ""),
        (item(item="registers", changed=YesNo.YES), ""),
        (item(item="registers", changed=YesNo.NO, explained="New film stays on"), ""),
    ],
)
def test_that_registers_sealed_for_tests_are_asked_for(row: ArrivalItem, told: str) -> None:
    # 8 + 1 on the first system, 6 + 0 on the second; the retest seals the same ones again.
    tests = (sealed_test("s1", 8, 1), sealed_test("s2", 6, 0), sealed_test("s1", 8, 0))
    found = tuple(left_sealed(Job(arrival=(row,), tests=tests), (REGISTERS,)))
    assert [told in one.what for one in found] == ([True] if told else [])
    assert all(one.level is Level.CHECK for one in found)


def test_that_a_vent_left_sealed_is_grave() -> None:
    job = Job(arrival=(item(),), tests=(sealed_test("s1", 0, 0, fresh_air_sealed=YesNo.YES),))
    (found,) = left_sealed(job, (REGISTERS, VENTS))
    assert (found.level, found.path) == (Level.STOP, "arrival")
    assert (
        found.what
        == "Fresh air: not listed as changed, but a test tells of it: Fresh-air duct sealed."
    )


def test_that_a_yes_by_hand_goes_when_a_list_is_begun_after_it() -> None:
    vouched = Job(safety=Safety(equipment_restored=YesNo.YES))
    row = item(changed=YesNo.YES)
    begun = consistent(vouched, vouched.model_copy(update={"arrival": (row,)}))
    assert begun.safety.equipment_restored is None
    by_hand = begun.model_copy(update={"safety": Safety(equipment_restored=YesNo.YES)})
    assert consistent(begun, by_hand) is by_hand, "it may be given again"
    ticked = row.model_copy(update={"undone": YesNo.YES})
    after = consistent(by_hand, by_hand.model_copy(update={"arrival": (ticked,)}))
    assert after.safety.equipment_restored is None, "and goes again when a row changes"


def test_that_a_closed_list_opens_again_when_a_test_seals_something() -> None:
    shut = closed(job_of(item(changed=YesNo.NO)), "Kim Example", "2026-04-09T15:20")
    again = shut.model_copy(update={"tests": (*shut.tests, sealed_test("s1", 8, 1))})
    assert not consistent(shut, again).leaving.closed_by
    plain = shut.model_copy(update={"tests": (*shut.tests, LeakageTest(key="t9"))})
    assert consistent(shut, plain).leaving.closed_by


FILTER = ArrivalThing(
    id="filter",
    label="Filter",
    seals=("tests.*.setup.filter_removed",),
    source="s",
    status="memory",
)


def test_that_a_yes_without_a_list_is_asked_about_where_tests_tell_of_changes() -> None:
    tested = sealed_test("s1", 8, 1, filter_removed=YesNo.YES)
    job = Job(tests=(tested.model_copy(update={"readings": TESTED.readings}),))
    things = (REGISTERS, FILTER, VENTS)
    assert list(leaving_findings(job, things)) == [], "nobody has vouched for anything yet"
    vouched = job.model_copy(update={"safety": Safety(equipment_restored=YesNo.YES)})
    (found,) = leaving_findings(vouched, things)
    assert (found.code, found.level, found.path) == ("vouched_without_list", "check", "arrival")
    assert "other entries tell of: Registers sealed (9); Filter." in found.what
    honest = job.model_copy(update={"safety": Safety(equipment_restored=YesNo.NO)})
    assert list(leaving_findings(honest, things)) == []
    unread = vouched.model_copy(update={"tests": (tested,)})
    assert [one.code for one in leaving_findings(unread, things)] == ["vouched_without_list"]
    off = Safety(equipment_restored=YesNo.YES, burners_off=YesNo.YES)
    (burners,) = leaving_findings(Job(safety=off), things)
    assert "tell of: Burners off during the test." in burners.what
    untold = vouched.model_copy(update={"tests": (TESTED,)})
    assert list(leaving_findings(untold, things)) == [], "the tests tell of no change"


def test_that_a_filter_taken_out_opens_a_closed_list_again_and_is_asked_for() -> None:
    shut = closed(job_of(item(item="filter", changed=YesNo.NO)), "Kim", "2026-04-09T15:20")
    test = LeakageTest(key="t9", setup=SetUp(filter_removed=YesNo.YES))
    again = shut.model_copy(update={"tests": (*shut.tests, test)})
    assert not consistent(shut, again).leaving.closed_by
    (found,) = left_sealed(again, (FILTER,))
    assert found.what == "Filter: not listed as changed, but a test tells of it: Filter taken out."


def test_that_a_thing_cannot_count_seals_in_a_field_that_is_not_of_a_test() -> None:
    with pytest.raises(ValueError, match=r"safety\.gas_smell"):
        ArrivalThing(id="x", label="x", seals=("safety.gas_smell",), source="s", status="memory")
