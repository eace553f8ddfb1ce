"""Jobs saved by earlier versions of the format open forever, with the result they had then.

These files are never made anew. A new version of the format adds a folder with a file of its own.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.archive import job_file
from deskapp.archive.migrations.registry import CURRENT_VERSION
from deskapp.assess.evaluate import evaluate
from deskapp.domain.result import Verdict
from deskapp.units.convert import to_unit

OLD_JOBS = Path(__file__).with_name("old_jobs")
FILES = sorted(OLD_JOBS.glob("v*/*.ductjob"))


def test_that_there_is_an_old_job_for_every_version() -> None:
    versions = {path.parent.name for path in FILES}
    assert versions == {f"v{number}" for number in range(1, CURRENT_VERSION + 1)}


@pytest.mark.parametrize("path", FILES, ids=lambda path: f"{path.parent.name}-{path.stem}")
def test_that_an_old_job_opens_whole_and_saves_again(path: Path, tmp_path: Path) -> None:
    old = job_file.read(path)
    assert old.notices == ()
    assert set(old.photos) == old.job.photo_digests
    job_file.write(tmp_path / "again.ductjob", old.job, old.photos)
    again = job_file.read(tmp_path / "again.ductjob")
    assert (again.job, again.photos) == (old.job, old.photos)


def test_that_the_job_of_version_1_still_says_what_it_said() -> None:
    job = job_file.read(OLD_JOBS / "v1" / "two_systems.ductjob").job
    assert job.number == "J-0001"
    assert [system.name for system in job.systems] == ["System 1", "System 2"]
    assert job.tests[0].readings[0].duct_pressure is not None
    assert job.tests[0].readings[0].duct_pressure.typed == "-25.1 Pa"
    assert job.leaks[0].photos[0].caption == "An old picture"
    assert job.compliance.limits[0].edition.id == "iecc-2021"


def test_that_the_job_of_version_1_keeps_its_verdict_whatever_limits_ship_today() -> None:
    assessment = evaluate(job_file.read(OLD_JOBS / "v1" / "two_systems.ductjob").job)
    flows = [round(to_unit(test.flow or 0.0, "cfm"), 1) for test in assessment.tests]
    assert flows == [54.2, 39.0, 29.7]
    assert assessment.verdict is Verdict.PASS
