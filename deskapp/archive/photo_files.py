"""Taking pictures into a job: turned upright, made small, freed of hidden data about places."""

from __future__ import annotations

import hashlib
import io
import struct
import warnings
from collections.abc import Callable, Generator
from contextlib import contextmanager
from pathlib import Path, PurePath
from typing import TYPE_CHECKING

from PIL import Image, ImageCms, ImageOps, UnidentifiedImageError

from deskapp.archive.photo_facts import place_of, taken_at
from deskapp.archive.problems import PhotoProblem as PhotoProblem
from deskapp.domain.leak import Photo
from deskapp.i18n import _

if TYPE_CHECKING:
    from _typeshed import ReadableBuffer

LONGEST_SIDE = 1600
MOST_PIXELS = 200_000_000
MOST_BYTES = 100_000_000

_JPEG_QUALITY = 85
_LARGEST_PNG = 600_000
_FORMATS = ("JPEG", "PNG", "WEBP", "TIFF", "BMP", "GIF")
_HEIF_BRANDS = (b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif", b"avis")
_KNOWN_WORDS = "JPEG, PNG, WebP, TIFF, BMP"


_UNREADABLE = (
    *(OSError, SyntaxError, ValueError, EOFError, IndexError, KeyError, TypeError),
    *(ArithmeticError, struct.error),
)
"""What the picture library raises for pictures cut short or made to mislead it."""


class TakingEnded(Exception):  # noqa: N818 - a person wished it
    """A picture was not taken in to its end, as nobody waits for it any more."""


class _Watched(io.BytesIO):
    """Bytes of a picture; each piece read or written is a moment at which the work may end."""

    def __init__(self, data: bytes, go_on: Callable[[], bool]) -> None:
        super().__init__(data)
        self._go_on = go_on

    def read(self, size: int | None = -1, /) -> bytes:
        """Read a piece. Raises TakingEnded."""
        self._look_up()
        return super().read(size)

    def write(self, piece: ReadableBuffer, /) -> int:
        """Write a piece. Raises TakingEnded."""
        self._look_up()
        return super().write(piece)

    def _look_up(self) -> None:
        if not self._go_on():
            raise TakingEnded


def read_picture(path: Path) -> bytes:
    """Return the bytes of a picture file; one that is too large is not read at all.

    Raises PhotoProblem ``too-large`` or ``no-file``, and OSError as reading a file does.
    """
    if path.exists() and not path.is_file():
        raise PhotoProblem(
            "no-file", _("{name} is a folder, not a picture.").format(name=_shown_name(path.name))
        )
    if path.stat().st_size > MOST_BYTES:
        raise _too_many_bytes(path.stat().st_size, _shown_name(path.name))
    return path.read_bytes()


def take_in(
    data: bytes,
    name: str,
    *,
    keep_place: bool = False,
    go_on: Callable[[], bool] = lambda: True,
) -> tuple[Photo, bytes]:
    """Make a picture ready for a job; `name` is its file name, which may have any ending.

    Returns the record and the bytes to store: upright, at most 1600 pixels on the longest side,
    sRGB, JPEG or PNG, without place, camera or other hidden data. The record keeps the digest of
    the file itself, the time its camera wrote down, and the place only with `keep_place`. Raises
    PhotoProblem in plain words: ``empty``, ``too-large``, ``not-a-picture``, ``heif``,
    ``moving``, ``damaged``; TakingEnded soon after `go_on` says no, which is asked many times.
    """
    shown = _shown_name(name)
    _refuse_by_size(data, shown)
    with _wide_pixel_guard():
        try:
            image = Image.open(_Watched(data, go_on), formats=_FORMATS)
            _refuse_by_content(image, shown)
            taken, place = taken_at(image), place_of(image) if keep_place else None
            stored, size = _made_ready(image, go_on)
        except UnidentifiedImageError as error:
            raise _not_a_picture(data, shown) from error
        except Image.DecompressionBombError as error:
            raise _too_many_pixels(shown) from error
        except _UNREADABLE as error:
            raise PhotoProblem(
                "damaged",
                _(
                    "{name} is a damaged picture and cannot be read to its end. "
                    "Copy it again from the camera or phone."
                ).format(name=shown),
            ) from error
    photo = Photo(
        digest=hashlib.sha256(stored).hexdigest(),
        name=shown,
        width=size[0],
        height=size[1],
        original=hashlib.sha256(data).hexdigest(),
        taken=taken,
        place=place,
    )
    return photo, stored


def _shown_name(name: str) -> str:
    """Return a file name that any text can hold: no folder, no control characters."""
    plain = PurePath(name).name.encode("utf-8", "replace").decode()
    return "".join(letter for letter in plain if letter.isprintable()) or _("The picture")


@contextmanager
def _wide_pixel_guard() -> Generator[None]:
    """Let the picture library take pictures up to our own guard, and refuse larger ones."""
    before = Image.MAX_IMAGE_PIXELS
    Image.MAX_IMAGE_PIXELS = MOST_PIXELS
    try:
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", Image.DecompressionBombWarning)
            yield
    finally:
        Image.MAX_IMAGE_PIXELS = before


def _refuse_by_size(data: bytes, name: str) -> None:
    if not data:
        raise PhotoProblem(
            "empty", _("{name} is empty. Copy it again from the camera or phone.").format(name=name)
        )
    if len(data) > MOST_BYTES:
        raise _too_many_bytes(len(data), name)


def _refuse_by_content(image: Image.Image, name: str) -> None:
    if image.width * image.height > MOST_PIXELS:
        raise _too_many_pixels(name)
    if image.format != "MPO" and getattr(image, "n_frames", 1) > 1:
        raise PhotoProblem(
            "moving",
            _(
                "{name} holds several pictures (a moving picture or several pages). "
                "Save the one you want as a JPEG or PNG of its own."
            ).format(name=name),
        )


def _too_many_bytes(size: int, name: str) -> PhotoProblem:
    return PhotoProblem(
        "too-large",
        _(
            "{name} has {size:.0f} MB; pictures up to {most:.0f} MB are taken in. Save it smaller."
        ).format(name=name, size=size / 1e6, most=MOST_BYTES / 1e6),
    )


def _too_many_pixels(name: str) -> PhotoProblem:
    return PhotoProblem(
        "too-large",
        _(
            "{name} has more than {most} million pixels, more than any report needs. "
            "Save it smaller."
        ).format(name=name, most=MOST_PIXELS // 1_000_000),
    )


def _not_a_picture(data: bytes, name: str) -> PhotoProblem:
    if data[4:8] == b"ftyp" and data[8:12] in _HEIF_BRANDS:
        return PhotoProblem(
            "heif",
            _(
                "{name} is a HEIF or AVIF picture, as some phones make them; "
                "it cannot be read here. Export it as JPEG first."
            ).format(name=name),
        )
    return PhotoProblem(
        "not-a-picture",
        _("{name} is not a picture that can be read here. These are: {formats}.").format(
            name=name, formats=_KNOWN_WORDS
        ),
    )


def _made_ready(image: Image.Image, go_on: Callable[[], bool]) -> tuple[bytes, tuple[int, int]]:
    from_png = image.format == "PNG"
    image.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    upright = _upright(image)
    plain = _in_srgb(upright)
    plain.info.clear()
    if from_png:
        stored = _saved(plain, "PNG", go_on, optimize=True)
        if len(stored) <= _LARGEST_PNG:
            return stored, plain.size
    return _saved(plain, "JPEG", go_on, quality=_JPEG_QUALITY, optimize=True), plain.size


def _upright(image: Image.Image) -> Image.Image:
    """Return the picture turned as its camera said; as it lies where that cannot be read."""
    image.load()
    try:
        return ImageOps.exif_transpose(image)
    except _UNREADABLE:
        return image


def _saved(image: Image.Image, form: str, go_on: Callable[[], bool], **options: int) -> bytes:
    buffer = _Watched(b"", go_on)
    image.save(buffer, form, **options)
    return buffer.getvalue()


def _in_srgb(image: Image.Image) -> Image.Image:
    """Return the picture in sRGB or gray, on white where it was see-through."""
    if image.mode.startswith("I;16") or image.mode == "I":
        return image.point(lambda level: level * (1 / 256)).convert("L")
    profile = image.info.get("icc_profile")
    if profile and image.mode in ("RGB", "CMYK"):
        converted = _by_profile(image, profile)
        if converted is not None:
            return converted
    if "A" in image.getbands() or "transparency" in image.info:
        layers = image.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", layers.size, "white"), layers).convert("RGB")
    return image.copy() if image.mode in ("RGB", "L") else image.convert("RGB")


def _by_profile(image: Image.Image, profile: bytes) -> Image.Image | None:
    try:
        source = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        target = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB"))  # pyright: ignore[reportUnknownMemberType, reportUnknownArgumentType] - untyped in the library
        return ImageCms.profileToProfile(image, source, target, outputMode="RGB")
    except (ImageCms.PyCMSError, OSError, ValueError):
        return None
