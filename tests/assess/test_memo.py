"""A memo saves work and changes nothing: any row of edits, with it and without it."""

from __future__ import annotations

from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from multi import flow_readings, job_of, made_test
from test_bad_input import FULL
from typed import pa, two_systems

from deskapp.assess.evaluate import evaluate
from deskapp.assess.memo import KEPT_FOR, Memo
from deskapp.domain.choices import Metric
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.paths import expand, get, put
from deskapp.i18n import speaking

JOBS = (FULL, two_systems(retested=True))
LISTS = ("systems", "tests")
SPELLED = (None, Measured(si=None, typed="about ten"), Measured(si=1e9, typed="1e9"))


def answers() -> list[tuple[str, Any]]:
    """Every place that holds a quantity or a choice, with something else to stand there."""
    found: list[tuple[str, Any]] = []
    for field in FIELDS:
        for path in {path for job in JOBS for path, _value in expand(job, field.path)}:
            if field.form is Form.QUANTITY:
                found += [(path, value) for value in SPELLED]
                found += [(path, factor) for factor in (0.5, 0.99, 1.01, 2.0)]
            elif field.choices is not None:
                found += [(path, answer) for answer in field.choices]
    return sorted(found, key=repr)


ANSWERS = answers()


def edited(job: Job, path: str, answer: Any) -> Job:
    """The job with another answer; a factor stands for the same quantity so many times."""
    try:
        old = get(job, path)
    except KeyError:
        return job
    if isinstance(answer, float):
        si = old.si if isinstance(old, Measured) else None
        answer = None if si is None else Measured(si=si * answer, typed=f"{si * answer:.9g}")
    return put(job, path, answer)


def turned(job: Job, path: str, by: int) -> Job:
    """The job with the rows of a list turned, or without the last of them."""
    rows = get(job, path)
    return put(job, path, rows[:-1] if by == 0 else (*rows[by:], *rows[:by]))


change = st.one_of(
    st.tuples(st.just(edited), st.sampled_from(ANSWERS)),
    st.tuples(st.just(turned), st.tuples(st.sampled_from(LISTS), st.sampled_from((0, 1, 1, 2)))),
)


@settings(max_examples=60, deadline=None)
@given(
    job=st.sampled_from(JOBS),
    changes=st.lists(st.tuples(change, st.sampled_from(("en", "en", "es"))), max_size=6),
)
def test_that_a_memo_changes_no_result(job: Job, changes: list[Any]) -> None:
    memo, before = Memo(), job
    for (how, what), tongue in changes:
        before, job = job, how(job, *what)
        for one in (job, before, job):
            with speaking(tongue):
                assert evaluate(one, memo) == evaluate(one)


def test_that_every_single_answer_is_noticed() -> None:
    for job in JOBS:
        memo = Memo()
        evaluate(job, memo)
        for path, answer in ANSWERS[::7]:
            other = edited(job, path, answer)
            assert evaluate(other, memo) == evaluate(other), path


def test_that_a_test_follows_the_total_beside_it() -> None:
    tests = (
        made_test(flow_readings("25", "40"), "t1"),
        made_test(flow_readings("25", "30"), "t2", metric=Metric.OUTSIDE),
    )
    memo, job = Memo(), job_of(*tests)
    evaluate(job, memo)
    less = put(job, "tests.0.readings", flow_readings("25", "20"))
    assessment = evaluate(less, memo)
    assert assessment.tests[1].refused
    assert assessment == evaluate(less)


def test_that_the_words_follow_the_language() -> None:
    memo, job = Memo(), two_systems(retested=True)
    english = evaluate(job, memo)
    with speaking("es"):
        spanish = evaluate(job, memo)
        assert spanish == evaluate(job)
    assert spanish.systems[0].outcomes != english.systems[0].outcomes


def test_that_only_what_changed_is_worked_out_again() -> None:
    memo, job = Memo(), two_systems(retested=False)
    before = evaluate(job, memo)
    after = evaluate(put(job, "tests.1.readings.0.duct_pressure", pa("-25.6")), memo)
    assert after.tests[0] is before.tests[0]
    assert after.tests[1] != before.tests[1]
    assert after.systems[1] != before.systems[1]
    assert evaluate(job, memo) == before


def test_that_a_memo_holds_no_more_than_the_last_evaluations_used() -> None:
    calls: list[str] = []

    def work(name: str) -> str:
        calls.append(name)
        return name

    memo, part = Memo(), object()
    for name in ("one", *["other"] * (KEPT_FOR - 1), "one", *["other"] * KEPT_FOR, "one"):
        memo.begin()
        assert memo.kept(name, (part,), lambda name=name: work(name)) == name
    assert calls == ["one", "other", "one"]


def test_that_a_text_made_anew_is_the_same_part_and_an_equal_record_is_not() -> None:
    memo, row = Memo(), Measured(si=1.0)
    memo.begin()
    kept = memo.kept("it", ("".join(("a", "b")), 1, row), object)
    assert memo.kept("it", ("".join(("a", "b")), 1, row), object) is kept
    assert memo.kept("it", ("".join(("a", "b")), 1, row.model_copy()), object) is not kept


def test_that_looking_again_at_an_old_row_finds_its_readings() -> None:
    memo, job = Memo(), two_systems(retested=False)
    paths = [f"tests.{at}.readings.0.duct_pressure" for at in (0, 1)]
    job = put(put(job, paths[0], pa("-25.1")), paths[1], pa("-25.2"))
    before = evaluate(job, memo).tests
    for path in paths:
        job = put(job, path, pa("-25.6"))
        evaluate(job, memo)
    after = evaluate(put(job, paths[0], pa("-25.1")), memo).tests
    assert len(before[0].readings) > 1
    assert after[0].readings[1] is before[0].readings[1]
