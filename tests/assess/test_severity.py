"""How much a leak matters, from its place and what surrounds it.

Expected levels: worked out by hand from the rule that is common practice (no source): the usual
severity of the place, a step more outside the envelope, critical for a return near a burner.
"""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest

from deskapp.assess.severity import most_pressing_first, ranked
from deskapp.domain.choices import DuctLocation, DuctSide, LeakSize, LeakSpace, Severity, YesNo
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak
from deskapp.domain.repair_result import LeakRank
from deskapp.domain.system import DuctSystem
from deskapp.domain.vocabulary import LeakLocation

FILE = Path(__file__).parents[2] / "resources" / "leaks" / "locations.toml"
PLACES = tuple(
    LeakLocation.model_validate(row)
    for row in tomllib.loads(FILE.read_text(encoding="utf-8"))["locations"]
)


def rank_of(leak: Leak, where: DuctLocation | None = None) -> LeakRank:
    job = Job(systems=(DuctSystem(key="s1", duct_location=where),), leaks=(leak,))
    [rank] = ranked(job, PLACES)
    return rank


@pytest.mark.parametrize(
    ("location", "space", "where", "severity"),
    [
        ("boot_gap", None, None, Severity.MODERATE),
        ("boot_gap", None, DuctLocation.CONDITIONED, Severity.MODERATE),
        ("boot_gap", None, DuctLocation.ATTIC, Severity.MAJOR),
        ("boot_gap", LeakSpace.INSIDE, DuctLocation.ATTIC, Severity.MODERATE),
        ("boot_gap", LeakSpace.OUTSIDE, DuctLocation.CONDITIONED, Severity.MAJOR),
        ("takeoff", LeakSpace.OUTSIDE, None, Severity.CRITICAL),
        ("disconnected", LeakSpace.OUTSIDE, None, Severity.CRITICAL),
        ("takeoff", LeakSpace.BURNER_ROOM, None, Severity.MAJOR),
        ("return_plenum", LeakSpace.BURNER_ROOM, None, Severity.CRITICAL),
        ("not_reached", LeakSpace.OUTSIDE, None, None),
        ("", LeakSpace.OUTSIDE, None, None),
    ],
)
def test_that_severity_follows_from_place_and_surroundings(
    location: str, space: LeakSpace | None, where: DuctLocation | None, severity: Severity | None
) -> None:
    leak = Leak(key="l1", system="s1", location=location, space=space, place="here")
    assert rank_of(leak, where).severity is severity


def test_that_the_side_entered_goes_before_the_usual_one() -> None:
    leak = Leak(key="l1", location="long_seam", side=DuctSide.RETURN, space=LeakSpace.BURNER_ROOM)
    assert rank_of(leak).severity is Severity.CRITICAL
    assert rank_of(leak.model_copy(update={"side": DuctSide.SUPPLY})).severity is Severity.MINOR


def test_that_a_severity_given_by_a_person_goes_before_and_keeps_its_reason() -> None:
    leak = Leak(
        key="l1",
        location="disconnected",
        severity=Severity.MINOR,
        severity_reason="abandoned branch",
    )
    rank = rank_of(leak)
    assert (rank.severity, rank.usual) == (Severity.MINOR, Severity.CRITICAL)
    assert rank.is_given
    assert rank.reason == "abandoned branch"


def test_that_the_most_pressing_come_first() -> None:
    leaks = (
        Leak(key="a", location="boot_seam", size=LeakSize.CRITICAL),
        Leak(key="b", location="takeoff", size=LeakSize.MINOR),
        Leak(key="c", location="takeoff", size=LeakSize.MAJOR, repaired=YesNo.YES),
        Leak(key="d", location="not_reached"),
        Leak(key="e", location="disconnected"),
    )
    ranks = most_pressing_first(ranked(Job(leaks=leaks), PLACES))
    assert [rank.key for rank in ranks] == ["e", "c", "b", "a", "d"]
    assert [rank.number for rank in ranks] == [5, 3, 2, 1, 4]
    assert [rank.key for rank in ranks if not rank.is_open] == ["c"]
