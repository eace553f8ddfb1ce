"""Random invented jobs, worked out a second time apart from the program.

Worked outside: flows in numpy; curves with scipy.stats.linregress and t.ppf; uncertainties with the
`uncertainties` library, where an instrument two tests share is one variable; chances with
scipy.stats.norm. The accuracies that go in are those the program states where nothing is entered.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
from multi import job_of, made_test
from scipy import stats
from typed import EDITION, ft2, pa, readings, typed
from uncertainties import ufloat
from uncertainties.umath import pow as power

from deskapp.assess.evaluate import evaluate
from deskapp.domain.choices import AreaSource, Direction, Method
from deskapp.domain.result import Verdict
from deskapp.domain.site import House
from deskapp.units.kinds import Kind

CFM, FT2, ROOT_THREE = 0.3048**3 / 60.0, 0.3048**2, math.sqrt(3.0)
COEFFICIENTS = {"large": 62.0, "medium": 24.0, "small": 9.5, "tiny": 4.0}
AREA_SHARE = 0.01 / ROOT_THREE
CLOSE = {"rel": 1e-7}


@dataclass(frozen=True)
class Drawn:
    """What a tester would have typed, pressures in Pa: the whole input of both workings."""

    ring: str
    sign: float
    baselines: tuple[float, float]
    exponent: float
    several: bool
    pressures: tuple[float, ...]
    signals: tuple[float, ...]

    def test(self, key: str) -> Any:
        shown = [self.sign * p + sum(self.baselines) / 2 for p in self.pressures]
        rows = readings(
            " ".join(f"{one:.2f}" for one in shown), " ".join(f"{one:.1f}" for one in self.signals)
        )
        return made_test(
            rows,
            key,
            ring=self.ring,
            fan="f1",
            gauge="g1",
            direction=Direction.PRESSURIZE if self.sign > 0 else Direction.DEPRESSURIZE,
            method=Method.SEVERAL_PRESSURES if self.several else Method.SINGLE_PRESSURE,
            exponent=typed(f"{self.exponent}", Kind.NUMBER),
            baseline=f"{self.baselines[0]}",
            baseline_after=pa(f"{self.baselines[1]}"),
        )


def drawn(chance: random.Random, size: float = 1.0, ring: str = "", sign: float = 0.0) -> Drawn:
    several, count = chance.random() < 0.4, chance.randint(1, 5)
    pressures = [15.0, 20.0, 27.0, 35.0, 43.0, 50.0] if several else [25.0] * count
    held = tuple(round(one * chance.uniform(0.97, 1.03), 1) for one in pressures)
    middle = size * chance.uniform(85.0, 95.0)
    signals = tuple(
        round(middle * (one / 25.0) ** 1.2 * chance.uniform(0.99, 1.01), 1) for one in held
    )
    before = round(chance.uniform(-0.5, 0.5), 1)
    return Drawn(
        ring=ring or chance.choice(["medium", "small", "tiny"]),
        sign=sign or chance.choice([-1.0, 1.0]),
        baselines=(before, round(before + 0.2 * chance.randint(-2, 2), 1)),
        exponent=round(chance.uniform(0.55, 0.7), 2),
        several=several,
        pressures=held,
        signals=signals,
    )


def outside(one: Drawn, fan: Any, gauge: Any, signal_gauge: Any) -> Any:
    """Flow at 25 Pa in cfm with its uncertainty; the three are variables of one unit deviation."""
    pressures, signals = np.array(one.pressures), np.array(one.signals)
    flows = COEFFICIENTS[one.ring] * np.sqrt(signals)
    if one.several:
        line = stats.linregress(np.log(pressures), np.log(flows))
        n, held, flow = line.slope, 25.0, math.exp(line.intercept) * 25.0**line.slope
        rest = np.log(flows) - line.intercept - n * np.log(pressures)
        scatter = math.sqrt((rest**2).sum() / (len(flows) - 2))
        off = np.log(pressures) - np.log(pressures).mean()
        lever = 1 / len(flows) + (math.log(25.0) - np.log(pressures).mean()) ** 2 / (off**2).sum()
        share = math.expm1(stats.t.ppf(0.975, len(flows) - 2) * scatter * math.sqrt(lever)) / 2
    else:
        n, held = one.exponent, float(pressures.mean())
        carried = flows * (25.0 / pressures) ** n
        flow, share = float(carried.mean()), 0.01
        if len(flows) > 1:
            bare = float(carried.std(ddof=1)) / math.sqrt(len(flows)) / flow
            wide = bare * max(1.0, stats.t.ppf(0.975, len(flows) - 1) / 2)
            share = max(bare, min(wide, 0.01))
    at_held = flow * (held / 25.0) ** n
    signal = (at_held / COEFFICIENTS[one.ring]) ** 2
    read = 1.0 + signal_gauge * max(0.01, 0.25 / signal) / ROOT_THREE
    pressure = held + gauge * max(0.01 * held, 0.25) / ROOT_THREE
    moved = abs(one.baselines[1] - one.baselines[0]) / 2 / ROOT_THREE
    drift = ufloat(0.0, moved) if moved else 0.0
    exponent = n if one.several else ufloat(n, 0.05 / ROOT_THREE)
    through = at_held * (1.0 + fan * 0.05 / ROOT_THREE) * power(read, 0.5)
    through = through + at_held * ufloat(0.0, share)
    return through * power(25.0 / (pressure - drift), exponent)


@pytest.mark.parametrize("seed", range(40))
def test_that_a_random_job_comes_out_as_worked_outside(seed: int) -> None:
    chance = random.Random(seed)
    first = drawn(chance)
    same_ring = chance.random() < 0.5
    again = drawn(chance, 0.6, first.ring if same_ring else "", first.sign)
    fan, gauge, signal_gauge = ufloat(0, 1), ufloat(0, 1), ufloat(0, 1)
    other = again.ring != first.ring
    before = outside(first, fan, gauge, signal_gauge)
    now = outside(
        again, ufloat(0, 1) if other else fan, gauge, ufloat(0, 1) if other else signal_gauge
    )
    area = round(now.nominal_value / 0.04 * chance.uniform(0.93, 1.07))
    retest = again.test("t2").model_copy(update={"retest_of": "t1"})
    house = House(floor_area=ft2(f"{area}"), area_source=AreaSource.MEASURED)
    found = evaluate(job_of(first.test("t1"), retest, house=house, area_served=ft2(f"{area}")))
    for key, flow in (("t1", before), ("t2", now)):
        result = found.test(key)
        assert result is not None
        assert result.budget is not None
        assert result.area_budget is not None
        assert result.budget.value / CFM == pytest.approx(flow.nominal_value, **CLOSE)
        assert result.budget.expanded / CFM == pytest.approx(2 * flow.std_dev, **CLOSE)
        per_area = flow / ufloat(area, AREA_SHARE * area)
        assert result.area_budget.combined / CFM * FT2 == pytest.approx(per_area.std_dev, **CLOSE)
    held = found.retest("t2")
    assert held is not None
    assert held.uncertainty / CFM == pytest.approx(2 * (before - now).std_dev, **CLOSE)
    assert held.share == pytest.approx(1 - now.nominal_value / before.nominal_value, **CLOSE)
    assert held.share_uncertainty == pytest.approx(2 * (1 - now / before).std_dev, **CLOSE)
    [outcome] = found.systems[0].outcomes
    limit = EDITION.rows[0].rule.rate * area / 100  # type: ignore[union-attr]
    spread = now.nominal_value * math.hypot(now.std_dev / now.nominal_value, AREA_SHARE)
    chance_kept = stats.norm.cdf((limit - now.nominal_value) / spread)
    assert outcome.limit_value == pytest.approx(limit, **CLOSE)
    assert outcome.probability == pytest.approx(chance_kept, rel=1e-5)
    assert outcome.verdict is (Verdict.PASS if now.nominal_value <= limit else Verdict.FAIL)
    assert outcome.too_close is bool(abs(limit - now.nominal_value) < 2 * spread)
