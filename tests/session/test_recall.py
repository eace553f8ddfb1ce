from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.fields import FIELDS
from deskapp.domain.job import Job
from deskapp.domain.people import Tester
from deskapp.domain.site import Client, Site
from deskapp.session.recall import FILE_NAME, MOST, Recollection, forget, learn, load

SITE = Job(
    client=Client(name="An Owner", phone="555-0100", email="owner@example.com"),
    site=Site(city="  Boise ", builder="Larch Homes"),
    tester=Tester(name="Robin Vale"),
)


def in_city(name: str) -> Job:
    return Job(site=Site(city=name))


def test_that_entries_of_a_job_come_back_newest_first(tmp_path: Path):
    learn(tmp_path / "new", SITE)
    known = learn(tmp_path / "new", in_city("Nampa"))
    assert known.offered("site.city") == ("Nampa", "Boise")
    assert load(tmp_path / "new") == known
    assert known.offered("tester.name") == ("Robin Vale",)
    assert known.offered("site.postcode") == ()


def test_that_nothing_of_the_owner_is_kept(tmp_path: Path):
    learn(tmp_path, SITE)
    text = (tmp_path / FILE_NAME).read_text(encoding="utf-8")
    for word in ("An Owner", "555-0100", "owner@example.com"):
        assert word not in text
    assert not [spec.path for spec in FIELDS if spec.recalled and spec.path.startswith("client.")]


def test_that_an_entry_is_kept_once_whatever_its_case_and_the_oldest_go():
    known = Recollection()
    for number in range(MOST + 5):
        known = known.with_job(in_city(f"Town {number}"))
    known = known.with_job(in_city("TOWN  44")).with_job(in_city("x" * 500))
    offered = known.offered("site.city")
    assert len(offered) == MOST
    assert offered[0] == "TOWN 44"
    assert "Town 44" not in offered
    assert "Town 0" not in offered


@pytest.mark.parametrize("text", ["", "{", "[]", '{"entries": 3}', '{"entries": {"a": [1]}}'])
def test_that_a_damaged_file_counts_as_empty_and_is_written_anew(tmp_path: Path, text: str):
    (tmp_path / FILE_NAME).write_text(text, encoding="utf-8")
    assert load(tmp_path) == Recollection()
    assert learn(tmp_path, SITE).offered("site.city") == ("Boise",)
    assert load(tmp_path).offered("site.city") == ("Boise",)


def test_that_a_folder_that_cannot_be_written_keeps_nothing_from_working(tmp_path: Path):
    (tmp_path / "file").write_text("in the way", encoding="utf-8")
    assert learn(tmp_path / "file", SITE).offered("site.city") == ("Boise",)


def test_that_forgetting_deletes_the_file_and_says_so_where_it_cannot(tmp_path: Path):
    learn(tmp_path, SITE)
    assert forget(tmp_path) is None
    assert forget(tmp_path) is None
    assert load(tmp_path) == Recollection()
    (tmp_path / FILE_NAME).mkdir()
    finding = forget(tmp_path)
    assert finding is not None
    assert FILE_NAME in finding.what
