"""What is printed into a file is there whole, or what was there stays."""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.session.printed_file import printed_aside
from deskapp.session.reports import ReportProblem


@pytest.mark.parametrize("data", [b"", b"%PDF-1.4\n1 0 obj", None])
def test_that_pages_cut_off_by_a_full_disk_are_told_and_not_kept(
    tmp_path: Path, data: bytes | None
) -> None:
    target = tmp_path / "out.pdf"
    target.write_bytes(b"an earlier one")
    with pytest.raises(ReportProblem, match="not printed whole"), printed_aside(target) as aside:
        if data is not None:
            aside.write_bytes(data)
    assert target.read_bytes() == b"an earlier one"
    assert list(tmp_path.iterdir()) == [target]


def test_that_whole_pages_are_put_in_place(tmp_path: Path) -> None:
    with printed_aside(tmp_path / "out.pdf") as aside:
        aside.write_bytes(b"%PDF-1.4\nall of it\n%%EOF\n")
    assert (tmp_path / "out.pdf").read_bytes() == b"%PDF-1.4\nall of it\n%%EOF\n"


def test_that_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    target = tmp_path / "no" / "out.pdf"
    with pytest.raises(ReportProblem, match="does not exist"), printed_aside(target) as aside:
        aside.write_bytes(b"%PDF-1.4\n%%EOF")
