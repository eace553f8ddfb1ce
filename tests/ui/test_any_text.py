"""Any text typed anywhere: told about in place, never a broken slot."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from itertools import cycle
from pathlib import Path
from random import Random
from typing import Any, TypeVar

import pytest
from any_text import (
    ODD,
    TEXT,
    boxes_in,
    buttons_in,
    calm,
    close_all_but,
    fill_tables,
    shown_dialogs,
    turn_choices,
    type_in,
    unbroken,
)
from hypothesis import HealthCheck, Phase, given, settings
from hypothesis import strategies as st
from PySide6.QtGui import QDesktopServices
from PySide6.QtWidgets import QApplication, QDialog, QLineEdit, QPlainTextEdit, QWidget
from pytestqt.qtbot import QtBot
from shiboken6 import isValid
from whole import build_whole, make_whole

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, pattern_of
from deskapp.session.editor import Editor
from deskapp.session.pages import PAGES
from deskapp.session.report_kinds import ReportKind
from deskapp.ui.bridge import Bridge
from deskapp.ui.crash import CrashGuard
from deskapp.ui.fields.cells import LineCell
from deskapp.ui.fields.field import Field
from deskapp.ui.fields.line import EntryLine
from deskapp.ui.furnish import Furniture
from deskapp.ui.instruments.earlier_card import EarlierCard
from deskapp.ui.instruments.instruments_dialog import InstrumentsDialog
from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.main_window import MainWindow
from deskapp.ui.photos.boards import SketchBoard
from deskapp.ui.photos.drawing_dialog import DrawingDialog
from deskapp.ui.photos.signature_dialog import SignatureDialog
from deskapp.ui.places import home_of
from deskapp.ui.workbench import Workbench

Kind = TypeVar("Kind", bound=QWidget)
FEW: dict[str, Any] = {
    "deadline": None,
    "derandomize": True,
    "database": None,
    "suppress_health_check": list(HealthCheck),
    "phases": [Phase.generate],
}
TYPED = [spec.path for spec in FIELDS if spec.form not in (Form.CHOICE, Form.REFERENCE)]
PRESSES = 5
FORM_PAGES = [page.id for page in PAGES if page.sections]


def card_of(furniture: Furniture, page_id: str, kind: type[Kind]) -> Kind:
    """Return a card of a page of the job at hand."""
    assert furniture.bench is not None
    furniture.bench.show_page(page_id)
    found = furniture.bench.page.findChild(kind)
    assert isinstance(found, kind)
    return found


def import_log(furniture: Furniture) -> None:
    log = furniture.desk.folder.parent / "log.csv"
    rows = "".join(f"{n},-25.{n % 2},32\n" for n in range(60))
    log.write_text("time [s],duct pressure [Pa],fan signal [Pa]\n" + rows, encoding="utf-8")
    card_of(furniture, "readings", GaugeCard).import_log(log)
    make_whole()


def instruments(furniture: Furniture) -> InstrumentsDialog:
    """Open the dialog of instruments, with those of the job in it."""
    assert furniture.bench is not None
    register = furniture.desk.cabinet.editor(furniture.desk.preferences)
    job = furniture.bench.bridge.editor.job
    for one in (*job.gauges, *job.fans):
        register.take_in(one.model_copy(update={"serial": "X-1"}))
    furniture.show_instruments()
    (dialog,) = shown_dialogs()
    assert isinstance(dialog, InstrumentsDialog)
    return dialog


def draw(furniture: Furniture) -> None:
    assert furniture.bench is not None
    DrawingDialog(SketchBoard(furniture.bench.bridge), furniture.bench.window()).open()


def sign(furniture: Furniture) -> None:
    assert furniture.bench is not None
    SignatureDialog(furniture.bench.window()).open()


def template_of(furniture: Furniture) -> None:
    assert furniture.bench is not None
    furniture.bench.report_page.papers.change_template(ReportKind.COMPLIANCE)


def issue(furniture: Furniture) -> None:
    assert furniture.bench is not None
    furniture.bench.issue_report(ReportKind.HOMEOWNER.value)


DIALOGS: dict[str, Callable[[Furniture], object]] = {
    "branding": Furniture.edit_branding,
    "check a report": Furniture.check_report,
    "drawing": draw,
    "earlier set-up": lambda one: card_of(one, "setup", EarlierCard).ask_which(),
    "field check": lambda one: instruments(one).check_fan("fans.0"),
    "instruments": instruments,
    "instruments to take": lambda one: card_of(one, "setup", OwnCard).ask_what_to_take(),
    "issue": issue,
    "jobs": Furniture.show_jobs,
    "limit chooser": lambda furniture: furniture.bench.choose_limit(),
    "live readings": lambda one: card_of(one, "readings", GaugeCard).read_live(),
    "log": import_log,
    "mail": lambda furniture: furniture.bench.mail_reports(),
    "own limits": Furniture.edit_limits,
    "preferences": Furniture.show_preferences,
    "ring": lambda one: instruments(one).fit_ring("fans.0.rings.0"),
    "sampling": Furniture.sample_units,
    "signature": sign,
    "signing key": Furniture.edit_signing_key,
    "template": template_of,
    "usual": Furniture.edit_usual,
}


def with_rows(bench: Workbench) -> None:
    """Give every list a row."""
    for page in PAGES:
        for section in page.sections:
            list_path = section.list_path.replace("*", "0")
            if list_path and bench.bridge.row_count(list_path) == 0:
                bench.bridge.add_row(list_path)


@pytest.fixture(autouse=True)
def opened_outside(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """What would have been handed to other programs."""
    handed: list[str] = []

    def note(url: object) -> bool:
        handed.append(str(url))
        return True

    monkeypatch.setattr(QDesktopServices, "openUrl", note)
    return handed


# Fields of the job


def test_that_every_typed_field_of_the_table_takes_text_on_some_page(bench: Workbench) -> None:
    with_rows(bench)
    reached: set[str] = set()
    for path in TYPED:
        bench.go_to(path.replace("*", "0"))
        box = QApplication.focusWidget()
        if isinstance(box, EntryLine):
            assert pattern_of(box.path) == path
        else:
            assert isinstance(box, QPlainTextEdit)
        reached.add(path)
    assert reached == set(TYPED)
    assert len(reached) > 150


@pytest.mark.parametrize("page_id", FORM_PAGES)
def test_that_any_text_in_any_field_is_kept_and_told_about_in_place(
    bench: Workbench, page_id: str
) -> None:
    with_rows(bench)
    paths = [path.replace("*", "0") for path in TYPED]
    paths = [path for path in paths if home_of(path) == page_id]

    @given(texts=st.lists(TEXT, min_size=len(paths), max_size=len(paths)))
    @settings(max_examples=3, **FEW)
    def type_all(texts: list[str]) -> None:
        with unbroken():
            for path, text in zip(paths, texts, strict=True):
                bench.go_to(path)
                box = QApplication.focusWidget()
                assert isinstance(box, QLineEdit | QPlainTextEdit)
                type_in(box, text)
            bench.bridge.leave()
            QApplication.processEvents()
        assert shown_dialogs() == []
        assert bench.bridge.assessment is not None
        for field in bench.page.findChildren(Field):
            finding = bench.bridge.finding_at(field.path)
            if finding is not None and not field.input.hasFocus():
                assert not field.message.isHidden(), field.path
                assert field.message.text

    if paths:
        type_all()


def retype(bridge: Bridge, box: QLineEdit | QPlainTextEdit, text: str) -> None:
    """Put a text into a box that no clipboard hands over, such as half a character."""
    box.setFocus()
    if isinstance(box, EntryLine):
        box.retype(text)
    elif isinstance(box, QLineEdit):
        box.selectAll()
        box.insert(text)
    else:
        box.setPlainText(text)
    box.clearFocus()
    bridge.settle()


@pytest.mark.parametrize("page_id", FORM_PAGES)
def test_that_odd_texts_break_no_slot(bench: Workbench, page_id: str) -> None:
    bench.show_page(page_id)
    texts = cycle(ODD)
    for kind in (QLineEdit, QPlainTextEdit):
        for box in bench.page.findChildren(kind):
            if not box.isReadOnly() and box.isEnabled():
                for _turn in range(2):
                    retype(bench.bridge, box, next(texts))
    bench.bridge.leave()
    assert bench.bridge.assessment is not None


@pytest.mark.parametrize("list_path", ["tests.0.readings", "fans.0.rings", "registers"])
@given(block=st.lists(st.lists(TEXT, min_size=1, max_size=4), min_size=1, max_size=6))
@settings(max_examples=4, **FEW)
def test_that_any_block_pasted_into_a_grid_is_taken_or_told(
    bench: Workbench, list_path: str, block: list[list[str]]
) -> None:
    with unbroken():
        with_rows(bench)
        bench.go_to(f"{list_path}.0.{FIRST[list_path]}")
        cell = QApplication.focusWidget()
        assert isinstance(cell, LineCell)
        type_in(cell, "\n".join("\t".join(row) for row in block))
        QApplication.processEvents()
        bench.bridge.undo()
    assert shown_dialogs() == []


FIRST = {"tests.0.readings": "duct_pressure", "fans.0.rings": "flow_low", "registers": "name"}


@given(captions=st.lists(TEXT, min_size=4, max_size=4), seed=st.integers(0, 99))
@settings(max_examples=3, **FEW)
def test_that_any_caption_of_a_photo_is_taken(
    furniture: Furniture, captions: list[str], seed: int
) -> None:
    furniture.files.open_sample()
    bench = furniture.bench
    assert bench is not None
    with unbroken():
        bench.show_page("leaks")
        found = [box for box in boxes_in(bench.page) if box.placeholderText() == "Caption"]
        assert found
        for box, text in zip(found, cycle(captions)):
            type_in(box, text)
        turn_choices(bench.page, Random(seed))
        bench.bridge.leave()
        calm()
    assert bench.bridge.assessment is not None


# An error all the same


@pytest.mark.parametrize("path", ["house.floor_area", "tests.0.readings.0.fan_signal", "comments"])
def test_that_an_error_while_typing_shows_a_dialog_to_close_and_keeps_the_job(
    window: MainWindow,
    bench: Workbench,
    qtbot: QtBot,
    monkeypatch: pytest.MonkeyPatch,
    path: str,
) -> None:
    guard = CrashGuard(window)
    guard.install()
    before = bench.bridge.editor.job
    bench.go_to(path)
    box = QApplication.focusWidget()
    assert isinstance(box, QLineEdit | QPlainTextEdit)

    def broken(_editor: Editor, _path: str, _text: str) -> None:
        raise RuntimeError("invented trouble")

    with monkeypatch.context() as patched:
        patched.setattr(Editor, "enter", broken)
        type_in(box, "12")
        qtbot.waitUntil(lambda: guard.dialog is not None)
    dialog = guard.dialog
    assert dialog is not None
    assert bench.bridge.editor.job == before
    close = next(one for one in buttons_in(dialog) if one.text() == "Close")
    close.click()
    qtbot.waitUntil(lambda: guard.dialog is None)
    calm()
    bench.bridge.enter("title", "Going on")
    assert bench.bridge.value_at("title") == "Going on"


# Dialogs


def hammer(dialog: QDialog, texts: Iterator[str], chance: Random) -> None:
    """Fill in everything of a dialog, press some of its buttons, and fill in what they open."""
    for _press in range(PRESSES):
        if not isValid(dialog) or not dialog.isVisible():
            return
        fill_in(dialog, texts, chance)
        offered = buttons_in(dialog)
        if not offered:
            return
        chance.choice(offered).click()
        calm()
        for other in shown_dialogs():
            if other is not dialog and type(other).__module__.startswith("deskapp"):
                fill_in(other, texts, chance)
        close_all_but(dialog)


def fill_in(dialog: QDialog, texts: Iterator[str], chance: Random) -> None:
    """Fill in everything of a dialog."""
    for box in boxes_in(dialog):
        if isValid(box) and box.isVisible():
            type_in(box, next(texts))
    turn_choices(dialog, chance)
    fill_tables(dialog, texts)


@pytest.mark.parametrize("name", DIALOGS)
def test_that_any_text_in_any_dialog_breaks_nothing(
    window: MainWindow, furniture: Furniture, bench: Workbench, name: str, tmp_path: Path
) -> None:
    bench.bridge.editor.path = None
    before = bench.bridge.editor.job

    @given(texts=st.lists(TEXT, min_size=12, max_size=12), seed=st.integers(0, 10_000))
    @settings(max_examples=4, **FEW)
    def work(texts: list[str], seed: int) -> None:
        with unbroken():
            DIALOGS[name](furniture)
            build_whole()
            dialog = shown_dialogs()[-1]
            hammer(dialog, cycle(texts), Random(seed))
            close_all_but()
            calm()
        assert window.isVisible()
        assert bench.bridge.assessment is not None

    work()
    while bench.bridge.editor.undo_label:
        bench.bridge.undo()
    changed = bench.bridge.editor.job
    assert changed.model_copy(update={"issued": ()}) == before.model_copy(update={"issued": ()})
    assert tmp_path.exists()
