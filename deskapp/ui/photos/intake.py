"""Pictures on their way into a job: taken in by another thread, progress told where they go."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from threading import Event
from typing import TYPE_CHECKING

from PySide6.QtCore import QObject

from deskapp.i18n import N_, _
from deskapp.ui.progress import ProgressLine, Working
from deskapp.ui.tasks import Dispatcher, told_here

if TYPE_CHECKING:
    from collections.abc import Callable, Sequence

    from deskapp.session.photo_intake import OfferedPicture, Taken
    from deskapp.session.settings import Preferences


@dataclass(frozen=True, slots=True)
class _Order:
    """Pictures to take in, by which preferences, and who gets them."""

    offers: tuple[OfferedPicture, ...]
    preferences: Preferences
    then: Callable[[Taken], None]


class PhotoIntake(Working):
    """Takes pictures in, one order after the other; each picture is a step."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(N_("Taking in photos"), parent)
        self._waiting: list[_Order] = []
        self._at_hand: _Order | None = None
        self._is_ended = Event()
        self._dispatcher = Dispatcher(N_("Taking in photos"), self)
        self._dispatcher.done.connect(self._deliver)
        self._dispatcher.broken.connect(self._deliver_nothing)

    @property
    def is_busy(self) -> bool:
        """Whether pictures are being taken in."""
        return self._at_hand is not None

    def order(
        self,
        offers: Sequence[OfferedPicture],
        preferences: Preferences,
        then: Callable[[Taken], None],
    ) -> None:
        """Take pictures in and hand them to `then`, in this thread."""
        if offers:
            self._waiting.append(_Order(tuple(offers), preferences, then))
            self._go_on()

    def end(self) -> None:
        """Stop within the picture at hand; those taken in so far are delivered."""
        self._waiting.clear()
        self._is_ended.set()

    def _go_on(self) -> None:
        if self._at_hand is not None or not self._waiting:
            return
        self._at_hand = order = self._waiting.pop(0)
        self._is_ended.clear()
        self.busy_changed.emit(True)
        tell = told_here(self, self.told.emit)
        self._dispatcher.start(partial(_work, order, self._is_ended, tell))

    def _deliver(self, taken: Taken) -> None:
        order, self._at_hand = self._at_hand, None
        self.busy_changed.emit(False)
        if order is not None:
            order.then(taken)
        self._go_on()

    def _deliver_nothing(self, error: Exception) -> None:
        from deskapp.session.photo_intake import Taken

        self._deliver(
            Taken(refused=(_("The photos could not be taken in: {why}").format(why=error),))
        )


def _work(order: _Order, is_ended: Event, tell: Callable[[int, int, str], None]) -> Taken:
    from deskapp.session.photo_intake import take_in_all

    def told(number: int, name: str) -> None:
        tell(number, len(order.offers), name)

    return take_in_all(order.offers, order.preferences, told, lambda: not is_ended.is_set())


def intake_line(intake: PhotoIntake) -> ProgressLine:
    """Return a line that says which picture is being taken in."""
    words = _("Taking in {n} of {count}: {name}")
    return ProgressLine(intake, words)
