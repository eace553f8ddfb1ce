"""What a camera wrote into a picture, and pictures made to mislead. Tags by the Exif standard."""

from __future__ import annotations

import io
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image, PngImagePlugin

from deskapp.archive.photo_files import MOST_BYTES, PhotoProblem, read_picture, take_in

Draw = Callable[..., bytes]

EXIF_IFD, GPS_IFD, TAKEN, ORIENTATION = 0x8769, 0x8825, 0x9003, 0x0112


def exif_of(taken: object = "2026:03:05 09:31:12", place: dict[int, object] | None = None):
    exif = Image.Exif()
    exif.get_ifd(EXIF_IFD)[TAKEN] = taken
    if place is not None:
        exif.get_ifd(GPS_IFD).update(place)
    return exif


SOUTH_WEST = {1: "S", 2: (33.0, 51.0, 36.0), 3: "W", 4: (151.0, 12.0, 0.0)}


def test_that_the_time_of_the_camera_is_kept_and_the_place_only_where_asked(draw: Draw) -> None:
    data = draw(exif=exif_of(place=SOUTH_WEST))
    photo, stored = take_in(data, "a.jpg")
    assert photo.taken == "2026-03-05T09:31:12"
    assert photo.place is None
    assert b"Exif" not in stored
    kept, again = take_in(data, "a.jpg", keep_place=True)
    assert again == stored
    assert kept.place is not None
    # 33 + 51/60 + 36/3600 degrees; south and west are negative.
    assert (kept.place.latitude, kept.place.longitude) == pytest.approx((-33.86, -151.2))


@pytest.mark.parametrize("taken", ["", "yesterday", "2026:13:45 99:99:99", "0000:00:00 00:00:00"])
def test_that_a_time_that_cannot_be_read_counts_as_not_written(draw: Draw, taken: str) -> None:
    assert take_in(draw(exif=exif_of(taken)), "b.jpg")[0].taken == ""


@pytest.mark.parametrize(
    "place",
    [
        {},
        {1: "N", 2: (91.0, 0.0, 0.0), 3: "E", 4: (1.0, 0.0, 0.0)},
        {1: "X", 2: (1.0, 0.0, 0.0), 3: "E", 4: (1.0, 0.0, 0.0)},
        {1: "N", 2: (1.0,), 3: "E", 4: (1.0, 0.0, 0.0)},
    ],
)
def test_that_a_place_that_cannot_be_counts_as_not_written(
    draw: Draw, place: dict[int, object]
) -> None:
    assert take_in(draw(exif=exif_of(place=place)), "c.jpg", keep_place=True)[0].place is None


def test_that_huge_hidden_data_is_dropped(draw: Draw) -> None:
    exif = Image.Exif()
    exif[0x010E] = "x" * 60_000
    _photo, stored = take_in(draw(exif=exif), "d.jpg")
    assert len(stored) < 10_000


def test_that_hidden_xml_with_entities_is_never_opened() -> None:
    xml = '<!DOCTYPE x [<!ENTITY a "aaaa"><!ENTITY b "&a;&a;&a;&a;">]><x:xmpmeta>&b;</x:xmpmeta>'
    info = PngImagePlugin.PngInfo()
    info.add_itxt("XML:com.adobe.xmp", xml)
    buffer = io.BytesIO()
    Image.new("RGB", (40, 30), "navy").save(buffer, "PNG", pnginfo=info)
    photo, stored = take_in(buffer.getvalue(), "e.png")
    assert (photo.width, photo.height) == (40, 30)
    assert b"ENTITY" not in stored


def test_that_exif_of_noise_keeps_no_picture_out(draw: Draw) -> None:
    noise = b"Exif\0\0MM\0\x2a\xff\xff\xff\xff" + bytes(range(256)) * 40
    photo, _stored = take_in(draw(exif=noise), "f.jpg")
    assert (photo.width, photo.height, photo.taken) == (64, 48, "")


def test_that_control_characters_in_a_name_are_left_out(draw: Draw) -> None:
    assert take_in(draw(), "boot\0\n\x1b[31m.jpg")[0].name == "boot[31m.jpg"


def test_that_a_file_far_too_large_is_refused_without_being_read(tmp_path: Path) -> None:
    path = tmp_path / "large.jpg"
    with path.open("wb") as file:
        file.truncate(MOST_BYTES + 1)
    with pytest.raises(PhotoProblem) as caught:
        read_picture(path)
    assert caught.value.code == "too-large"
    assert "large.jpg" in caught.value.text
