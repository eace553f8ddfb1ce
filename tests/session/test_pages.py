from __future__ import annotations

import subprocess
import sys

import pytest

from deskapp.domain.fields import FIELDS
from deskapp.session.pages import PAGES, page_of
from tests.job_lists import LISTS

ALL_PATHS = [path for page in PAGES for section in page.sections for path in section.fields]


def test_that_every_field_stands_on_exactly_one_page():
    assert sorted(ALL_PATHS) == sorted(field.path for field in FIELDS)


def test_that_the_pages_come_in_the_order_a_tester_learns_things():
    ids = [page.id for page in PAGES]
    assert ids == [
        "client",
        "house",
        "safety",
        "setup",
        "readings",
        "result",
        "leaks",
        "leave",
        "report",
    ]


def test_that_each_page_says_in_one_sentence_what_it_is_for():
    for page in PAGES:
        assert page.title
        assert page.purpose.endswith(".")
        assert page.purpose.count(".") == 1


def test_that_a_row_section_holds_only_fields_of_its_list():
    for page in PAGES:
        for section in page.sections:
            assert section.kind == ("rows" if section.list_path else "fields")
            assert section.fields
            for path in section.fields:
                owner, _star, _field = path.rpartition("*.")
                assert owner.rstrip(".") == section.list_path


def test_that_every_list_that_takes_rows_has_a_section():
    lists = {section.list_path for page in PAGES for section in page.sections}
    assert lists - {""} == set(LISTS)


@pytest.mark.parametrize(
    ("path", "page"),
    [
        ("number", "client"),
        ("compliance.path", "client"),
        ("systems.1.area_served", "house"),
        ("systems.1", "house"),
        ("fans.0.rings.2.exponent", "setup"),
        ("tests.0.setup.ring", "setup"),
        ("tests.0.readings.2.fan_signal", "readings"),
        ("tests.0.readings.2", "readings"),
        ("tests.0.baseline_after", "readings"),
        ("tests.0", "setup"),
        ("compliance.limits", "result"),
        ("compliance.limits.0", "result"),
        ("leaks.0.photos.1", "leaks"),
        ("safety.gas_smell", "safety"),
        ("arrival.1.what", "safety"),
        ("arrival.1.undone", "leave"),
        ("tester.name", "report"),
        ("nowhere", ""),
    ],
)
def test_that_a_finding_leads_to_the_page_of_its_field(path: str, page: str):
    assert page_of(path) == page


@pytest.mark.parametrize(
    "module",
    ["deskapp.session.pages", "deskapp.session.first_look", "deskapp.domain.fields"],
)
def test_that_what_the_window_needs_first_loads_no_big_library(module: str):
    code = (
        f"import sys, {module}; "
        "big = {'pydantic', 'pint', 'reportlab', 'PIL', 'numpy', 'scipy', 'PySide6'}; "
        "print(sorted(big & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"
