"""The window in a made-up language, in which every word of ours is marked and two fifths longer.

What is readable English in it was never given to the translators; what is cut off would be cut off
in languages with longer words.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import suppress

import pytest
from PySide6.QtGui import QAction
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QLabel,
    QLineEdit,
    QWidget,
)

from deskapp.catalog.files import PSEUDO
from deskapp.i18n import ENGLISH, use_language
from deskapp.session.pages import PAGES
from deskapp.ui.furnish import Furniture
from deskapp.ui.workbench import Workbench

WORD = re.compile(r"[A-Za-z]{3,}")
# Readable all the same: names of the program, of codes and bodies, units, what the job holds.
NAMES = re.compile(
    r"Ductfolio|Ctrl|Shift|Alt|Down|Del|Larkspur|Lot|Lane|Ground floor|Upper floor|English|Español"
    r"|Français|Canada|IECC|International|Energy|Conservation|Code|Council|residential|cfm|Btu|ton"
    r"|United States|ACH|ppm|mph|ductjob|preferences|larkspur|maple|clinic|crossover"
)


def plain(text: str) -> list[str]:
    """Readable words of `text` outside the marks of the made-up language."""
    depth, outside = 0, ""
    for sign in text:
        depth += (sign == "⟦") - (sign == "⟧")
        outside += sign if depth == 0 else " "
    return WORD.findall(NAMES.sub("", outside.replace("⟧", "")))


def shown(root: QWidget) -> Iterator[tuple[str, str]]:
    """Kind and text of everything that `root` shows or says to a screen reader."""
    for widget in [root, *root.findChildren(QWidget)]:
        kind = f"{type(widget).__name__} {widget.objectName()}".strip()
        yield f"{kind} name", widget.accessibleName()
        yield f"{kind} description", widget.accessibleDescription()
        yield f"{kind} tip", widget.toolTip()
        if isinstance(widget, QLabel | QAbstractButton):
            yield kind, widget.text()
        elif isinstance(widget, QLineEdit):
            yield f"{kind} placeholder", widget.placeholderText()
        elif isinstance(widget, QComboBox):
            for at in range(widget.count()):
                yield f"{kind} item", widget.itemText(at)
        elif isinstance(widget, QAbstractItemView) and (model := widget.model()) is not None:
            for row in range(model.rowCount()):
                yield f"{kind} item", str(model.index(row, 0).data() or "")
    for action in root.findChildren(QAction):
        yield "action", action.text()
        yield "action tip", action.toolTip()


def cut(root: QWidget) -> Iterator[tuple[str, int, int]]:
    """Labels and buttons that show on `root` and are smaller than their text needs."""
    for widget in root.findChildren(QWidget):
        if not widget.isVisibleTo(root) or not isinstance(widget, QLabel | QAbstractButton):
            continue
        text = widget.text()
        wraps = isinstance(widget, QLabel) and widget.wordWrap()
        if not text or not widget.width():
            continue
        if wraps:
            needed, given = widget.heightForWidth(widget.width()), widget.height()
        else:
            needed, given = widget.sizeHint().width(), widget.width()
        if given + 1 < needed:
            yield text, given, needed


@pytest.fixture(autouse=True)
def _made_up() -> Iterator[None]:
    use_language(PSEUDO)
    yield
    use_language(ENGLISH)


def test_that_the_start_and_the_menus_hold_no_word_the_translators_never_saw(
    furniture: Furniture,
) -> None:
    window = furniture._window
    assert [(kind, text) for kind, text in shown(window) if plain(text)] == []


@pytest.mark.parametrize("page", [page.id for page in PAGES])
def test_that_a_page_holds_no_word_the_translators_never_saw(bench: Workbench, page: str) -> None:
    bench.show_page(page)
    found = [(kind, text) for kind, text in shown(bench.window()) if plain(text)]
    assert sorted(set(found)) == []


@pytest.mark.parametrize("page", [page.id for page in PAGES])
def test_that_longer_words_are_not_cut_off(bench: Workbench, qtbot, page: str) -> None:
    bench.window().resize(1024, 768)
    bench.show_page(page)
    with suppress(TimeoutError):
        qtbot.waitUntil(lambda: not any(cut(bench.window())), timeout=10_000)
    assert sorted(set(cut(bench.window()))) == []


def test_that_a_label_too_small_for_its_words_is_found(qtbot) -> None:
    box = QWidget()
    qtbot.addWidget(box)
    label = QLabel("much longer than there is room for", box)
    label.resize(20, 20)
    assert [text for text, _given, _needed in cut(box)] == [label.text()]


def test_that_plain_words_are_told_from_marked_ones() -> None:
    assert plain("⟦Šávé ⟦íňňéř⟧ ~~~⟧ Save it") == ["Save"]
    assert plain("⟦~~⟧ 54.2 cfm, IECC 2018") == []
