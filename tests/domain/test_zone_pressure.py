"""A room with burners that is pulled hard without a limit: a question, no verdict.

The figures are those of a practitioner's table of limits of house depressurization, read in a
secondary source: -2 Pa for a water heater with natural draft and its own vent, -3 Pa with a shared
vent, -5 Pa for induced draft, -15 Pa for a power vent, -25 to -50 Pa for sealed combustion.
"""

from __future__ import annotations

import tomllib
from pathlib import Path
from typing import Any

import pytest

from deskapp.domain.cautions import cautions_for
from deskapp.domain.choices import YesNo
from deskapp.domain.choices_safety import Fuel, Vent
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.safety import Appliance, Safety
from deskapp.domain.vocabulary import Audience, Caution, CautionLevel
from deskapp.domain.zone_pressure import ZoneGuide, zone_findings

SAFETY = Path(__file__).parents[2] / "resources" / "safety"


def rows(name: str, entry: str) -> list[dict[str, Any]]:
    return tomllib.loads((SAFETY / name).read_text(encoding="utf-8"))[entry]


GUIDES = tuple(ZoneGuide.model_validate(row) for row in rows("zone_guides.toml", "guides"))
CAUTIONS = tuple(Caution.model_validate(row) for row in rows("cautions.toml", "cautions"))


def pascal(value: float) -> Measured:
    return Measured(si=value, unit="Pa", typed=f"{value} Pa")


def pulled(value: float, *vents: Vent | None, **answers: Any) -> Job:
    appliances = tuple(
        Appliance(key=f"a{at}", fuel=Fuel.NATURAL_GAS, vent=vent) for at, vent in enumerate(vents)
    )
    return Job(safety=Safety(zone_pressure=pascal(value), **answers), appliances=appliances)


def asked(job: Job) -> list[Finding]:
    return list(zone_findings(job, GUIDES))


@pytest.mark.parametrize(
    ("vent", "guide"),
    [
        (Vent.NATURAL_DRAFT, -2.0),
        (Vent.INDUCED, -5.0),
        (Vent.POWER, -15.0),
        (Vent.SEALED, -25.0),
        (None, -2.0),
    ],
)
def test_that_each_kind_of_vent_is_asked_about_beyond_its_guide(
    vent: Vent | None, guide: float
) -> None:
    assert asked(pulled(guide, vent)) == []
    (finding,) = asked(pulled(guide - 0.1, vent))
    assert finding.level is Level.CHECK
    assert finding.path == "safety.zone_limit"
    assert "licensed technician" in finding.mend
    assert ("how each appliance vents" in finding.mend) is (vent is None)


def test_that_the_strictest_of_several_vents_asks() -> None:
    (finding,) = asked(pulled(-4.0, Vent.SEALED, Vent.NATURAL_DRAFT))
    assert "natural draft" in finding.allowed


def test_that_a_limit_or_a_house_without_burners_leaves_nothing_to_ask() -> None:
    assert asked(pulled(-9.0, Vent.NATURAL_DRAFT, zone_limit=pascal(-2.0))) == []
    assert asked(pulled(-9.0, combustion_appliances=YesNo.NO)) == []
    assert asked(pulled(9.0)) == []
    assert asked(Job()) == []


def test_that_the_reading_after_the_work_stands_for_how_the_house_was_left() -> None:
    assert asked(pulled(-9.0, zone_pressure_after=pascal(-1.0))) == []
    (finding,) = asked(pulled(-1.0, zone_pressure_after=pascal(-9.0)))
    assert "after the work" in finding.what


@pytest.mark.parametrize("audience", list(Audience))
def test_that_every_reader_is_cautioned(audience: Audience) -> None:
    found = {one.id: one for one in cautions_for(pulled(-2.1), CAUTIONS, audience)}
    assert found["zone_pressure_unjudged"].level is CautionLevel.WARNING
    assert "zone_pressure_unjudged" not in {
        one.id for one in cautions_for(pulled(-2.0), CAUTIONS, audience)
    }
    after = cautions_for(pulled(-1.0, zone_pressure_after=pascal(-3.0)), CAUTIONS, audience)
    assert "zone_pressure_unjudged_after" in {one.id for one in after}


@pytest.mark.parametrize("guide", GUIDES, ids=lambda guide: guide.id)
def test_that_no_guide_calls_anything_safe_and_each_has_its_source(guide: ZoneGuide) -> None:
    assert "safe" not in guide.text.lower().split()
    assert "secondary source" in guide.source
