from __future__ import annotations

import json
from pathlib import Path

import pytest
from PIL import Image

from deskapp.domain.branding import Branding
from deskapp.session.branding import FILE_NAME, BrandingFile, load, save

# An invented company.
OURS = Branding(
    company="Brookside Air Sealing",
    license="C-20 000000",
    address="1 Example Street, Springdale",
    phone="555-0100",
    email="office@example.com",
    accent="#204060",
)


@pytest.fixture
def picture(tmp_path: Path) -> Path:
    path = tmp_path / "our sign.png"
    Image.new("RGB", (40, 20), "navy").save(path)
    return path


def test_that_branding_comes_back_as_it_was_saved_with_its_logo_beside_it(
    tmp_path: Path, picture: Path
):
    path = tmp_path / "kept" / FILE_NAME
    assert save(path, OURS, picture) == ()
    read = load(path)
    assert read.findings == ()
    assert read.branding == OURS.model_copy(update={"logo": "logo.png"})
    assert read.logo == path.parent / "logo.png"
    with Image.open(read.logo) as logo:
        assert logo.size == (40, 20)


def test_that_saving_without_a_new_logo_keeps_the_old_one(tmp_path: Path, picture: Path):
    path = tmp_path / "kept" / FILE_NAME
    save(path, OURS, picture)
    save(path, load(path).branding.model_copy(update={"phone": "555-0199"}))
    assert load(path).logo is not None
    assert load(path).branding.phone == "555-0199"


def test_that_without_a_file_the_plain_look_holds(tmp_path: Path):
    assert load(tmp_path / FILE_NAME) == BrandingFile()


@pytest.mark.parametrize("accent", ["blue", "#12345", "#1234567", "#12345g", "", "rgb(1,2,3)"])
def test_that_another_color_is_neither_used_nor_saved(tmp_path: Path, accent: str):
    path = tmp_path / FILE_NAME
    path.write_text(json.dumps({"company": "Ours", "accent": accent}))
    read = load(path)
    assert read.branding == Branding(company="Ours")
    (finding,) = read.findings
    assert finding.path == "branding.accent"
    assert "#1f5f7a" in finding.mend
    (refused,) = save(tmp_path / "other.json", OURS.model_copy(update={"accent": accent}))
    assert refused.path == "branding.accent"
    assert not (tmp_path / "other.json").exists()


def test_that_a_logo_that_is_no_picture_is_left_out_with_a_mend(tmp_path: Path):
    path = tmp_path / FILE_NAME
    (tmp_path / "logo.png").write_text("not a picture")
    path.write_text(json.dumps({"company": "Ours", "logo": "logo.png"}))
    read = load(path)
    assert read.logo is None
    (finding,) = read.findings
    assert finding.path == "branding.logo"
    assert "logo.png" in finding.what
    assert finding.mend


def test_that_a_missing_logo_is_named(tmp_path: Path):
    path = tmp_path / FILE_NAME
    path.write_text(json.dumps({"logo": "gone.png"}))
    (finding,) = load(path).findings
    assert "gone.png" in finding.what


def test_that_a_logo_is_only_looked_for_beside_the_file(tmp_path: Path, picture: Path):
    path = tmp_path / "inner" / FILE_NAME
    path.parent.mkdir()
    path.write_text(json.dumps({"logo": f"../{picture.name}"}))
    assert load(path).logo is None


def test_that_a_new_logo_that_is_no_picture_saves_nothing(tmp_path: Path):
    text = tmp_path / "text.png"
    text.write_text("not a picture")
    path = tmp_path / FILE_NAME
    (finding,) = save(path, OURS, text)
    assert finding.path == "branding.logo"
    assert not path.exists()


@pytest.mark.parametrize("text", ["", "{", "[]", "3", "[" * 100_000])
def test_that_a_damaged_file_gives_the_plain_look_and_a_finding(tmp_path: Path, text: str):
    path = tmp_path / FILE_NAME
    path.write_text(text)
    read = load(path)
    assert read.branding == Branding()
    (finding,) = read.findings
    assert FILE_NAME in finding.what


def test_that_an_entry_that_is_no_text_is_named_and_the_rest_holds(tmp_path: Path):
    path = tmp_path / FILE_NAME
    path.write_text(json.dumps({"company": 7, "phone": "555-0100", "motto": "later"}))
    read = load(path)
    assert read.branding == Branding(phone="555-0100")
    (finding,) = read.findings
    assert "company" in finding.what


def test_that_a_folder_that_cannot_be_written_is_named(tmp_path: Path):
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    (finding,) = save(blocked / "inner" / FILE_NAME, OURS)
    assert finding.what


def test_that_a_folder_in_the_place_of_the_file_is_no_crash(tmp_path: Path):
    (tmp_path / FILE_NAME).mkdir()
    assert load(tmp_path / FILE_NAME).findings
    assert save(tmp_path / FILE_NAME, OURS)
