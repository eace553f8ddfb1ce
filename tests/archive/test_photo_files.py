from __future__ import annotations

import hashlib
import io
import struct
import zlib
from collections.abc import Callable

import pytest
from PIL import Image, ImageCms

from deskapp.archive import photo_files
from deskapp.archive.photo_files import PhotoProblem, TakingEnded, take_in

Draw = Callable[..., bytes]

ORIENTATION = 0x0112
GPS = 0x8825


def opened(data: bytes) -> Image.Image:
    return Image.open(io.BytesIO(data))


def problem_of(data: bytes, name: str = "IMG_1.jpg") -> PhotoProblem:
    with pytest.raises(PhotoProblem) as caught:
        take_in(data, name)
    assert name in caught.value.text
    return caught.value


def test_that_the_digest_is_the_sha256_of_the_stored_bytes(draw: Draw) -> None:
    photo, stored = take_in(draw(), "boot.jpg")
    assert photo.digest == hashlib.sha256(stored).hexdigest()
    assert (photo.name, photo.width, photo.height) == ("boot.jpg", 64, 48)


def test_that_only_the_file_name_is_kept_not_the_folder(draw: Draw) -> None:
    photo, _ = take_in(draw(), "/somewhere/private/boot.jpg")
    assert photo.name == "boot.jpg"


def test_that_a_file_name_no_text_can_hold_is_mended(draw: Draw) -> None:
    photo, _ = take_in(draw(), "caf\udce9.jpg")
    assert photo.name == "caf?.jpg"


def test_that_a_large_picture_is_made_small_in_its_proportion(draw: Draw) -> None:
    photo, stored = take_in(draw(size=(4000, 3000)), "big.jpg")
    assert (photo.width, photo.height) == (1600, 1200)
    assert opened(stored).size == (1600, 1200)


