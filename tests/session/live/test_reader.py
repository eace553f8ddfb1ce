from __future__ import annotations

from importlib.metadata import EntryPoint, EntryPoints

import pytest

from deskapp.domain.finding import Finding
from deskapp.session.live import reader as reader_module
from deskapp.session.live.comma_lines import CommaReader
from deskapp.session.live.reader import (
    GROUP,
    KEPT_REFUSALS,
    LineIntake,
    OfferedReader,
    Refusal,
    offered_readers,
    open_reader,
)
from deskapp.session.live.samples import Sample

HERE = "deskapp.session.live.comma_lines"


class Scripted:
    """Answers each line with the next of its answers, or raises it."""

    def __init__(self, *answers: object) -> None:
        self._answers = list(answers)

    def read(self, _line, _arrived):
        answer = self._answers.pop(0)
        if isinstance(answer, Exception):
            raise answer
        return answer


class UnsayableError(Exception):
    def __str__(self):
        raise RuntimeError


def offer(value: str, name: str = "plain") -> OfferedReader:
    return OfferedReader(name, "some-package", EntryPoint(name, value, GROUP))


def test_that_every_line_is_counted_by_what_became_of_it():
    sample = Sample(0.0, 1.0)
    intake = LineIntake(Scripted(sample, None, Refusal("Too short."), sample))
    assert [intake.take(f"line {n}", 0.0) for n in range(4)] == [sample, None, None, sample]
    tally = intake.tally
    assert (tally.lines, tally.samples, tally.passed_over, tally.refused) == (4, 2, 1, 1)
    assert tally.text == ("1 of 4 lines gave no reading. The last one: “line 2”. Too short.")


@pytest.mark.parametrize("answer", [ValueError("no"), RecursionError(), UnsayableError(), 3.0, "x"])
def test_that_a_reader_of_another_package_cannot_stop_the_stream(answer):
    intake = LineIntake(Scripted(answer, Sample(0.0, 1.0)))
    assert intake.take("?", 0.0) is None
    assert intake.tally.refused == 1
    assert intake.take("25", 0.0) == Sample(0.0, 1.0)


def test_that_only_the_latest_refusals_are_kept():
    intake = LineIntake(Scripted(*[Refusal("No.")] * 100))
    for number in range(100):
        intake.take("x" * 10_000 + str(number), 0.0)
    kept = intake.tally.last_refused
    assert [line.number for line in kept] == list(range(101 - KEPT_REFUSALS, 101))
    assert all(len(line.excerpt) <= 40 for line in kept)


def test_that_lines_dropped_for_their_length_are_counted():
    intake = LineIntake(Scripted())
    intake.drop(2)
    assert (intake.tally.lines, intake.tally.refused) == (2, 2)
    assert "longer" in intake.tally.text


def test_that_readers_of_other_packages_are_listed_without_being_imported(monkeypatch):
    points = EntryPoints(
        [EntryPoint("Zeta", "no.such.module:X", GROUP), EntryPoint("alpha", f"{HERE}:X", GROUP)]
    )
    asked: list[str] = []

    def listed(*, group: str) -> EntryPoints:
        asked.append(group)
        return points

    monkeypatch.setattr(reader_module, "entry_points", listed)
    offers = offered_readers()
    assert not isinstance(offers, Finding)
    assert [offered.title for offered in offers] == ["alpha", "Zeta"]
    assert asked == ["ductfolio.readers"]


def test_that_a_package_on_disk_is_found_by_its_entry_point(tmp_path, monkeypatch):
    info = tmp_path / "two_numbers-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: two-numbers\nVersion: 1.0\n")
    (info / "entry_points.txt").write_text(f"[{GROUP}]\ntwo numbers = two_numbers_reader:Two\n")
    (tmp_path / "two_numbers_reader.py").write_text(
        "from deskapp.session.live.samples import Sample\n"
        "class Two:\n"
        "    def read(self, line, arrived):\n"
        "        duct, signal = line.split()\n"
        "        return Sample(arrived, float(duct), float(signal))\n"
    )
    monkeypatch.syspath_prepend(tmp_path)
    offers = offered_readers()
    assert not isinstance(offers, Finding)
    (found,) = (one for one in offers if one.title == "two numbers")
    assert found.package == "two-numbers"
    opened = open_reader(found)
    assert not isinstance(opened, Finding)
    assert LineIntake(opened).take("-25 60", 4.0) == Sample(4.0, -25.0, 60.0)


def test_that_a_damaged_package_beside_is_told_in_words(tmp_path, monkeypatch):
    info = tmp_path / "damaged-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text("Metadata-Version: 2.1\nName: damaged\nVersion: 1.0\n")
    (info / "entry_points.txt").write_bytes(b"[ductfolio.readers]\nx = \xff")
    monkeypatch.syspath_prepend(tmp_path)
    found = offered_readers()
    assert isinstance(found, Finding)
    assert "cannot be listed" in found.what


def test_that_nothing_is_remarked_while_every_line_gives_a_reading():
    assert LineIntake(Scripted()).tally.text == ""


def test_that_each_stream_gets_a_reader_of_its_own():
    first, second = (open_reader(offer(f"{HERE}:CommaReader")) for _ in range(2))
    assert isinstance(first, CommaReader)
    assert first is not second


@pytest.mark.parametrize(
    "value",
    ["no.such.module:X", f"{HERE}:NoSuchName", f"{HERE}:TITLE", "builtins:dict", "not a place"],
)
def test_that_a_broken_reader_is_told_in_words(value):
    found = open_reader(offer(value, "Fancy"))
    assert isinstance(found, Finding)
    assert "Fancy" in found.what
    assert "some-package" in found.what
    assert found.mend
