"""The arithmetic on paper can be worked out again from its printed figures alone.

The formulas are written down here a second time, from what is printed: the ring law and the power
law of leakage, the orifice equation (ASHRAE Handbook—Fundamentals), the density of moist air
(ISO 9972), and a straight line through logarithms by numpy.polyfit. Only the text of the report is
read.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator
from statistics import mean

import numpy as np
import pytest
from report_jobs import report_input, retrofit, rough_in, sample

from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

JOBS = {
    "rough_in": rough_in,
    "retrofit": lambda: retrofit()[0],
    **{
        name: lambda name=name: sample(name)
        for name in ("larkspur", "maple", "crossover", "clinic")
    },
}
SYSTEMS = {"ip": (UnitSystem.IP, NumberStyle.POINT), "si": (UnitSystem.SI, NumberStyle.POINT)}
NUMBER = r"−?[\d,]*\.?\d+"
SHARE = 100.0

Figures = dict[str, float]

FORMULAS: dict[str, Callable[[Figures], float]] = {
    "b = (b₁ + b₂) / 2": lambda x: (x["b₁"] + x["b₂"]) / 2,
    "b": lambda x: x["b₁"] if "b₁" in x else x.get("b₂", 0.0),
    "P = p − b": lambda x: x["p"] - x["b"],
    "Q = C · s^m": lambda x: x["C"] * x["s"] ** x["m"],
    "√(ρ₀ / ρ)": lambda x: math.sqrt(x["ρ₀"] / x["ρ"]),
    "Q · √(ρ₀ / ρ)": lambda x: x["Q"] * x["√(ρ₀ / ρ)"],
    "ρ = (p − 0.378 · φ · pᵥ) / (287.055 · T)": lambda x: (
        (x["p"] - 0.378 * x["φ"] * x["pᵥ"]) / (287.055 * x["T"])
    ),
    "Qₜ = Q · (Pₜ / |P|)^n": lambda x: x["Q"] * (x["Pₜ"] / abs(x["P"])) ** x["n"],
    "mean of the readings": lambda x: mean(x.values()),
    "(Q₊ + Q₋) / 2": lambda x: mean(x.values()),
    "C = Q̄ / P̄^n, with geometric means of the readings": lambda x: x["Q̄"] / x["P̄"] ** x["n"],
    "Q = C · Pₜ^n": lambda x: x["C"] * x["Pₜ"] ** x["n"],
    "Q / Qₐ": lambda x: SHARE * x["Q"] / x["Qₐ"],
    "A = Q / (0.6 · √(2 · Pₜ / ρ₀))": lambda x: x["Q"] / (0.6 * math.sqrt(2 * x["Pₜ"] / x["ρ₀"])),
    "A = Q / (0.6 · √(2 · Pₜ / ρ))": lambda x: x["Q"] / (0.6 * math.sqrt(2 * x["Pₜ"] / x["ρ"])),
    "p = 101325 · (1 − 2.25577·10⁻⁵ · z)^5.2559": lambda x: (
        101325 * (1 - 2.25577e-5 * x["z"]) ** 5.2559
    ),
}
FROM_LINES_ABOVE = (
    "(largest − smallest) / mean",
    "n = Σ(x − x̄)(y − ȳ) / Σ(x − x̄)², x = ln P, y = ln Q",
)


def figure(text: str) -> float:
    """The first number of a text as printed."""
    found = re.search(NUMBER, text)
    assert found, text
    return float(found[0].replace(",", "").replace("−", "-"))


def decimals(text: str) -> int:
    """How many decimals the first number of a text has."""
    found = re.search(NUMBER, text)
    assert found, text
    return len(found[0].partition(".")[2])


def inputs(row: b.ArithmeticStep) -> Figures:
    """The inputs of a line by their symbols."""
    parts = re.split(r",\s(?=[^\d,][^,]*\s=\s)", row.numbers) if row.numbers else []
    named = (re.split(r"\s=\s", part, maxsplit=1) for part in parts)
    return {symbol: figure(value) for symbol, value in named}


def annexes(document: b.Document) -> Iterator[b.Steps]:
    """The arithmetic of each test."""

    def within(some: tuple[object, ...]) -> Iterator[b.Steps]:
        for block in some:
            if isinstance(block, b.Steps):
                yield block
            yield from within(getattr(block, "blocks", ()))

    return within(document.blocks)


def again(row: b.ArithmeticStep, above: dict[str, list[Figures]]) -> float:
    """The result of a line, worked out from what is printed in it or above it."""
    if row.formula == "(largest − smallest) / mean":
        flows = above["mean of the readings"][-1].values()
        return SHARE * (max(flows) - min(flows)) / mean(flows)
    if row.formula.startswith("n = Σ"):
        points = list(
            zip(above["pressures"][-1].values(), above["flows"][-1].values(), strict=True)
        )
        x, y = (np.log(np.abs(column)) for column in zip(*points, strict=True))
        return float(np.polyfit(x, y, 1)[0])
    if row.formula == "Q / A":
        found = inputs(row)
        hundred = 100.0 if "/100" in row.result else 1.0
        return hundred * found["Q"] / found["A"]
    return FORMULAS[row.formula](inputs(row))


def remembered(rows: b.Steps) -> Iterator[tuple[b.ArithmeticStep, float]]:
    """Each line with a result, and that result worked out again from what was printed so far."""
    above: dict[str, list[Figures]] = {}
    pressures: Figures = {}
    flows: Figures = {}
    for row in rows.rows:
        if row.formula == "1":
            continue
        above["pressures"], above["flows"] = [dict(pressures)], [dict(flows)]
        above.setdefault(row.formula, []).append(inputs(row))
        yield row, again(row, above)
        reading = row.label.rpartition(" ")[2]
        if row.formula == "P = p − b":
            pressures[reading] = figure(row.result)
        elif row.formula in {"Q = C · s^m", "Q · √(ρ₀ / ρ)"}:
            flows[reading] = figure(row.result)
        elif row.formula.startswith("n = Σ"):
            pressures, flows = {}, {}


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("job", JOBS)
def test_that_each_line_follows_from_the_figures_printed(technical, job, units):
    document = build(technical, report_input(JOBS[job](), formatter=Formatter(*SYSTEMS[units])))
    seen = 0
    for annex in annexes(document):
        for row, value in remembered(annex):
            last_place = 10.0 ** -decimals(row.result)
            assert value == pytest.approx(figure(row.result), abs=2 * last_place), row
            seen += 1
    assert seen


@pytest.mark.parametrize("units", SYSTEMS)
@pytest.mark.parametrize("job", JOBS)
def test_that_the_figures_worked_out_again_are_those_of_the_table_of_readings(
    technical, job, units
):
    document = build(technical, report_input(JOBS[job](), formatter=Formatter(*SYSTEMS[units])))
    tables = [
        block
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[-1].title == "Flow at target"
    ]
    worked = [annex for annex in annexes(document) if annex.rows]
    assert len(tables) == len(worked)
    for table, annex in zip(tables, worked, strict=True):
        printed = {row[0]: row for row in table.rows}
        for row, value in remembered(annex):
            place = row.label.rpartition(" ")[2]
            if row.formula == "Qₜ = Q · (Pₜ / |P|)^n":
                assert f"{value:.2f}" == f"{figure(printed[place][-1]):.2f}", row
            elif row.formula in {"mean of the readings", "Q = C · Pₜ^n"}:
                assert f"{value:.1f}" == f"{figure(table.rows[-1][-1]):.1f}", row


@pytest.mark.parametrize("job", JOBS)
def test_that_no_reading_has_fewer_digits_in_the_arithmetic_than_in_its_table(technical, job):
    document = build(technical, report_input(JOBS[job]()))
    for annex in annexes(document):
        for row in annex.rows:
            if row.formula.startswith("Qₜ = Q"):
                assert decimals(row.result) >= 2 or figure(row.result) == round(
                    figure(row.result), 1
                ), row
            if row.formula == "P = p − b":
                assert all(decimals(text) >= 1 for text in re.findall(NUMBER, row.numbers)), row
