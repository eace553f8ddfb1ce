"""Days that lie ahead, and pictures older than the job. Common practice, no source."""

from __future__ import annotations

from datetime import date

import pytest

from deskapp.domain.checks import check
from deskapp.domain.checks_clock import days_ahead, old_photos
from deskapp.domain.instrument import Fan, Gauge
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak, Photo
from deskapp.domain.measured import Day
from deskapp.domain.people import Tester
from deskapp.domain.repair import Rereading
from deskapp.domain.site import Site
from deskapp.domain.trial import LeakageTest

TODAY = date(2026, 3, 11)


def day(text: str) -> Day:
    return Day(value=date.fromisoformat(text), typed=text)


def all_on(text: str) -> Job:
    on = day(text)
    return Job(
        tests=(LeakageTest(key="t1", tested_on=on),),
        leaks=(Leak(key="l1", repaired_on=on),),
        rereadings=(Rereading(key="q1", test="t1", read_on=on),),
        gauges=(Gauge(key="g1", calibrated_on=on, due_on=day("2030-01-01")),),
        fans=(Fan(key="f1", calibrated_on=on, due_on=day("2030-01-01")),),
        site=Site(permit_date=on),
        tester=Tester(signed_on=on, certification_expires=day("2030-01-01")),
    )


def test_that_what_is_done_cannot_lie_ahead_while_what_is_due_may() -> None:
    assert list(days_ahead(all_on("2026-03-11"), TODAY)) == []
    found = list(days_ahead(all_on("2026-03-12"), TODAY))
    assert {one.path for one in found} == {
        "tests.0.tested_on",
        "leaks.0.repaired_on",
        "rereadings.0.read_on",
        "gauges.0.calibrated_on",
        "fans.0.calibrated_on",
        "tester.signed_on",
        "site.permit_date",
    }
    assert (
        "Mar\N{NO-BREAK SPACE}12, 2026, and today is Mar\N{NO-BREAK SPACE}11, 2026" in found[0].what
    )


def pictured(taken: str, *, permit: str = "", tested: str = "2026-03-11") -> Job:
    photo = Photo(digest="d", name="front.jpg", taken=taken)
    return Job(
        photos=(photo,),
        leaks=(Leak(key="l1", photos=(photo,)),),
        tests=(LeakageTest(key="t1", tested_on=day(tested) if tested else None),),
        site=Site(permit_date=day(permit) if permit else None),
    )


# 90 days before 2026-03-11 is 2025-12-11, by the calendar.
@pytest.mark.parametrize(
    ("job", "is_old"),
    [
        (pictured("2026-03-11T09:31:12"), False),
        (pictured("2025-12-11T23:59:59"), False),
        (pictured("2025-12-10T23:59:59"), True),
        (pictured("2025-12-10T23:59:59", permit="2026-01-15"), False),
        (pictured("2025-10-01T08:00:00", permit="2026-01-15"), True),
        (pictured("2019-01-01T08:00:00", tested=""), False),
        (pictured("in spring"), False),
        (pictured(""), False),
    ],
)
def test_that_a_photo_long_before_permit_and_test_is_remarked_on(job: Job, is_old: bool) -> None:
    paths = {"photos.0", "leaks.0.photos.0"} if is_old else set[str]()
    assert {one.path for one in old_photos(job)} == paths
    assert {one.path for one in check(job) if one.code == "photo_old"} == paths


def test_that_plan_and_signature_may_be_of_any_age() -> None:
    old = Photo(digest="d", taken="2019-01-01T08:00:00")
    job = all_on("2026-03-11")
    job = job.model_copy(
        update={
            "tester": job.tester.model_copy(update={"signature": old}),
            "sketch": job.sketch.model_copy(update={"plan": old}),
        }
    )
    assert list(old_photos(job)) == []
