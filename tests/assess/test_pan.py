"""Pressure-pan screening. Readings are those of an invented house."""

from __future__ import annotations

import tomllib

import pytest
from multi import found_codes, found_one, job_of
from typed import pa

from deskapp.assess.evaluate import evaluate
from deskapp.assess.pan import screen
from deskapp.domain.data_files import resources_folder
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.screening import Guidance, PanBand, PanReading, PanScreening, Register

BEFORE = ["0.4", "1.1", "3.8", "6.2", "0.9", "8.5", "2.2", "0.7", "12.4", "1.6"]
AFTER = ["0.2", "0.3", "0.9", "0.8", "0.3", "1.0", "0.5", "0.2", "0.9", "0.4"]


def rows_of(name: str, rows: str) -> list[dict[str, object]]:
    return tomllib.loads((resources_folder() / name).read_text(encoding="utf-8"))[rows]


BANDS = tuple(
    PanBand.model_validate(row) for row in rows_of("screening/pressure_pan.toml", "bands")
)
STEPS = tuple(
    Guidance.model_validate(row) for row in rows_of("guidance/cannot_reach_target.toml", "steps")
)


def panned(house: str = "-50") -> Job:
    registers = tuple(
        Register(key=f"p{n}", system="s1", pan_before=pa(before), pan_after=pa(after))
        for n, (before, after) in enumerate(zip(BEFORE, AFTER, strict=True))
    )
    screening = PanScreening(house_pressure_before=pa(house), house_pressure_after=pa("50"))
    return job_of().model_copy(update={"registers": registers, "screening": screening})


def test_that_each_register_is_told_in_a_band_before_and_after() -> None:
    found = screen(panned(), BANDS)
    assert [one.before_band for one in found] == [
        "none",
        "some",
        "large",
        "very_large",
        "none",
        "very_large",
        "large",
        "none",
        "very_large",
        "some",
    ]
    assert {one.after_band for one in found} == {"none"}


def test_that_the_sign_of_a_pan_reading_does_not_matter() -> None:
    job = panned()
    minus = tuple(
        register.model_copy(update={"pan_before": pa(f"-{before}")})
        for register, before in zip(job.registers, BEFORE, strict=True)
    )
    turned = job.model_copy(update={"registers": minus})
    assert screen(turned, BANDS) == screen(job, BANDS)


@pytest.mark.parametrize(
    ("reading", "band"),
    [("0", "none"), ("1.0", "none"), ("1.01", "some"), ("2.0", "some"), ("5.1", "very_large")],
)
def test_that_a_band_holds_up_to_and_with_its_upper_bound(reading: str, band: str) -> None:
    register = Register(key="p1", pan_before=pa(reading))
    job = job_of().model_copy(update={"registers": (register,)})
    (found,) = screen(job, BANDS)
    assert found.before_band == band


def test_that_no_flow_follows_from_a_pan() -> None:
    assert "flow" not in " ".join(PanReading.model_fields)
    assert evaluate(panned()).tests == ()


def test_that_an_unread_or_missing_reading_has_no_band() -> None:
    unread = Measured(si=None, typed="about one")
    register = Register(key="p1", pan_before=unread)
    job = job_of().model_copy(update={"registers": (register,)})
    (found,) = screen(job, BANDS)
    assert (found.before, found.before_band, found.after, found.after_band) == (None, "", None, "")
    assert "unread" in found_codes(job, Level.STOP)
    assert screen(panned(), ())[0].before_band == ""


def test_that_a_house_away_from_fifty_pascal_is_told() -> None:
    assert found_one(panned("-35"), "pan_house_off").path == "screening.house_pressure_before"
    assert "pan_house_off" not in found_codes(panned("-49"))


def test_that_a_house_pressure_that_is_missing_is_asked_for() -> None:
    job = panned().model_copy(update={"screening": PanScreening()})
    found = [f for f in evaluate(job).findings if f.code == "pan_house_missing"]
    assert [f.path for f in found] == [
        "screening.house_pressure_before",
        "screening.house_pressure_after",
    ]


def test_that_a_pan_above_the_house_is_told() -> None:
    assert found_one(panned("-10"), "pan_above_house").path == "registers.8.pan_before"


def test_that_a_job_without_registers_is_asked_nothing() -> None:
    assert not {code for code in found_codes(job_of()) if code.startswith("pan_")}


def test_that_bands_and_guidance_say_where_they_come_from() -> None:
    assert [band.above_pa for band in BANDS] == sorted(band.above_pa for band in BANDS)
    assert BANDS[0].above_pa == 0.0
    assert len({band.id for band in BANDS}) == len(BANDS)
    assert len({step.id for step in STEPS}) == len(STEPS)
    assert STEPS[-1].codes == ("pressure_too_low",)
    for row in (*BANDS, *STEPS):
        assert row.source
        assert "flow rate" not in row.text
