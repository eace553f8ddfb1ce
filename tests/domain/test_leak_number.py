from __future__ import annotations

from deskapp.domain.job import Job
from deskapp.domain.leak import Leak

# Invented rows: an empty one between two that say something.
JOB = Job(
    leaks=(
        Leak(key="l1", place="Boot in the hall"),
        Leak(key="l2"),
        Leak(key="l3", place="Take-off by the stairs"),
    )
)


def test_that_leaks_are_numbered_in_order_without_empty_rows() -> None:
    numbers = {leak.key: JOB.leak_number(leak.key) for leak in JOB.leaks}
    assert numbers == {"l1": 1, "l2": None, "l3": 2}


def test_that_the_number_is_the_position_in_the_list_of_leaks_found() -> None:
    for number, leak in enumerate(JOB.leaks_found, 1):
        assert JOB.leak_number(leak.key) == number


def test_that_an_unknown_leak_has_no_number() -> None:
    assert JOB.leak_number("elsewhere") is None
