from __future__ import annotations

import json
import zipfile
from pathlib import Path
from typing import Any

import pytest

from deskapp.archive import container, job_file
from deskapp.archive.job_file import JobFileProblem
from deskapp.domain.finding import Level
from deskapp.domain.job import Job
from deskapp.domain.leak import Leak, Photo


def envelope(**changes: Any) -> dict[str, Any]:
    return {"format": "ductfolio-job", "version": 1, "job": {}} | changes


def zipped(path: Path, entries: dict[str, bytes], compression: int = zipfile.ZIP_DEFLATED) -> Path:
    with zipfile.ZipFile(path, "w", compression) as archive:
        for name, data in entries.items():
            archive.writestr(name, data)
    return path


def packed_job(path: Path, content: object) -> Path:
    return zipped(path, {"job.json": json.dumps(content).encode()})


def problem_of(path: Path) -> JobFileProblem:
    with pytest.raises(JobFileProblem) as caught:
        job_file.read(path)
    assert "Traceback" not in caught.value.text
    assert caught.value.text == str(caught.value)
    return caught.value


def test_that_a_written_job_reads_back_equal_with_its_pictures(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    path = tmp_path / "example.ductjob"
    job_file.write(path, job, photos)
    found = job_file.read(path)
    assert found.job == job
    assert found.photos == photos
    assert found.notices == ()


def test_that_an_empty_job_can_be_saved(tmp_path: Path) -> None:
    path = tmp_path / "new.ductjob"
    job_file.write(path, Job(), {})
    assert job_file.read(path).job == Job()


def test_that_half_a_character_never_keeps_a_job_from_being_saved(tmp_path: Path) -> None:
    path = tmp_path / "half.ductjob"
    job_file.write(path, Job(number="J-1", comments="pasted \ud83d half"), {})
    assert job_file.read(path).job == Job(number="J-1", comments="pasted ? half")


def test_that_any_text_survives_saving(tmp_path: Path) -> None:
    path = tmp_path / "text.ductjob"
    job = Job(comments='"quoted" \\ \u2028 \x00 \r\n\t ² ° \U0001f600', title="´`<>&%{}")
    job_file.write(path, job, {})
    assert job_file.read(path).job == job


def test_that_the_same_job_gives_the_same_bytes(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    first, second = tmp_path / "a.ductjob", tmp_path / "b.ductjob"
    job_file.write(first, job, photos)
    job_file.write(second, job_file.read(first).job, dict(reversed(photos.items())))
    assert first.read_bytes() == second.read_bytes()


def test_that_pictures_no_longer_referred_to_are_not_written(
    tmp_path: Path, photos: dict[str, bytes]
) -> None:
    path = tmp_path / "a.ductjob"
    job_file.write(path, Job(), photos)
    assert zipfile.ZipFile(path).namelist() == ["job.json"]


def test_that_any_zip_program_can_open_a_job_file_and_read_its_text(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    path = tmp_path / "a.ductjob"
    job_file.write(path, job, photos)
    with zipfile.ZipFile(path) as archive:
        assert archive.testzip() is None
        content = json.loads(archive.read("job.json"))
    assert content["format"] == "ductfolio-job"
    assert content["version"] == 1
    assert content["job"]["systems"][0]["area_served"]["typed"] == "1,520"


def test_that_a_folder_and_a_plain_json_file_are_read_with_their_pictures(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    packed = tmp_path / "a.ductjob"
    job_file.write(packed, job, photos)
    folder = tmp_path / "unpacked"
    zipfile.ZipFile(packed).extractall(folder)
    for path in (folder, folder / "job.json"):
        found = job_file.read(path)
        assert found.job == job
        assert found.photos == photos


def test_that_a_byte_order_mark_before_the_text_does_no_harm(tmp_path: Path) -> None:
    path = tmp_path / "job.json"
    path.write_text(json.dumps(envelope()), encoding="utf-8-sig")
    assert job_file.read(path).job == Job()


def test_that_a_missing_file_is_named(tmp_path: Path) -> None:
    problem = problem_of(tmp_path / "gone.ductjob")
    assert problem.code == "no-file"
    assert "gone.ductjob" in problem.text


def test_that_a_folder_without_a_job_is_named(tmp_path: Path) -> None:
    problem = problem_of(tmp_path)
    assert problem.code == "not-a-job"
    assert str(tmp_path) in problem.text


@pytest.mark.parametrize(
    "content", [b"", b"PK\x03\x04 cut", b"%PDF-1.7 something else", b"\0" * 99]
)
def test_that_a_file_that_is_no_zip_is_called_damaged(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "x.ductjob"
    path.write_bytes(content)
    assert problem_of(path).code == "damaged"


def test_that_a_file_cut_anywhere_never_opens_half_a_job(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    whole = job_file.packed(job, photos)
    path = tmp_path / "cut.ductjob"
    for length in range(0, len(whole), max(1, len(whole) // 60)):
        path.write_bytes(whole[:length])
        assert problem_of(path).code == "damaged"


def test_that_a_flipped_byte_gives_words_and_never_another_job(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    whole = job_file.packed(job, photos)
    path = tmp_path / "flipped.ductjob"
    for place in range(0, len(whole), 7):
        data = bytearray(whole)
        data[place] ^= 0x55
        path.write_bytes(bytes(data))
        try:
            found = job_file.read(path)
        except JobFileProblem as problem:
            assert problem.code in {"damaged", "not-a-job", "too-large"}, problem.text
        else:
            assert found.job == job
            assert found.photos == photos or found.notices


def test_that_a_newer_version_is_named_with_both_numbers(tmp_path: Path) -> None:
    problem = problem_of(packed_job(tmp_path / "n.ductjob", envelope(version=7)))
    assert problem.code == "newer-version"
    assert "made by a newer Ductfolio, version 7" in problem.text
    assert "this one reads up to 1" in problem.text


@pytest.mark.parametrize("version", [0, -1, "1", True, None, 1.5])
def test_that_a_strange_version_is_called_damaged(tmp_path: Path, version: object) -> None:
    assert (
        problem_of(packed_job(tmp_path / "v.ductjob", envelope(version=version))).code == "damaged"
    )


@pytest.mark.parametrize("content", [{}, [], "job", envelope(format="something-else")])
def test_that_another_format_is_not_taken_for_a_job(tmp_path: Path, content: object) -> None:
    problem = problem_of(packed_job(tmp_path / "o.ductjob", content))
    assert problem.code == "not-a-job"


def test_that_a_zip_without_a_job_inside_is_named(tmp_path: Path) -> None:
    assert problem_of(zipped(tmp_path / "z.ductjob", {"a.txt": b"hi"})).code == "not-a-job"


@pytest.mark.parametrize(
    "text",
    [
        b"{",
        b'{"format": "ductfolio-job", "version": 1}',
        b'{"format": "ductfolio-job", "version": 1, "job": 5}',
        b'{"format": "ductfolio-job", "version": 1, "job": {"number": NaN}}',
        b"\xff\xfe{}",
        b"[" * 200_000,
    ],
)
def test_that_text_that_is_no_json_is_called_damaged(tmp_path: Path, text: bytes) -> None:
    path = tmp_path / "job.json"
    path.write_bytes(text)
    assert problem_of(path).code == "damaged"


@pytest.mark.parametrize(
    ("job", "words"),
    [
        (
            {"systems": [{"key": "a", "area_served": {"si": "1520"}}]},
            'Floor area served (system 1)” must be a number; found "1520"',
        ),
        ({"systems": [{"name": "Upper floor"}]}, "System 1” is missing (systems.0.key)"),
        ({"colour": "green"}, "“colour” is not known here"),
        ({"house": {"area_source": "guessed"}}, "“Where the areas come from” must be one of"),
        ({"site": {"permit_date": {"value": "11 March"}}}, "“Permit date” must be a day such as"),
        ({"number": 17}, "“Job number” must be text in quotation marks; found 17"),
        ({"systems": {}}, "must be a list"),
        (
            {"compliance": {"limits": [{"key": "a", "edition": {"id": "x"}}]}},
            "“Limit 1” is missing (compliance.limits.0.edition.body)",
        ),
    ],
)
def test_that_a_field_that_does_not_fit_is_named(
    tmp_path: Path, job: dict[str, Any], words: str
) -> None:
    problem = problem_of(packed_job(tmp_path / "f.ductjob", envelope(job=job)))
    assert problem.code == "field"
    assert words in problem.text
    assert "pydantic" not in problem.text


def test_that_two_rows_with_one_key_are_refused_by_name(tmp_path: Path) -> None:
    twice = envelope(job={"fans": [{"key": "f", "rings": [{"key": "r"}, {"key": "r"}]}]})
    problem = problem_of(packed_job(tmp_path / "k.ductjob", twice))
    assert problem.code == "double-key"
    assert "Ring 2 (fan 1)" in problem.text


def test_that_a_small_file_that_unpacks_to_too_much_is_refused(tmp_path: Path) -> None:
    huge = b" " * (container.MOST_JOB_BYTES + 1)
    path = zipped(tmp_path / "bomb.ductjob", {"job.json": huge})
    assert path.stat().st_size < 100_000
    assert problem_of(path).code == "too-large"


def test_that_too_many_entries_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(container, "MOST_ENTRIES", 3)
    path = zipped(tmp_path / "many.ductjob", {f"photos/{n}": b"" for n in range(4)})
    assert problem_of(path).code == "too-large"


def test_that_a_missing_picture_leaves_the_job_open_with_a_notice(tmp_path: Path, job: Job) -> None:
    path = tmp_path / "a.ductjob"
    job_file.write(path, job, {})
    found = job_file.read(path)
    assert found.job == job
    [notice] = found.notices
    assert (notice.code, notice.path, notice.level) == (
        "photo-missing",
        "leaks.0.photos.0",
        Level.CHECK,
    )
    assert "boot.jpg" in notice.text


def test_that_a_changed_picture_is_left_out_with_a_notice(
    tmp_path: Path, job: Job, photos: dict[str, bytes]
) -> None:
    [digest] = photos
    content = {"job.json": job_file.packed(job, {})}
    with zipfile.ZipFile(tmp_path / "w.zip", "w") as archive:
        archive.writestr("x", b"")
    job_file.write(tmp_path / "good.ductjob", job, photos)
    text = zipfile.ZipFile(tmp_path / "good.ductjob").read("job.json")
    content = {"job.json": text, f"photos/{digest}.jpg": b"another picture"}
    found = job_file.read(zipped(tmp_path / "c.ductjob", content))
    assert found.job == job
    assert found.photos == {}
    assert [notice.code for notice in found.notices] == ["photo-changed"]


def test_that_a_picture_name_cannot_reach_outside_its_folder(tmp_path: Path, job: Job) -> None:
    (tmp_path / "secret.jpg").write_bytes(b"secret")
    folder = tmp_path / "job"
    (folder / "photos").mkdir(parents=True)
    leak = Leak(key="l", photos=(Photo(digest="../../secret"),))
    text = zipfile.ZipFile(_written(tmp_path, job.model_copy(update={"leaks": (leak,)})))
    (folder / "job.json").write_bytes(text.read("job.json"))
    found = job_file.read(folder)
    assert found.photos == {}
    assert [notice.code for notice in found.notices] == ["photo-missing"]


def _written(folder: Path, job: Job) -> Path:
    path = folder / "w.ductjob"
    job_file.write(path, job, {})
    return path


def test_that_an_encrypted_or_oddly_packed_entry_is_called_damaged(tmp_path: Path) -> None:
    path = zipped(tmp_path / "l.ductjob", {"job.json": b"{}"}, zipfile.ZIP_LZMA)
    assert problem_of(path).code == "damaged"
    plain = zipped(tmp_path / "e.ductjob", {"job.json": b"{}"}, zipfile.ZIP_STORED)
    data = bytearray(plain.read_bytes())
    data[6] |= 1
    data[data.rindex(b"PK\x01\x02") + 8] |= 1
    plain.write_bytes(bytes(data))
    assert problem_of(plain).code == "damaged"
