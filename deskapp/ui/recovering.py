"""Asks at the start about jobs that were not saved when the program last ended."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.dialogs.recover_dialog import RecoverDialog

if TYPE_CHECKING:
    from collections.abc import Callable

    from PySide6.QtWidgets import QWidget

    from deskapp.session.recovery import RecoveryOffer
    from deskapp.ui.desk import Desk
    from deskapp.ui.job_files import JobFiles


def offer_recovery(
    window: QWidget,
    desk: Desk,
    files: JobFiles,
    leave: Callable[[Callable[[], object]], None],
    offers: tuple[RecoveryOffer, ...],
) -> None:
    """Ask about each of these jobs; `leave` closes the job at hand first.

    One put off stays among the offers of `desk`, and is asked about when its job is opened, or at
    the next start.
    """
    if not offers:
        return
    offer, *rest = offers
    dialog = RecoverDialog(offer, desk.preferences.formatter, window)

    def ask_next() -> None:
        if window.isVisible():
            offer_recovery(window, desk, files, leave, tuple(rest))

    def go_on() -> None:
        desk.offers = tuple(one for one in desk.offers if one is not offer)
        ask_next()

    def open_saved() -> None:
        offer.copy.set_aside()
        if offer.path is not None and offer.is_saved_there:
            files.open_now(offer.path, asked=True)
        go_on()

    dialog.recover.connect(lambda: leave(lambda: files.recover_now(offer, go_on)))
    dialog.keep_both.connect(lambda: leave(lambda: files.keep_both_now(offer, go_on)))
    dialog.open_saved.connect(lambda: leave(open_saved))
    dialog.rejected.connect(ask_next)
    dialog.open()
