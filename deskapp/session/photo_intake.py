"""Taking pictures in, many at once, in another thread: read, made small, refused with a reason."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from deskapp.i18n import _

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence
    from pathlib import Path

    from deskapp.domain.leak import Photo
    from deskapp.session.settings import Preferences


@dataclass(frozen=True, slots=True)
class OfferedPicture:
    """A picture offered: its file name, and what reads its bytes."""

    name: str
    read: Callable[[], bytes]


@dataclass(frozen=True, slots=True)
class Taken:
    """What came of it: records in the order offered, files by digest, and why not, in words.

    `left` counts those not looked at, since the person ended it before.
    """

    photos: tuple[Photo, ...] = ()
    files: Mapping[str, bytes] = field(default_factory=dict[str, bytes])
    refused: tuple[str, ...] = ()
    left: int = 0


def offered_file(path: Path) -> OfferedPicture:
    """Offer a file."""

    def read() -> bytes:
        from deskapp.archive.photo_files import read_picture

        return read_picture(path)

    return OfferedPicture(path.name, read)


def take_in_all(
    offers: Sequence[OfferedPicture],
    preferences: Preferences,
    tell: Callable[[int, str], None] = lambda _number, _name: None,
    is_wanted: Callable[[], bool] = lambda: True,
) -> Taken:
    """Take in pictures; the files they come from stay as they are.

    `tell` is called with number (from 1) and name before each one. Once `is_wanted` says no the
    work ends, also within a picture, which is then not taken.
    Changes nothing and may run in any thread.
    """
    from deskapp.archive.photo_files import TakingEnded

    photos: list[Photo] = []
    files: dict[str, bytes] = {}
    refused: list[str] = []
    for number, offer in enumerate(offers, 1):
        tell(number, offer.name)
        try:
            found = _taken(offer, preferences, is_wanted) if is_wanted() else None
        except TakingEnded:
            found = None
        if found is None:
            return Taken(tuple(photos), files, tuple(refused), len(offers) - number + 1)
        if isinstance(found, str):
            refused.append(found)
        else:
            photos.append(found[0])
            files.update(found[1])
    return Taken(tuple(photos), files, tuple(refused))


def _taken(
    offer: OfferedPicture, preferences: Preferences, is_wanted: Callable[[], bool]
) -> tuple[Photo, dict[str, bytes]] | str:
    """Return record and files of one picture, or why it cannot be taken."""
    from deskapp.archive.photo_files import PhotoProblem, take_in

    try:
        data = offer.read()
        photo, stored = take_in(
            data, offer.name, keep_place=preferences.keep_photo_place, go_on=is_wanted
        )
    except OSError as error:
        reason = error.strerror or type(error).__name__
        return _("“{file}” cannot be read ({reason}).").format(file=offer.name, reason=reason)
    except PhotoProblem as problem:
        return problem.text
    except MemoryError:
        return _("“{file}” needs more memory than there is. Save it smaller.").format(
            file=offer.name
        )
    files = {photo.digest: stored}
    if preferences.keep_original_photos:
        photo = photo.model_copy(update={"original_kept": True})
        files[photo.original] = data
    return photo, files
