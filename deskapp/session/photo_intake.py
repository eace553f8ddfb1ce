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
class Offer:
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


def offered_file(path: Path) -> Offer:
    """Offer a file."""

    def read() -> bytes:
        from deskapp.archive.photo_files import read_picture

        return read_picture(path)

    return Offer(path.name, read)


def take_in_all(
    offers: Sequence[Offer],
    preferences: Preferences,
    go_on: Callable[[int, str], bool] = lambda _number, _name: True,
) -> Taken:
    """Take in pictures; the files they come from stay as they are.

    `go_on` is called with number (from 1) and name before each one; it may end the work.
    Changes nothing and may run in any thread.
    """
    photos: list[Photo] = []
    files: dict[str, bytes] = {}
    refused: list[str] = []
    for number, offer in enumerate(offers, 1):
        if not go_on(number, offer.name):
            return Taken(tuple(photos), files, tuple(refused), len(offers) - number + 1)
        found = _taken(offer, preferences)
        if isinstance(found, str):
            refused.append(found)
        else:
            photos.append(found[0])
            files.update(found[1])
    return Taken(tuple(photos), files, tuple(refused))


def _taken(offer: Offer, preferences: Preferences) -> tuple[Photo, dict[str, bytes]] | str:
    """Return record and files of one picture, or why it cannot be taken."""
    from deskapp.archive.photo_files import PhotoProblem, take_in

    try:
        data = offer.read()
        photo, stored = take_in(data, offer.name, keep_place=preferences.keep_photo_place)
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
