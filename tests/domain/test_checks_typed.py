"""The value of an entry must be the one its text says.

What a text says is worked out here from the factors of NIST Special Publication 811, appendix B,
and from the ways to write a number in the Unicode locale data (CLDR), never by the program's parse.
"""

from __future__ import annotations

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from deskapp.archive import job_file
from deskapp.assess.evaluate import evaluate
from deskapp.domain.checks import check
from deskapp.domain.data_files import resources_folder
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured
from deskapp.domain.paths import get, put
from deskapp.domain.result import Verdict
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
