"""Jobs with tests at several pressures, in both directions, of one side or of the house itself."""

from __future__ import annotations

from typed import EDITION, FAN, GAUGE, cfm, ft2, pa, typed

from deskapp.domain.choices import AreaSource, Direction, FlowBasis, Method, Metric, Reference, Stage
from deskapp.domain.job import Compliance, Job
from deskapp.domain.limit import ChosenLimit
from deskapp.domain.site import House
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import Ambient, LeakageTest, Reading, SetUp
from deskapp.units.kinds import Kind


def flow_readings(pressures: str, flows: str) -> tuple[Reading, ...]:
    """Readings of a gauge that shows a flow in cfm."""
    return tuple(
        Reading(duct_pressure=pa(p), indicated_flow=cfm(q))
        for p, q in zip(pressures.split(), flows.split(), strict=True)
    )


def curve_test(
    rows: tuple[Reading, ...],
    key: str = "t1",
    *,
    system: str = "s1",
    target: str = "25",
    direction: Direction = Direction.PRESSURIZE,
    metric: Metric = Metric.TOTAL,
    stage: Stage = Stage.ROUGH_IN,
    basis: FlowBasis = FlowBasis.AS_INDICATED,
    baseline: str = "0",
    ring: str = "",
    method: Method = Method.SEVERAL_PRESSURES,
    ambient: Ambient | None = None,
) -> LeakageTest:
    return LeakageTest(
        key=key,
        system=system,
        setup=SetUp(
            stage=stage,
            metric=metric,
            method=method,
            direction=direction,
            reference=Reference.HOUSE_OPEN,
            target_pressure=pa(target),
            ring=ring,
            flow_basis=basis,
        ),
        ambient=ambient or Ambient(),
        baseline_before=pa(baseline),
        baseline_after=pa(baseline),
        readings=rows,
    )


def job_of(*tests: LeakageTest, house: House | None = None, system: DuctSystem | None = None) -> Job:
    return Job(
        number="T-2",
        house=house or House(floor_area=ft2("1,520"), area_source=AreaSource.MEASURED),
        systems=(system or DuctSystem(key="s1", name="System 1", area_served=ft2("1,520")),),
        gauges=(GAUGE,),
        fans=(FAN,),
        tests=tests,
        compliance=Compliance(limits=(ChosenLimit(key="l1", edition=EDITION),)),
    )


def number(text: str, kind: Kind):  # noqa: ANN201
    return typed(text, kind)
