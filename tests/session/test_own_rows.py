"""Copying and removing rows of a limit of one's own."""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.finding import Finding
from deskapp.domain.limit import Edition, Verification
from deskapp.session.limits_desk import LimitsDesk
from deskapp.session.own_rows import edition_without_row, with_copy
from deskapp.session.resources import load_shelf

ROOT = Path(__file__).parents[2]


@pytest.fixture
def edition(tmp_path: Path) -> Edition:
    shelf = load_shelf(ROOT / "resources", ROOT / "report_templates")
    code = shelf.edition("iecc-2021")
    assert code is not None
    return LimitsDesk(ROOT / "resources", tmp_path).start(code, "Our town")


def test_that_a_row_is_copied_under_an_id_of_its_own(edition: Edition) -> None:
    wider, row_id = with_copy(edition, "final")
    assert wider.rows[:-1] == edition.rows
    old, new = wider.row("final"), wider.row(row_id)
    assert old is not None
    assert new is not None
    assert row_id != "final"
    assert (new.rule, new.title, new.status) == (old.rule, old.title, Verification.USER)


def test_that_a_row_is_removed(edition: Edition) -> None:
    shorter = edition_without_row(edition, "final")
    assert isinstance(shorter, Edition)
    assert shorter.row("final") is None
    assert len(shorter.rows) == len(edition.rows) - 1


def test_that_the_last_row_stays(edition: Edition) -> None:
    while len(edition.rows) > 1:
        shorter = edition_without_row(edition, edition.rows[-1].id)
        assert isinstance(shorter, Edition)
        edition = shorter
    refused = edition_without_row(edition, edition.rows[0].id)
    assert isinstance(refused, Finding)
    assert "only row" in refused.text


def test_that_a_row_others_refer_to_stays(edition: Edition) -> None:
    first, second = edition.rows[0].id, edition.rows[1]
    rows = (edition.rows[0], second.model_copy(update={"alternative_to": first}))
    refused = edition_without_row(edition.model_copy(update={"rows": rows}), first)
    assert isinstance(refused, Finding)
    assert "cannot be removed yet" in refused.text


def test_that_a_row_that_is_not_there_is_no_row(edition: Edition) -> None:
    with pytest.raises(KeyError):
        with_copy(edition, "no such row")
    with pytest.raises(KeyError):
        edition_without_row(edition, "no such row")
