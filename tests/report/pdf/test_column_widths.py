"""Columns of a table share the width: no cell on many short lines beside empty room."""

from __future__ import annotations

from dataclasses import replace

import pytest
from report_jobs import ROOT, report_input
from report_text import drawn, pages_of

from deskapp.domain.job import Job
from deskapp.report import blocks as b
from deskapp.report.build.document import build
from deskapp.report.pdf.column_widths import fair_widths
from deskapp.report.pdf.faces import load_faces
from deskapp.report.pdf.look import Look, look_of

SIDES = 8.0
LONG = "a number of a certificate that is as long as few of them are, with letters"


@pytest.fixture(scope="module")
def look(homeowner) -> Look:
    document = build(homeowner, report_input(Job()))
    return look_of(document, {}, load_faces(ROOT / "resources" / "fonts"))


def table(*row: str) -> b.Table:
    return b.Table(tuple(b.Column(f"Column{n}") for n in range(len(row))), (row,))


def test_that_widths_stay_where_no_cell_has_many_lines(look):
    usual = [100.0, 200.0, 204.0]
    assert fair_widths(look, table("a", "some words", "other words"), usual, SIDES) == usual


def test_that_a_narrow_column_gets_the_room_that_others_leave(look):
    usual = [60.0, 300.0, 144.0]
    made = fair_widths(look, table(LONG, "short", "short"), usual, SIDES)
    assert made[0] > 2 * usual[0]
    assert sum(made) == pytest.approx(sum(usual))


def test_that_the_longest_word_of_a_column_keeps_its_room(look):
    face, size = look.faces.text, look.sizes.body * 0.95
    made = fair_widths(look, table(LONG * 3, "2026-11-30", "Laboratorium"), [60, 300, 144], SIDES)
    assert made[1] >= face.width("2026-11-30", size) + SIDES
    assert made[2] >= face.width("Laboratorium", size) + SIDES


def test_that_a_number_keeps_its_unit_beside_it(look):
    face, size = look.faces.text, look.sizes.body * 0.95
    figure = "0.331\N{NO-BREAK SPACE}L/(s·m²)"
    made = fair_widths(look, table(LONG * 3, figure, "x"), [60, 300, 144], SIDES)
    assert made[1] >= face.width(figure, size) + SIDES


def test_that_nothing_is_lost_where_widths_are_shared_anew(homeowner):
    document = replace(build(homeowner, report_input(Job())), blocks=(table(LONG * 4, "x", "y"),))
    text = " ".join(" ".join(pages_of(drawn(document))).split())
    assert all(word in text for word in LONG.split())
