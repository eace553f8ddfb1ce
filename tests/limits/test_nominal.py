"""The nominal flow of an air handler, by California's rule.

Source of the figures: California Energy Commission, joint appendix JA9 (2025): 400 cfm per ton and
21.7 cfm per kBtu/h. Their use as nominal flow and the larger of both are from memory.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from limit_cases import case, edition, row, rule, typed

from deskapp.domain.limit import NominalFlow, Verification
from deskapp.domain.measured import Measured
from deskapp.domain.result import Verdict
from deskapp.limits.case import Case, Undecided
from deskapp.limits.catalogue import Catalogue
from deskapp.limits.judge import judge
from deskapp.limits.nominal import Nominal, nominal_flow
from deskapp.units.convert import from_unit

CALIFORNIA = NominalFlow(
    cfm_per_ton=400.0,
    cfm_per_kbtu_h=21.7,
    clause="RA3.1.4.2",
    status=Verification.MEMORY,
    source="from memory",
)


def flow(cooling: Measured | None = None, heating: Measured | None = None) -> float:
    found = nominal_flow(CALIFORNIA, cooling, heating)
    assert isinstance(found, Nominal)
    return found.flow


# Hand arithmetic on the two figures: 3 tons, 36 kBtu/h of cooling, 60 kBtu/h of heating only.
def test_that_each_capacity_leads_to_the_hand_worked_flow() -> None:
    assert flow(cooling=typed(3.0, "ton")) == 1200.0
    assert flow(heating=typed(60.0, "kBtu/h")) == 1302.0


@pytest.mark.parametrize("tons", [1.5, 2.0, 2.5, 3.0, 3.5, 4.0, 5.0])
def test_that_a_ton_is_12_kbtu_per_hour_to_the_last_bit(tons: float) -> None:
    assert flow(cooling=typed(12.0 * tons, "kBtu/h")) == 400.0 * tons


def test_that_the_larger_of_both_is_taken_and_told() -> None:
    found = nominal_flow(CALIFORNIA, typed(3.0, "ton"), typed(80.0, "kBtu/h"))
    assert isinstance(found, Nominal)
    assert found.flow == 1736.0
    assert found.lines == (
        "400 cfm per ton × 3 tons = 1,200 cfm",
        "21.7 cfm per kBtu/h × 80 kBtu/h of heating output = 1,736 cfm",
        "The larger of both is 1,736 cfm",
        "Nominal flow of the air handler by RA3.1.4.2: 1,736 cfm "
        "(Unverified, from memory: check the code text)",
    )


def test_that_a_rule_without_heating_leaves_heating_out() -> None:
    only_cooling = CALIFORNIA.model_copy(update={"cfm_per_kbtu_h": None})
    found = nominal_flow(only_cooling, typed(2.0, "ton"), typed(80.0, "kBtu/h"))
    assert isinstance(found, Nominal)
    assert found.flow == 800.0
    assert isinstance(nominal_flow(only_cooling, None, typed(80.0, "kBtu/h")), Undecided)


@pytest.mark.parametrize("si", [None, 0.0, -1.0])
def test_that_without_a_capacity_the_missing_facts_are_named(si: float | None) -> None:
    nothing = None if si is None else Measured(si=si, unit="ton", typed="?")
    found = nominal_flow(CALIFORNIA, nothing, nothing)
    assert isinstance(found, Undecided)
    assert "cooling capacity or the heating output" in found.reason


# Source of the percentages: 2008 Residential Appendices, Table RA3.1-2; later ones see the files.
# 3 tons give 1,200 cfm: 48, 60, 72, 120 and 180 cfm (hand arithmetic).
@pytest.mark.parametrize(("percent", "limit"), [(4, 48), (5, 60), (6, 72), (10, 120), (15, 180)])
def test_that_a_share_of_the_nominal_flow_decides_at_its_very_edge(
    percent: float, limit: float
) -> None:
    only = row(rule("percent_of_fan_flow", percent=percent))
    code = edition(only).model_copy(update={"nominal_flow": CALIFORNIA})

    def verdict(leakage: float) -> Verdict:
        si = from_unit(leakage, "cfm")
        of = Case(
            flow=si,
            target_pressure=25.0,
            nominal=CALIFORNIA,
            cooling_capacity=typed(36.0, "kBtu/h"),
        )
        return judge(code, only, of).verdict

    assert verdict(limit) is Verdict.PASS
    assert verdict(math.nextafter(limit, 0.0)) is Verdict.PASS
    assert verdict(limit * (1 + 1e-9)) is Verdict.FAIL


def test_that_heating_only_of_60_gives_a_limit_of_65_1_cfm() -> None:
    only = row(rule("percent_of_fan_flow", percent=5.0))
    of = Case(
        flow=from_unit(65.1, "cfm"),
        target_pressure=25.0,
        nominal=CALIFORNIA,
        heating_output=typed(60.0, "kBtu/h"),
    )
    result = judge(edition(only), only, of)
    assert (result.verdict, result.limit_value) == (Verdict.PASS, 65.1)


def test_that_a_flow_that_is_given_goes_before_the_nominal_one() -> None:
    only = row(rule("percent_of_fan_flow", percent=5.0))
    of = case(55.0, fan=(1000.0, "cfm")).model_copy(
        update={"nominal": CALIFORNIA, "cooling_capacity": typed(3.0, "ton")}
    )
    result = judge(edition(only), only, of)
    assert (result.verdict, result.limit_value) == (Verdict.FAIL, 50.0)
    assert not any("Nominal" in line for line in result.lines)


def test_that_every_californian_edition_has_the_rule_and_no_other_one(shipped: Catalogue) -> None:
    with_rule = {one.id for one in shipped.editions if one.nominal_flow}
    assert with_rule == {one.id for one in shipped.editions if one.region == "California"}
    for one in shipped.editions:
        if one.nominal_flow:
            assert (one.nominal_flow.cfm_per_ton, one.nominal_flow.cfm_per_kbtu_h) == (400.0, 21.7)
            assert one.nominal_flow.status is Verification.MEMORY


@given(
    tons=st.floats(min_value=0.1, max_value=100.0),
    heat=st.floats(min_value=0.5, max_value=2000.0),
    more=st.floats(min_value=0.0, max_value=50.0),
)
def test_that_more_capacity_never_means_less_flow(tons: float, heat: float, more: float) -> None:
    before = flow(typed(tons, "ton"), typed(heat, "kBtu/h"))
    assert flow(typed(tons + more, "ton"), typed(heat, "kBtu/h")) >= before
    assert flow(typed(tons, "ton"), typed(heat + more, "kBtu/h")) >= before
    assert before >= flow(cooling=typed(tons, "ton"))
