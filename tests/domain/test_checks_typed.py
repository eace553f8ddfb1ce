"""The value of an entry must be the one its text says.

What a text says is worked out here from the factors of NIST Special Publication 811, appendix B,
and from the ways to write a number in the Unicode locale data (CLDR), never by the program's parse.
"""

from __future__ import annotations

from datetime import date

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from deskapp.archive import job_file
from deskapp.assess.evaluate import evaluate
from deskapp.domain.checks import check
from deskapp.domain.data_files import resources_folder
from deskapp.domain.finding import Finding, Level
from deskapp.domain.instrument import CertificateFigure, CertificatePair, Fan, Ring
from deskapp.domain.job import Job
from deskapp.domain.measured import Day, Measured
from deskapp.domain.paths import get, put
from deskapp.domain.result import Verdict
from deskapp.domain.safety import Safety
from deskapp.domain.site import House
from deskapp.domain.trial import LeakageTest, Reading
from deskapp.domain.walk import entries

SAMPLES = resources_folder() / "sample_jobs"
SIGNAL = "tests.0.readings.0.fan_signal"
# NIST SP 811, appendix B.8: 1 cubic foot per minute, 1 inch of water (conventional).
FACTORS = {"Pa": 1.0, "kPa": 1000.0, "inH2O": 249.08891}
SPELLED = {"Pa": "Pa", "kPa": "kPa", "inH2O": "in. w.c."}


def about(job: Job) -> list[Finding]:
    return [finding for finding in check(job) if finding.code == "typed-otherwise"]


def with_signal(si: float, unit: str, typed: str) -> Job:
    reading = Reading(fan_signal=Measured(si=si, unit=unit, typed=typed))
    return Job(tests=(LeakageTest(key="t1", readings=(reading,)),))


@pytest.mark.parametrize("sample", ["clinic", "crossover", "larkspur", "maple"])
def test_that_no_sample_has_an_entry_that_says_another_value(sample: str) -> None:
    assert about(job_file.read(SAMPLES / sample).job) == []


@pytest.mark.parametrize("sample", ["clinic", "crossover", "larkspur", "maple"])
def test_that_every_entry_altered_in_a_file_is_named(sample: str) -> None:
    job = job_file.read(SAMPLES / sample).job
    found = [(path, it) for path, it in entries(job) if isinstance(it, Measured) and it.si]
    altered = [(path, it) for path, it in found if not path.startswith("compliance.limits")]
    assert len(altered) > 20
    for path, value in altered:
        assert value.si is not None
        other = put(job, path, value.model_copy(update={"si": value.si * 0.75}))
        assert [finding.path for finding in about(other)] == [path]


def test_that_an_altered_reading_gives_no_verdict_and_says_what_was_typed() -> None:
    job = job_file.read(SAMPLES / "larkspur").job
    value: Measured = get(job, SIGNAL)
    assert (value.typed, value.si) == ("32.4 Pa", 32.4)
    assessment = evaluate(put(job, SIGNAL, value.model_copy(update={"si": 32.4 * 0.75})))
    assert assessment.verdict is Verdict.NONE
    [finding] = [one for one in assessment.findings if one.path == SIGNAL]
    assert finding.level is Level.STOP
    assert "Fan signal (test 1, reading 1): “32.4 Pa” was typed" in finding.what
    assert "24.3\N{NO-BREAK SPACE}Pa" in finding.what
    assert finding.mend.startswith("Type it again")


@given(
    st.integers(1, 9_999_999),
    st.integers(0, 4),
    st.sampled_from(sorted(FACTORS)),
    st.sampled_from([".", ","]),
    st.booleans(),
    st.floats(-0.5, 0.5).filter(lambda off: abs(off) > 3e-6),
)
def test_that_a_value_is_told_from_its_text_in_either_style(
    number: int, decimals: int, unit: str, mark: str, is_spelled: bool, off: float
) -> None:
    assume(mark == "." or decimals != 3)  # 1,234 is never taken for 1.234: it is asked about
    digits = f"{number / 10**decimals:.{decimals}f}".replace(".", mark)
    typed = f"{digits} {SPELLED[unit]}" if is_spelled else digits
    si = number / 10**decimals * FACTORS[unit]
    assert about(with_signal(si, unit, typed)) == []
    wrong = about(with_signal(si * (1 + off), unit, typed))
    assert [one.path for one in wrong] == [SIGNAL]
    assert typed in wrong[0].what


@pytest.mark.parametrize(("typed", "si"), [("1,234", 1234.0), ("1.234", 1.234), ("1,5", 1.5)])
def test_that_the_style_of_a_number_is_taken_from_its_marks(typed: str, si: float) -> None:
    assert about(with_signal(si, "Pa", typed)) == []
    assert about(with_signal(12.0, "Pa", typed)) != []


