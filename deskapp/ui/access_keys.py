"""Access keys: the letter in a label that, with Alt, leads to its field."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMainWindow

if TYPE_CHECKING:
    from collections.abc import Collection, Sequence

    from PySide6.QtWidgets import QWidget


def keyed(labels: Sequence[str], taken: Collection[str]) -> list[str]:
    """Return `labels` with ``&`` before the letter of each, no letter twice and none `taken`.

    The first letters of words are preferred. Where all letters of a label are gone, it has none.
    """
    used = {letter.casefold() for letter in taken}
    found: list[str] = []
    for label in labels:
        starts = [at for at in range(len(label)) if at == 0 or not label[at - 1].isalnum()]
        places = (*starts, *range(len(label)))
        free = (at for at in places if label[at].isalpha() and label[at].casefold() not in used)
        at = next(free, None)
        if at is None:
            found.append(label.replace("&", "&&"))
            continue
        used.add(label[at].casefold())
        before, after = label[:at].replace("&", "&&"), label[at:].replace("&", "&&")
        found.append(f"{before}&{after}")
    return found


def letters_of_menus(widget: QWidget) -> set[str]:
    """Return the letters that open the menus of the window of `widget`."""
    window = widget.window()
    if not isinstance(window, QMainWindow):
        return set()
    texts = (action.text() for action in window.menuBar().actions())
    keys = (QKeySequence.mnemonic(text).toString() for text in texts)
    return {key.rpartition("+")[2].casefold() for key in keys if key}
