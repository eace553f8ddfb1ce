"""Airtightness classes of duct sections.

Coefficients: EN 16798-3 and the letters of EN 12237, read in secondary sources; the leakage class
by its equation, read in a secondary source. The section is invented, its figures by hand.
"""

from __future__ import annotations

from pathlib import Path

import pytest
from multi import flow_readings, job_of, made_test, result_of
from typed import ft2, pa, typed

from deskapp.domain.choices import Metric, Part
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit, Verification
from deskapp.domain.result_parts import DuctClass
from deskapp.limits.catalogue import load
from deskapp.units.kinds import Kind

SHIPPED = load(Path(__file__).parents[2] / "resources" / "limits")


def section(flow: str, target: str = "400", **other: object) -> Job:
    rows = flow_readings(target, flow)
    test = made_test(rows, target_pressure=pa(target), **other)
    return job_of(test, duct_surface=typed("186 m2", Kind.AREA))


def classes(job: Job) -> dict[str, DuctClass]:
    return {one.standard: one for one in result_of(job).classes}


def test_that_a_section_reaches_class_b_and_its_leakage_class() -> None:
    # By hand: 61.5 L/s over 186 m2 at 400 Pa is 0.331 L/(s m2); class B allows 0.442, C 0.147;
    # 6.51 cfm per 100 ft2 at 1.607 in. w.c. is leakage class 4.8.
    found = classes(section("130.4"))
    european = found["EN 16798-3"]
    assert european.name == "ATC 4 (class B)"
    assert european.value == pytest.approx(0.331, abs=5e-4)
    assert european.limit == pytest.approx(0.44216, abs=5e-5)
    assert european.next_name == "ATC 3 (class C)"
    assert european.next_limit == pytest.approx(0.14739, abs=5e-5)
    leakage = found["SMACNA"]
    assert leakage.value == pytest.approx(4.8, abs=0.05)
    assert leakage.name == "Leakage class 4.8"
    assert "1985 and 2012" in leakage.edition


@pytest.mark.parametrize(
    ("rate", "name"),
    [
        (0.016, "ATC 1"),
        (0.017, "ATC 2 (class D)"),
        (0.049, "ATC 2 (class D)"),
        (0.14, "ATC 3 (class C)"),
        (0.44, "ATC 4 (class B)"),
        (1.32, "ATC 5 (class A)"),
        (3.3, "ATC 6"),
        (3.4, "ATC 7 (not classified)"),
    ],
)
def test_that_each_class_holds_up_to_its_bound(rate: float, name: str) -> None:
    # Bounds at 400 Pa by hand: k * 49.13, so 0.016, 0.049, 0.147, 0.442, 1.326, 3.316 L/(s m2).
    job = section(f"{rate * 186:.4f}L/s")
    assert classes(job)["EN 16798-3"].name == name


def test_that_a_chosen_edition_is_stored_with_the_class_it_asks_for() -> None:
    edition = SHIPPED.edition("smacna-1985")
    assert edition is not None
    limits = (ChosenLimit(key="l1", edition=edition, row="rectangular-b"),)
    job = section("130.4").model_copy(update={"compliance": Compliance(limits=limits)})
    found = classes(job)
    assert found["SMACNA"].edition == "1985"
    row = found[edition.title]
    assert row.edition == "1985"
    assert row.limit is not None
    assert row.value <= row.limit
    assert row.status is Verification.MEMORY


@pytest.mark.parametrize(
    ("flow", "met", "following"),
    [
        # EN 16798-3 at 400 Pa, k * 49.13 by hand: ATC 4 0.442, 3 0.147, 2 0.049, 1 0.016.
        ("61.5", "ATC 4 (class B)", ("ATC 3 (class C)", 0.14739)),
        ("20", "ATC 3 (class C)", ("ATC 2 (class D)", 0.04913)),
        ("2", "ATC 1", ("", None)),
    ],
)
def test_that_a_chosen_edition_names_its_next_tighter_class(
    flow: str, met: str, following: tuple[str, float | None]
) -> None:
    edition = SHIPPED.edition("en-16798-3")
    assert edition is not None
    limits = (ChosenLimit(key="l1", edition=edition, row="atc-4"),)
    job = section(f"{flow}L/s").model_copy(update={"compliance": Compliance(limits=limits)})
    own = classes(job)[edition.title]
    name, bound = following
    assert (own.name, own.next_name) == (met, name)
    assert own.next_limit == (None if bound is None else pytest.approx(bound, abs=5e-5))


def test_that_pressure_moves_the_rate_but_not_the_class_of_a_power_of_0_65() -> None:
    # The same class at 100 Pa: flow by hand times (100 / 400)^0.65.
    high = classes(section("130.4"))["SMACNA"].value
    low = classes(section(f"{130.4 * 0.25**0.65:.4f}", "100"))["SMACNA"].value
    assert low == pytest.approx(high, rel=1e-4)


def test_that_no_class_is_named_without_a_surface_or_for_another_test() -> None:
    rows = flow_readings("400", "130.4")
    bare = job_of(made_test(rows, target_pressure=pa("400")))
    assert result_of(bare).classes == ()
    assert classes(section("130.4", part=Part.SUPPLY)) == {}
    assert classes(section("130.4", metric=Metric.OUTSIDE)) == {}
    assert (
        result_of(job_of(made_test(flow_readings("25", "0")), duct_surface=ft2("9"))).classes == ()
    )