@pytest.mark.parametrize("typed", ["", "about ten", "?"])
def test_that_a_text_that_says_no_value_tells_nothing(typed: str) -> None:
    assert about(with_signal(32.4, "Pa", typed)) == []


def test_that_areas_and_temperatures_are_told_too() -> None:
    # 1 in = 0.0254 m, and t/K = (t/degF + 459.67)/1.8, both exact (NIST SP 811, appendix B.8).
    right = House(floor_area=Measured(si=1520 * 0.3048**2, unit="ft2", typed="1,520"))
    wrong = House(floor_area=Measured(si=1520.0, unit="ft2", typed="1,520"))
    assert about(Job(house=right)) == []
    assert [one.path for one in about(Job(house=wrong))] == ["house.floor_area"]
    unknown = House(floor_area=Measured(si=1520.0, unit="", typed="1,520"))
    assert about(Job(house=unknown)) == []  # square meters may have been meant
    warm = Measured(si=(70 + 459.67) / 1.8, unit="degF", typed="70")
    job = with_signal(1.0, "Pa", "1")
    path = "tests.0.ambient.indoor_temperature"
    assert about(put(job, path, warm)) == []
    assert [one.path for one in about(put(job, path, warm.model_copy(update={"si": 70.0})))] == [
        path
    ]


def test_that_a_concentration_without_a_unit_is_looked_at_too() -> None:
    # 1 ppm = 1e-6 by its meaning (NIST SP 811, 7.10.3).
    for si, paths in ((35e-6, []), (70e-6, ["safety.ambient_co"])):
        value = Measured(si=si, unit="", typed="35")
        assert [one.path for one in about(Job(safety=Safety(ambient_co=value)))] == paths


def on_day(value: str, typed: str) -> Job:
    day = Day(value=date.fromisoformat(value), typed=typed)
    return Job(tests=(LeakageTest(key="t1", tested_on=day),))


@pytest.mark.parametrize(
    ("typed", "value"),
    [
        ("2026-03-04", "2026-03-04"),
        ("3/4/2026", "2026-03-04"),  # month first, as written in the United States
        ("04.03.2026", "2026-03-04"),  # day first, as written in much of Europe
        ("25/03/2026", "2026-03-25"),
        ("March 4, 2026", "2026-03-04"),
        ("4 de marzo de 2026", "2026-03-04"),
        ("4 mars 2026", "2026-03-04"),
    ],
)
def test_that_a_day_is_told_from_its_text_in_each_language_and_style(
    typed: str, value: str
) -> None:
    # Orders and names of months: Unicode locale data (CLDR) for en_US, de, es and fr.
    assert about(on_day(value, typed)) == []
    [finding] = about(on_day("2026-07-09", typed))
    assert (finding.level, finding.path) == (Level.STOP, "tests.0.tested_on")
    assert typed in finding.what
    assert "Jul\N{NO-BREAK SPACE}9, 2026" in finding.what


@pytest.mark.parametrize("typed", ["", "spring", "31/02/2026"])
def test_that_a_text_that_says_no_day_tells_nothing(typed: str) -> None:
    assert about(on_day("2026-03-04", typed)) == []


def test_that_an_altered_day_is_not_used() -> None:
    job = job_file.read(SAMPLES / "larkspur").job
    path = "gauges.0.due_on"
    later = get(job, path).model_copy(update={"value": date(2031, 1, 1)})
    [finding] = about(put(job, path, later))
    assert finding.path == path


def with_pair(signal: CertificateFigure, flow: CertificateFigure) -> Job:
    ring = Ring(key="r1", certificate_pairs=(CertificatePair(signal=signal, flow=flow),))
    return Job(fans=(Fan(key="f1", rings=(ring,)),))


def test_that_each_figure_of_a_certificate_must_be_the_one_typed() -> None:
    # 1 cfm = 0.3048^3 / 60 m3/s, exact by the foot (NIST SP 811, appendix B.8).
    signal = CertificateFigure(si=25.0, unit="Pa", typed="25 Pa")
    flow = CertificateFigure(si=120 * 0.3048**3 / 60, unit="cfm", typed="120")
    assert check(with_pair(signal, flow)) == ()
    for pair, named in (
        ((signal.model_copy(update={"si": 26.0}), flow), "fan signal of pair 1"),
        ((signal, flow.model_copy(update={"si": 0.05})), "flow of pair 1"),
    ):
        [finding] = check(with_pair(*pair))
        assert (finding.level, finding.code) == (Level.STOP, "pair-typed-otherwise")
        assert finding.what.startswith(f"Ring 1 (fan 1), certificate, {named}: ")
