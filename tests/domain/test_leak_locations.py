from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

from deskapp.domain.choices import DuctSide, Severity
from deskapp.domain.vocabulary import LeakLocation

LOCATIONS_FILE = Path(__file__).parents[2] / "resources" / "leaks" / "locations.toml"


@pytest.fixture(scope="module")
def shipped() -> dict[str, LeakLocation]:
    data = tomllib.loads(LOCATIONS_FILE.read_text(encoding="utf-8"))
    places = [LeakLocation.model_validate(entry) for entry in data["locations"]]
    assert len({place.id for place in places}) == len(places)
    return {place.id: place for place in places}


def test_that_ids_and_labels_are_plain_words(shipped: dict[str, LeakLocation]) -> None:
    labels = {place.label for place in shipped.values()}
    assert len(labels) == len(shipped)
    for place in shipped.values():
        assert re.fullmatch(r"[a-z]+(_[a-z]+)*", place.id)
        assert place.label[0].isupper()


def test_that_every_place_says_how_to_close_it_and_who_says_so(
    shipped: dict[str, LeakLocation],
) -> None:
    for place in shipped.values():
        assert place.repair.endswith("."), place.id
        assert place.source, place.id
        assert place.status is not None, place.id


# Common practice, no source: what can hurt people, and what has come off, is critical.
def test_that_leaks_near_burners_and_runs_that_came_off_are_critical(
    shipped: dict[str, LeakLocation],
) -> None:
    critical = {key for key, place in shipped.items() if place.severity is Severity.CRITICAL}
    assert critical == {"disconnected", "return_near_burner", "platform_return", "crossover"}


def test_that_only_a_place_nobody_reached_has_no_severity(
    shipped: dict[str, LeakLocation],
) -> None:
    assert {key for key, place in shipped.items() if place.severity is None} == {"not_reached"}


def test_that_what_draws_air_is_on_the_return_side(shipped: dict[str, LeakLocation]) -> None:
    for place in shipped.values():
        if "return" in place.id:
            assert place.side is DuctSide.RETURN, place.id


def test_that_all_three_severities_and_sides_of_the_trade_are_there(
    shipped: dict[str, LeakLocation],
) -> None:
    assert {place.side for place in shipped.values()} == {*DuctSide, None}
    assert {place.severity for place in shipped.values()} == {*Severity, None}
