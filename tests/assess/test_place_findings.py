"""What looks mistyped of a place. Sources: the rules named in the module, from memory."""

from __future__ import annotations

import pytest

from deskapp.assess.place_findings import place_findings
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.site import Site


def odd(**typed: str) -> list[str]:
    found = list(place_findings(Job(site=Site(**typed))))
    assert all(one.level is Level.CHECK and one.allowed and one.mend for one in found)
    return [one.path.removeprefix("site.") for one in found]


@pytest.mark.parametrize(
    "region", ["WA", "w.a.", "GU", "QC", "Washington", "Estonia", "", "Jalisco"]
)
def test_that_a_state_that_may_be_one_is_let_pass(region: str) -> None:
    assert odd(region=region) == []


@pytest.mark.parametrize("region", ["ZZ", "xx", "W.X."])
def test_that_two_letters_of_no_state_are_a_check(region: str) -> None:
    assert odd(region=region) == ["region"]


@pytest.mark.parametrize(
    ("region", "postcode", "is_odd"),
    [
        ("WA", "98101", False),
        ("WA", "98101-1234", False),
        ("WA", "9810", True),
        ("WA", "98101-12", True),
        ("WA", "H2X 1Y4", True),
        ("QC", "H2X 1Y4", False),
        ("QC", "h2x1y4", False),
        ("QC", "D2X 1Y4", True),
        ("QC", "98101", True),
        ("Estonia", "10111", False),
        ("Spain", "X", False),
        ("", "9810", False),
        ("WA", "", False),
    ],
)
def test_that_a_postal_code_is_held_against_the_rule_of_its_country(
    region: str, postcode: str, is_odd: bool
) -> None:
    assert odd(region=region, postcode=postcode) == (["postcode"] if is_odd else [])


@pytest.mark.parametrize(
    ("region", "zone", "is_odd"),
    [
        *(
            ("WA", zone, False)
            for zone in ("0", "8", "4C", "4 marine", "Zone 4A", "7b", "cz 2", "")
        ),
        *(("WA", zone, True) for zone in ("9", "12", "4D", "A4", "cold")),
        ("CA", "12", False),
        ("CA", "16", False),
        ("CA", "17", True),
        ("Spain", "D3", False),
        ("", "9", True),
    ],
)
def test_that_a_climate_zone_is_held_against_the_zones_there_are(
    region: str, zone: str, is_odd: bool
) -> None:
    assert odd(region=region, climate_zone=zone) == (["climate_zone"] if is_odd else [])
