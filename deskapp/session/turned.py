"""What undo or redo changed, in words and with the place, so that nothing is turned back unseen."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from deskapp.domain.stops import acknowledgment_of, open_stops
from deskapp.i18n import _
from deskapp.session.differences import differences_between
from deskapp.session.pages import PAGES, page_of

if TYPE_CHECKING:
    from deskapp.domain.job import Job
    from deskapp.session.resources import Shelf

_SAFETY_PAGES = ("safety", "leave")
_VOUCHED = ("acknowledgments", "leaving")
"""What somebody answered for by name."""


@dataclass(frozen=True, slots=True)
class Turned:
    """One step taken back, or brought back; `words` name it, `places` are what it changed.

    `opened` are the stops that nobody answers for any more, `answered` those somebody answers for
    again, both as ids.
    """

    is_back: bool
    words: str
    places: tuple[str, ...]
    opened: tuple[str, ...]
    answered: tuple[str, ...]

    @property
    def path(self) -> str:
        """The place to show: the first that stands on a page, what was vouched for before all."""
        on_page = [place for place in self.places if page_of(place)]
        vouched = [place for place in on_page if place.split(".")[0] in _VOUCHED]
        return next(iter((*vouched, *on_page)), "")

    @property
    def page(self) -> str:
        """The id of the page with that place; empty if it is on none."""
        return page_of(self.path)

    @property
    def is_about_safety(self) -> bool:
        """Whether it touched what keeps people from harm."""
        return any(page_of(place) in _SAFETY_PAGES for place in self.places)

    @property
    def is_about_names(self) -> bool:
        """Whether it touched what somebody answered for by name."""
        return any(place.split(".")[0] in _VOUCHED for place in self.places)

    def text(self, shelf: Shelf) -> str:
        """Say what was done and where, and which stops hold again or no longer."""
        title = next((_(page.title) for page in PAGES if page.id == self.page), "")
        words = _("Undone: {what}.") if self.is_back else _("Redone: {what}.")
        what = _("{what} (page “{page}”)").format(what=self.words, page=title)
        told = [words.format(what=what if title else self.words)]
        texts = {stop.id: _(stop.text) for stop in shelf.stops}
        told += [
            _("This safety stop is open again: {stop}").format(stop=texts[one])
            for one in self.opened
        ]
        told += [
            _("This safety stop is acknowledged again: {stop}").format(stop=texts[one])
            for one in self.answered
        ]
        return " ".join(told)


def turned(before: Job, after: Job, words: str, shelf: Shelf, *, is_back: bool) -> Turned:
    """Return what a step between two states of a job did."""
    open_now = open_stops(after, shelf.stops)
    return Turned(
        is_back=is_back,
        words=words,
        places=tuple(at.path for at in differences_between(before, after)),
        opened=tuple(one.id for one in open_now if acknowledgment_of(before, one) is not None),
        answered=tuple(
            stop.id
            for stop in open_stops(before, shelf.stops)
            if acknowledgment_of(after, stop) is not None
        ),
    )