@pytest.mark.parametrize("form", ["JPEG", "PNG"])
def test_that_taking_in_can_be_ended_at_each_piece_read_or_written(form: str) -> None:
    buffer = io.BytesIO()
    Image.effect_noise((1800, 1350), 90).convert("RGB").save(buffer, form)
    data, asked = buffer.getvalue(), 0

    def count() -> bool:
        nonlocal asked
        asked += 1
        return True

    take_in(data, "noise.jpg", go_on=count)
    assert asked > 20
    for last in (1, asked // 2, asked):
        answers = iter([True] * (last - 1))
        with pytest.raises(TakingEnded):
            take_in(data, "noise.jpg", go_on=lambda answers=answers: next(answers, False))


def test_that_a_picture_is_turned_upright_as_its_camera_said(draw: Draw) -> None:
    exif = Image.Exif()
    exif[ORIENTATION] = 6  # Exif 2.3, tag Orientation: row 0 is at the right, so turn clockwise
    photo, stored = take_in(draw(exif=exif), "turned.jpg")
    image = opened(stored)
    assert (photo.width, photo.height) == image.size == (48, 64)
    top, bottom = image.getpixel((24, 8)), image.getpixel((24, 56))
    assert top[0] > 200 > 60 > top[2]
    assert bottom[2] > 200 > 60 > bottom[0]


def test_that_place_camera_and_comment_are_dropped(draw: Draw) -> None:
    exif = Image.Exif()
    exif[0x010F] = "Example Camera"
    exif.get_ifd(GPS)[1] = "N"
    data = draw(exif=exif, comment=b"taken at home", dpi=(300, 300))
    assert b"Example Camera" in data
    assert b"taken at home" in data
    _, stored = take_in(data, "secret.jpg")
    image = opened(stored)
    assert dict(image.getexif()) == {}
    assert "comment" not in image.info
    for trace in (b"Exif", b"Example Camera", b"taken at home"):
        assert trace not in stored


@pytest.mark.parametrize("form", ["PNG", "WEBP", "TIFF", "BMP", "GIF"])
def test_that_other_still_pictures_are_taken_whatever_their_ending(draw: Draw, form: str) -> None:
    photo, stored = take_in(draw(form), "picture.jpg")
    assert opened(stored).format in {"JPEG", "PNG"}
    assert (photo.width, photo.height) == (64, 48)


def test_that_a_drawing_in_png_stays_png(draw: Draw) -> None:
    _, stored = take_in(draw("PNG"), "plan.png")
    assert opened(stored).format == "PNG"


def test_that_a_see_through_picture_lands_on_white() -> None:
    buffer = io.BytesIO()
    Image.new("RGBA", (20, 20), (255, 0, 0, 0)).save(buffer, "PNG")
    _, stored = take_in(buffer.getvalue(), "logo.png")
    assert opened(stored).convert("RGB").getpixel((10, 10)) == (255, 255, 255)


def test_that_a_picture_in_printing_inks_becomes_rgb() -> None:
    buffer = io.BytesIO()
    Image.new("CMYK", (20, 20), (0, 255, 255, 0)).save(buffer, "JPEG")
    _, stored = take_in(buffer.getvalue(), "print.jpg")
    image = opened(stored)
    assert image.mode == "RGB"
    red, green, blue = image.getpixel((10, 10))
    assert red > 200 > 60 > max(green, blue)


def test_that_sixteen_bit_gray_keeps_its_tone() -> None:
    buffer = io.BytesIO()
    Image.new("I;16", (20, 20), 0x8000).save(buffer, "PNG")
    _, stored = take_in(buffer.getvalue(), "scan.png")
    image = opened(stored)
    assert image.mode == "L"
    assert abs(image.getpixel((10, 10)) - 128) <= 2


def test_that_colors_of_a_named_profile_are_turned_into_srgb(draw: Draw) -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    _, stored = take_in(draw(icc_profile=lab), "profiled.jpg")
    image = opened(stored)
    assert "icc_profile" not in image.info
    assert image.getpixel((8, 24))[0] > 240


def test_that_a_moving_picture_is_not_taken() -> None:
    frames = [Image.new("RGB", (20, 20), color) for color in ("red", "green", "blue")]
    for form in ("GIF", "PNG", "WEBP"):
        buffer = io.BytesIO()
        frames[0].save(buffer, form, save_all=True, append_images=frames[1:])
        assert problem_of(buffer.getvalue()).code == "moving"


def test_that_a_phone_picture_with_a_preview_inside_is_taken() -> None:
    frames = [Image.new("RGB", (40, 20), color) for color in ("red", "green")]
    buffer = io.BytesIO()
    frames[0].save(buffer, "MPO", save_all=True, append_images=frames[1:])
    photo, stored = take_in(buffer.getvalue(), "phone.jpg")
    assert (photo.width, photo.height) == (40, 20)
    assert opened(stored).getpixel((20, 10))[0] > 200


@pytest.mark.parametrize(
    ("data", "code"),
    [
        (b"", "empty"),
        (b"not a picture at all", "not-a-picture"),
        (b"%PDF-1.7\n", "not-a-picture"),
        (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "not-a-picture"),
        (b"\0\0\0\x18ftypheic\0\0\0\0mif1heic", "heif"),
    ],
)
def test_that_what_is_no_picture_is_told_in_words(data: bytes, code: str) -> None:
    assert problem_of(data).code == code


def test_that_a_picture_cut_short_is_called_damaged(draw: Draw) -> None:
    data = draw(size=(400, 300))
    assert problem_of(data[: len(data) // 2]).code == "damaged"


def test_that_any_flipped_byte_gives_a_picture_or_words(draw: Draw) -> None:
    whole = draw("PNG")
    for place in range(0, len(whole), 3):
        data = bytearray(whole)
        data[place] ^= 0x55
        try:
            take_in(bytes(data), "x.png")
        except PhotoProblem as problem:
            assert problem.text


def test_that_a_picture_of_more_than_two_hundred_megapixels_is_refused_unread() -> None:
    data = _png_header(20_000, 10_001)
    assert problem_of(data).code == "too-large"
    assert "200 million pixels" in problem_of(data).text
    assert problem_of(_png_header(100_000, 100_000)).code == "too-large"


def test_that_a_file_that_is_too_large_is_refused(
    draw: Draw, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(photo_files, "MOST_BYTES", 500)
    assert problem_of(draw()).code == "too-large"


def test_that_the_guard_of_the_picture_library_is_put_back(draw: Draw) -> None:
    before = Image.MAX_IMAGE_PIXELS
    take_in(draw(), "a.jpg")
    problem_of(b"no")
    assert before == Image.MAX_IMAGE_PIXELS


def _png_header(width: int, height: int) -> bytes:
    """Return a PNG that says how large it is and holds nothing (PNG specification, IHDR chunk)."""
    body = b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    chunk = struct.pack(">I", 13) + body + struct.pack(">I", zlib.crc32(body))
    empty = b"IDAT" + zlib.compress(b"")
    chunk += struct.pack(">I", len(empty) - 4) + empty + struct.pack(">I", zlib.crc32(empty))
    end = b"IEND"
    return (
        b"\x89PNG\r\n\x1a\n"
        + chunk
        + struct.pack(">I", 0)
        + end
        + struct.pack(">I", zlib.crc32(end))
    )
