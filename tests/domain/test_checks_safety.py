"""What was measured before sealing is measured again after it.

Field guides of weatherization programs ask for spillage to be looked at again after air sealing;
read in part, the wording of the rule is the program's own.
"""

from __future__ import annotations

import pytest

from deskapp.domain.checks import check, missing
from deskapp.domain.choices import Stage, YesNo
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.measured import Measured
from deskapp.domain.safety import Safety
from deskapp.domain.trial import LeakageTest, SetUp

ZERO = Measured(si=0.0, unit="ppm", typed="0 ppm")
AFTER = "safety.ambient_co_after"
SEALED = Job(leaks=(Leak(key="l1", repaired=YesNo.YES),))
LEFT = Job(leaks=(Leak(key="l1", repaired=YesNo.NO),))
SECOND = Job(tests=(LeakageTest(key="t1", setup=SetUp(stage=Stage.AFTER_REPAIR)),))
REPEATED = Job(tests=(LeakageTest(key="t1"), LeakageTest(key="t2", retest_of="t1")))


def beside(job: Job, **answers: object) -> Job:
    burning = {"combustion_appliances": YesNo.YES, "ambient_co": ZERO}
    return job.model_copy(update={"safety": Safety.model_validate({**burning, **answers})})


@pytest.mark.parametrize("job", [SEALED, SECOND, REPEATED])
def test_that_a_reading_not_taken_again_after_sealing_is_needed_and_told(job: Job) -> None:
    open_job = beside(job)
    assert AFTER in missing(open_job)
    [finding] = [one for one in check(open_job) if one.code == "safety_again"]
    assert (finding.path, finding.level) == (AFTER, Level.CHECK)
    assert "Carbon monoxide in the room air, after the work" in finding.what
    read_again = beside(job, ambient_co_after=ZERO)
    assert AFTER not in missing(read_again)
    assert "safety_again" not in [one.code for one in check(read_again)]


@pytest.mark.parametrize(
    "job",
    [
        beside(Job()),
        beside(LEFT),
        beside(SEALED, combustion_appliances=YesNo.NO),
        beside(SEALED, ambient_co=None),
    ],
)
def test_that_nothing_is_asked_where_nothing_was_sealed_burns_or_was_measured(job: Job) -> None:
    assert AFTER not in missing(job)
    assert "safety_again" not in [one.code for one in check(job)]
