"""Checks of floor areas, fan flows and counts against each other."""

from __future__ import annotations

from collections.abc import Iterator

from deskapp.domain.choices import Metric, Stage, YesNo
from deskapp.domain.fields import label_of
from deskapp.domain.finding import Finding, Level
from deskapp.domain.job import Job
from deskapp.domain.measured import Measured, si_of
from deskapp.domain.system import DuctSystem
from deskapp.domain.trial import SIMULATED
from deskapp.i18n import _
from deskapp.units.convert import to_unit
from deskapp.units.display import UnitSystem, in_sentences
from deskapp.units.kinds import Kind

AREA_TOLERANCE = 0.05
"""Largest mismatch of the systems' areas against the house. Common practice, no source."""

USUAL_FLOW_PER_TON_CFM = (250.0, 450.0)
"""Usual air handler flow per ton of cooling. Common practice, no source."""

USUAL_AREA_PER_TON_FT2 = (300.0, 1500.0)
"""Usual floor area per ton of cooling. Common practice, no source."""

USUAL_HEIGHT_FT = (7.0, 14.0)
"""Usual volume over floor area. Common practice, no source."""


def check(job: Job) -> Iterator[Finding]:
    """Yield what does not fit together among house, systems and tests."""
    yield from _areas(job)
    yield from _volume(job)
    for position, system in enumerate(job.systems):
        yield from _capacity(position, system)
    yield from _tests(job)
    yield from _simulated(job)
    yield from _severities(job)
    if job.compliance.exemption_claimed is YesNo.YES and not job.compliance.exemption_reason:
        yield Finding(
            level=Level.CHECK,
            code="exemption_reason",
            path="compliance.exemption_reason",
            what=_("An exemption is claimed without a reason."),
            mend=_("Say which clause exempts the system and why."),
        )


def _area(measured: Measured, si: float) -> str:
    metric = measured.unit in {"m2", "cm2"}
    return (in_sentences(UnitSystem.SI) if metric else in_sentences()).show(Kind.AREA, si)


def _areas(job: Job) -> Iterator[Finding]:
    house = job.house.floor_area
    whole = si_of(house)
    if house is None or whole is None:
        return
    areas = [si_of(system.area_served) for system in job.systems]
    for position, area in enumerate(areas):
        if area is not None and area > whole * (1 + AREA_TOLERANCE):
            yield Finding(
                level=Level.STOP,
                code="area_above_house",
                path=f"systems.{position}.area_served",
                what=_("System {n} serves {area}, more than the whole house ({house}).").format(
                    n=position + 1, area=_area(house, area), house=_area(house, whole)
                ),
                mend=_("Correct the area of the system or of the house."),
            )
    known = [area for area in areas if area is not None]
    if not known or len(known) != len(areas):
        return
    total = sum(known)
    if abs(total - whole) > AREA_TOLERANCE * whole:
        yield Finding(
            level=Level.CHECK,
            code="area_sum",
            path="house.floor_area",
            what=_("The systems serve {total} in all, but the house has {house}.").format(
                total=_area(house, total), house=_area(house, whole)
            ),
            allowed=_("They should agree within 5%."),
            mend=_("Correct an area, or add the system that is missing."),
        )


def _volume(job: Job) -> Iterator[Finding]:
    area, volume = si_of(job.house.floor_area), si_of(job.house.volume)
    if not area or volume is None or area < 0:
        return
    height = to_unit(volume / area, "ft")
    low, high = USUAL_HEIGHT_FT
    if not low <= height <= high:
        yield Finding(
            level=Level.CHECK,
            code="volume",
            path="house.volume",
            what=_("Volume divided by floor area gives a height of {height}.").format(
                height=in_sentences().both(Kind.LENGTH, volume / area)
            ),
            allowed=_usual(_("Usual: {low} to {high} ft."), USUAL_HEIGHT_FT),
            mend=_("Check volume and floor area."),
        )


