"""The figures on the papers of the four invented samples are those worked out apart from them.

Worked outside, from the typed readings alone: ring flow, baseline, density and target by hand
arithmetic in numpy; curves and their intervals with scipy.stats (linregress, t.ppf); budgets with
the `uncertainties` library, inputs shared by two tests taken as one variable; shares delivered in
inch-pound units by equations 6-23, 6-25 and 6-40 of ASHRAE Standard 152 (read in a secondary
source). Air density by psychrolib agrees to 0.02%; its uncertainty was worked from that as well.
Each figure stands here as it has to be printed.
"""

from __future__ import annotations

import pytest
from report_jobs import report_input, sample
from report_text import drawn, pages_of, texts_in

from deskapp.assess.evaluate import evaluate
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

FIGURES: dict[str, tuple[str, ...]] = {
    "larkspur": (
        "54.2 ± 3.2 cfm (25.6 L/s; k = 2)",
        "Uncertainty of the measured value: ± 3.3 cfm (k = 2)",
        "3.56 cfm/100 ft² (0.1810 L/(s·m²))",
        "39.0 ± 2.3 cfm (18.4 L/s; k = 2)",
        "29.7 ± 1.7 cfm (14.0 L/s; k = 2)",
        "per floor area 2.65 ± 0.16 cfm/100 ft²",
        "of the air handler's flow 3.7 ± 0.2%",
        "9.3 ± 0.7 cfm less, 23.9% ± 0.9% of the first result",
        "10.2 in²",
        "5.6 in²",
    ),
    "maple": (
        "617.4 ± 39.7 cfm (291.4 L/s; k = 2)",
        "between 599.8 cfm and 635.6 cfm",
        "± 10.4 cfm (4.9 L/s)",
        "167.9 ± 9.8 cfm (79.3 L/s; k = 2)",
        "per floor area 9.03 ± 0.54 cfm/100 ft²",
        "of the air handler's flow 14.0 ± 0.8%",
        "449.5 ± 40.7 cfm less, 72.8% ± 2.3% of the first result",
        "96.0 ± 20.3 cfm",
        "194.9 ± 17.1 cfm",
        "6.1 ± 28.1 cfm",
        "152.4 ± 11.5 cfm",
        "449.4 ± 40.9 cfm",
        "Heat that reaches the rooms 69% 86% 92%",
        "Cool air that reaches the rooms 67% 85% 93%",
        "about $60 to $160 a year. The work saves about $180 to $640 a year",
        "116.8 in²",
        "31.8 in²",
    ),
    "crossover": (
        "312.0 ± 23.3 cfm (147.2 L/s; k = 2)",
        "121.3 ± 8.5 cfm (57.2 L/s; k = 2)",
        "10.85 cfm (10.63 to 11.08 cfm)",
        "0.617 (0.611 to 0.623)",
        "0.99997",
        "121.3 cfm (120.82 to 121.74 cfm)",
        "120.37 to 122.20 cfm",
        "could be up to 3.6% of the result",
        "per floor area 8.33 ± 0.61 cfm/100 ft²",
        "of the air handler's flow 10.9 ± 0.8%",
        "Heat that reaches the rooms 80% 88% 94%",
        "16.2 in²",
    ),
    "clinic": (
        "130.4 ± 8.1 cfm (61.5 L/s; k = 2)",
        "0.07312 lb/ft³",
        "1.013912",
        "0.331 ≤ 0.442: pass, 0.111 L/(s·m²) to spare",
        "± 0.028 L/(s·m²)",
        "for the flow alone it is ± 0.020 L/(s·m²)",
        "per duct surface 6.51 ± 0.55 cfm/100 ft²",
        "Leakage class 4.8",
        "6.1 in²",
    ),
}

BUDGETS: dict[str, tuple[tuple[str, ...], ...]] = {
    "larkspur": (
        ("± 1.56 cfm", "± 0.22 cfm", "± 0.19 cfm", "± 0.16 cfm", "± 0.01 cfm", "± 0.00 cfm"),
        ("± 0.86 cfm", "± 0.11 cfm", "± 0.10 cfm", "± 0.09 cfm", "< 0.01 cfm", "± 0.00 cfm"),
    ),
    "maple": (
        ("± 4.85 cfm", "± 0.58 cfm", "± 0.48 cfm", "± 0.35 cfm", "< 0.01 cfm", "± 0.00 cfm"),
    ),
    "crossover": (
        ("± 3.50 cfm", "± 2.32 cfm", "± 0.43 cfm", "± 0.35 cfm", "± 0.23 cfm", "± 0.00 cfm"),
    ),
    "clinic": (("± 3.76 cfm", "± 1.30 cfm", "± 0.49 cfm", "± 0.42 cfm", "< 0.01 cfm"),),
}


def plain(text: str) -> str:
    return " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())


@pytest.mark.parametrize("name", FIGURES)
def test_that_the_technical_record_prints_what_was_worked_out_outside(technical, name):
    document = build(technical, report_input(sample(name)))
    said = plain(" ".join(texts_in(document.blocks)))
    missing = [figure for figure in FIGURES[name] if figure not in said]
    assert missing == []


@pytest.mark.parametrize("name", BUDGETS)
def test_that_each_row_of_a_budget_is_that_of_another_library(technical, name):
    document = build(technical, report_input(sample(name)))
    tables = [
        block
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[0].title == "Uncertainty from"
    ]
    printed = [tuple(plain(row[2]) for row in table.rows) for table in tables]
    assert [rows[: len(own)] for rows, own in zip(printed, BUDGETS[name], strict=True)] == list(
        BUDGETS[name]
    )


@pytest.mark.parametrize("system", UnitSystem)
@pytest.mark.parametrize("name", BUDGETS)
def test_that_no_uncertainty_of_a_budget_is_printed_as_none_unless_it_is_none(
    technical, name, system
):
    job = sample(name)
    formatter = Formatter(system, NumberStyle.POINT)
    document = build(technical, report_input(job, formatter=formatter))
    printed = [
        row
        for block in document.blocks
        if isinstance(block, b.Table) and block.columns[0].title == "Uncertainty from"
        for row in block.rows
    ]
    budgets = [test.budget for test in evaluate(job).tests if test.budget]
    known = {
        (row.label, row.basis): row for budget in budgets for row in budget.rows if row.contribution
    }
    assert known
    for label, of_input, of_result, basis, _share in printed:
        if (label, basis.rstrip("*")) in known:
            assert any(digit in "123456789" for digit in of_input), label
            assert any(digit in "123456789" for digit in of_result), label


def test_that_an_uncertainty_has_two_digits_however_small_its_unit_makes_it(technical):
    # By hand, half-widths over the root of 3: 1 K of 294.15 K, 0.5% of the barometer, and dry to
    # wet air, 0.378 x 2488 / 98900; their root sum of squares times 0.07312 lb/ft3.
    document = build(technical, report_input(sample("clinic")))
    said = plain(" ".join(texts_in(document.blocks)))
    assert "Air density at the fan ± 0.00048 lb/ft³ ± 0.42 cfm" in said


@pytest.mark.parametrize("system", UnitSystem)
def test_that_no_unit_is_parted_where_a_row_of_a_table_has_a_long_one(technical, system):
    """Density and leakage per duct surface have the longest units of all in the tables."""
    formatter = Formatter(system, NumberStyle.POINT)
    document = build(technical, report_input(sample("clinic"), formatter=formatter))
    pages = "\n".join(pages_of(drawn(document)))
    assert [unit for unit in ("lb/\n", "kg/\n", "L/\n") if unit in pages] == []
