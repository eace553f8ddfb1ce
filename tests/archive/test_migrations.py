from __future__ import annotations

from deskapp.archive.migrations.registry import CURRENT_VERSION, STEPS, bring_up_to_date


def test_that_a_step_leads_from_every_older_version_to_the_next() -> None:
    assert sorted(STEPS) == list(range(1, CURRENT_VERSION))


def test_that_steps_run_in_order_from_the_version_of_the_file() -> None:
    steps = {
        1: lambda job: {**job, "seen": [*job["seen"], 2]},
        2: lambda job: {**job, "seen": [*job["seen"], 3]},
        3: lambda job: {**job, "seen": [*job["seen"], 4]},
    }
    old = {"seen": []}
    assert bring_up_to_date(old, 2, target=4, steps=steps) == {"seen": [3, 4]}
    assert old == {"seen": []}


def test_that_a_job_of_the_current_version_is_left_alone() -> None:
    assert bring_up_to_date({"number": "J-1"}, CURRENT_VERSION) == {"number": "J-1"}