def _capacity(position: int, system: DuctSystem) -> Iterator[Finding]:
    capacity = si_of(system.cooling_capacity)
    if not capacity or capacity < 0:
        return
    tons = to_unit(capacity, "ton")
    flow, area = si_of(system.fan_flow), si_of(system.area_served)
    if flow is not None:
        low, high = USUAL_FLOW_PER_TON_CFM
        per_ton = to_unit(flow, "cfm") / tons
        if not low <= per_ton <= high:
            yield Finding(
                level=Level.CHECK,
                code="flow_per_ton",
                path=f"systems.{position}.fan_flow",
                what=_("System {n} moves {flow} cfm per ton of cooling.").format(
                    n=position + 1, flow=in_sentences().number(per_ton, 0)
                ),
                allowed=_usual(_("Usual: {low} to {high} cfm per ton."), USUAL_FLOW_PER_TON_CFM),
                mend=_("Check flow and capacity."),
            )
    if area is not None:
        low, high = USUAL_AREA_PER_TON_FT2
        per_ton = to_unit(area, "ft2") / tons
        if not low <= per_ton <= high:
            yield Finding(
                level=Level.CHECK,
                code="area_per_ton",
                path=f"systems.{position}.area_served",
                what=_("System {n} serves {area} ft² per ton of cooling.").format(
                    n=position + 1, area=in_sentences().number(per_ton, 0)
                ),
                allowed=_usual(_("Usual: {low} to {high} ft² per ton."), USUAL_AREA_PER_TON_FT2),
                mend=_("Check that the area is the part this system serves."),
            )


def _usual(words: str, span: tuple[float, float]) -> str:
    low, high = (in_sentences().number(bound, 0) for bound in span)
    return words.format(low=low, high=high)


def _tests(job: Job) -> Iterator[Finding]:
    for position, test in enumerate(job.tests):
        system = job.system(test.system)
        if system is None:
            continue
        setup = test.setup
        if setup.stage is Stage.FINAL and system.air_handler_installed is YesNo.NO:
            yield Finding(
                level=Level.CHECK,
                code="final_without_air_handler",
                path=f"tests.{position}.setup.stage",
                what=_("The test is a final one, yet the air handler is said not to be in place."),
                mend=_("Correct the stage or the air handler."),
            )
        pairs = (
            ("supplies_sealed", setup.supplies_sealed, system.supplies, 0.0),
            ("returns_sealed", setup.returns_sealed, system.returns, 1.0),
        )
        for name, sealed, counted, spare in pairs:
            yield from _counts(f"tests.{position}.setup.{name}", sealed, counted, spare)
        if setup.metric is Metric.OUTSIDE and si_of(test.house_pressure) is None:
            yield Finding(
                level=Level.CHECK,
                code="house_pressure_missing",
                path=f"tests.{position}.house_pressure",
                what=_("Leakage to outside was measured, but the house pressure is not recorded."),
                mend=_("Type the house pressure held by the second fan."),
            )


def _simulated(job: Job) -> Iterator[Finding]:
    marks = (SIMULATED, _(SIMULATED))
    for position, test in enumerate(job.tests):
        for row, reading in enumerate(test.readings):
            if reading.note.startswith(marks):
                path = f"tests.{position}.readings.{row}"
                yield Finding(
                    level=Level.STOP,
                    code="simulated",
                    path=f"{path}.duct_pressure",
                    what=_("{row} was simulated for training.").format(row=label_of(path)),
                    allowed=_("A report states what real ducts showed."),
                    mend=_("Remove the reading, and read the ducts."),
                )


def _severities(job: Job) -> Iterator[Finding]:
    for position, leak in enumerate(job.leaks):
        if leak.severity is not None and not leak.severity_reason.strip():
            path = f"leaks.{position}.severity_reason"
            yield Finding(
                level=Level.CHECK,
                code="severity_reason",
                path=path,
                what=_("{row} has a severity of your own without a reason.").format(
                    row=label_of(f"leaks.{position}")
                ),
                mend=_("Say why, or leave the severity to be worked out."),
            )


def _counts(
    path: str, sealed: Measured | None, counted: Measured | None, spare: float
) -> Iterator[Finding]:
    done, there = si_of(sealed), si_of(counted)
    if done is None or there is None or there - spare <= done <= there:
        return
    yield Finding(
        level=Level.CHECK,
        code="sealed_count",
        path=path,
        what=_("{done} registers were sealed, but the system has {there}.").format(
            done=in_sentences().number(done, 0), there=in_sentences().number(there, 0)
        ),
        mend=_("Look for a register that was missed, or correct a count."),
    )
