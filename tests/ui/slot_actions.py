"""What people do in the window, one step each, for `bench_slots`."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import partial
from pathlib import Path

from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QColor, QDropEvent, QImage
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from deskapp.session.pages import PAGES
from deskapp.session.report_kinds import ReportKind
from deskapp.ui.form import RowGroup
from deskapp.ui.furnish import Furniture
from deskapp.ui.instruments.earlier_card import EarlierCard, EarlierDialog
from deskapp.ui.instruments.instruments_dialog import InstrumentsDialog
from deskapp.ui.instruments.own_card import OwnCard
from deskapp.ui.jobs.jobs_dialog import JobsDialog
from deskapp.ui.limits.sampling_dialog import SamplingDialog
from deskapp.ui.live.gauge_card import GaugeCard
from deskapp.ui.main_window import MainWindow
from deskapp.ui.photos.boards import SketchBoard
from deskapp.ui.photos.cards import JobPhotosCard
from deskapp.ui.photos.drawing_dialog import DrawingDialog
from deskapp.ui.photos.signature_dialog import SignatureDialog
from deskapp.ui.theme import Appearance
from deskapp.ui.workbench import Workbench

PHOTOS, PHOTO_SIZE = 6, (4000, 3000)
JOBS = 300


@dataclass(frozen=True)
class Step:
    """One thing somebody does; `before` gets ready for it, which is not measured."""

    name: str
    act: Callable[[], object]
    before: Callable[[], object] = lambda: None
    is_page: bool = False


def bench_of(furniture: Furniture) -> Workbench:
    assert furniture.bench is not None
    return furniture.bench


def card(furniture: Furniture, page_id: str, kind: type[QWidget]) -> QWidget:
    """Return a card of a page, which is turned to."""
    bench = bench_of(furniture)
    bench.show_page(page_id)
    found = bench.page.findChild(kind)
    assert isinstance(found, kind)
    return found


def shown_dialogs() -> list[QDialog]:
    """Return the dialogs on screen."""
    found = [one for one in QApplication.topLevelWidgets() if isinstance(one, QDialog)]
    return [one for one in found if one.isVisible()]


# Pages


def pages(furniture: Furniture) -> Iterator[Step]:
    """Every page once."""
    bench = bench_of(furniture)
    for page in PAGES:
        yield Step(f"turn to {page.id}", partial(bench.show_page, page.id), is_page=True)


def big_step(furniture: Furniture) -> None:
    """Take all tests but the first out, as one step."""
    editor = bench_of(furniture).bridge.editor
    job = editor.job
    editor.take(job.model_copy(update={"tests": job.tests[:1]}), "big step")


def changes(furniture: Furniture) -> Iterator[Step]:
    """Changes of the job on the page where they are made."""
    bench = bench_of(furniture)
    bridge = bench.bridge
    show = bench.show_page

    def group(page_id: str, list_path: str) -> RowGroup:
        show(page_id)
        groups = bench.page.findChildren(RowGroup)
        return next(one for one in groups if one.list_path == list_path)

    for page_id, path in (("house", "systems"), ("readings", "tests")):
        rows = partial(group, page_id, path)
        show(page_id)
        yield Step(f"add one of the {path}", rows().add_row)
        yield Step(f"undo adding one of the {path}", bridge.undo)
        yield Step(f"redo adding one of the {path}", bridge.redo)
        yield Step(f"remove one of the {path}", rows().take_out)
    readings = "tests.0.readings"
    yield Step("add a reading", lambda: bridge.add_row(readings), lambda: show("readings"))
    yield Step("remove a reading", lambda: bridge.remove_row(f"{readings}.0"))
    yield Step("undo removing a reading", bridge.undo)
    yield Step("redo removing a reading", bridge.redo)
    path = "house.floor_area"
    yield Step("type a floor area", lambda: bridge.enter(path, "3,111"), lambda: show("house"))
    yield Step("undo a floor area", bridge.undo)
    yield Step("redo a floor area", bridge.redo)
    yield Step("take a big step", partial(big_step, furniture), lambda: show("result"))
    yield Step("undo a big step", bridge.undo)
    yield Step("redo a big step", bridge.redo)
    bridge.undo()
    yield Step("show metric units", partial(furniture.show_units, "si"), lambda: show("readings"))
    yield Step("show inch-pound units", partial(furniture.show_units, "ip"))


def setups(furniture: Furniture) -> Iterator[Step]:
    """Copying a set-up."""
    earlier = card(furniture, "setup", EarlierCard)
    assert isinstance(earlier, EarlierCard)
    opened: list[QDialog] = []
    yield from dialog("copying a set-up", earlier.ask_which, opened)
    chooser = opened[0]
    assert isinstance(chooser, EarlierDialog)
    yield Step("copy a set-up", chooser.copy_button.click)
    bench_of(furniture).bridge.undo()


def dialog(
    name: str, show: Callable[[], object], opened: list[QDialog] | None = None
) -> Iterator[Step]:
    """Open a dialog, and close it unless `opened` is to hold it."""
    before = shown_dialogs()
    yield Step(f"open {name}", show)
    new = [one for one in shown_dialogs() if one not in before]
    if opened is not None:
        opened += new
    else:
        yield Step(f"close {name}", new[-1].reject)


# Dialogs


def dialogs(furniture: Furniture) -> Iterator[Step]:
    """All dialogs of the menus and pages."""
    bench = bench_of(furniture)
    window = bench.window()
    show = bench.show_page

    def papers() -> None:
        bench.report_page.papers.change_template(ReportKind.COMPLIANCE)

    yield from dialog("preferences", furniture.show_preferences)
    yield from dialog("branding", furniture.edit_branding)
    yield from dialog("what new jobs start with", furniture.edit_usual)
    yield from dialog("the signing key", furniture.edit_signing_key)
    yield from dialog("checking a report", furniture.check_report)
    yield from dialog("about", furniture.about)
    show("house")
    yield from dialog("the limit chooser", furniture.bench.choose_limit)
    yield from dialog("own limits", furniture.edit_limits)
    show("setup")
    own = card(furniture, "setup", OwnCard)
    assert isinstance(own, OwnCard)
    yield from dialog("taking instruments", own.ask_what_to_take)
    gauge = card(furniture, "readings", GaugeCard)
    assert isinstance(gauge, GaugeCard)
    log = furniture.desk.folder.parent / "log.csv"
    lines = "".join(f"{n},-25.{n % 2},32\n" for n in range(600))
    log.write_text("time [s],duct pressure [Pa],fan signal [Pa]\n" + lines, encoding="utf-8")
    yield from dialog("a log of readings", lambda: gauge.import_log(log))
    yield from dialog("live readings", gauge.read_live)
    show("leaks")
    yield from dialog("the sketch", lambda: DrawingDialog(SketchBoard(bench.bridge), window).open())
    show("report")
    yield from dialog("issuing", lambda: furniture.bench.issue_report(ReportKind.HOMEOWNER.value))
    yield from dialog("mail", furniture.bench.mail_reports)
    yield from dialog("a template", papers)
    yield from dialog("signing by hand", lambda: SignatureDialog(window).open())


def instruments(furniture: Furniture) -> Iterator[Step]:
    """The company's instruments: those of the job are among them."""
    register = furniture.desk.cabinet.editor(furniture.desk.preferences)
    job = bench_of(furniture).bridge.editor.job
    for one in (*job.gauges, *job.fans):
        register.take_in(one.model_copy(update={"serial": "X-1"}))
    opened: list[QDialog] = []
    yield from dialog("instruments", furniture.show_instruments, opened)
    shown = opened[0]
    assert isinstance(shown, InstrumentsDialog)
    yield from dialog("a field check", lambda: shown.check_fan("fans.0"))
    yield from dialog("the exponent of a ring", lambda: shown.fit_ring("fans.0.rings.0"))
    yield Step("close instruments", shown.reject)


def sampling(furniture: Furniture) -> Iterator[Step]:
    """A sampling plan, and its log."""
    opened: list[QDialog] = []
    yield from dialog("sampling", furniture.sample_units, opened)
    shown = opened[0]
    assert isinstance(shown, SamplingDialog)
    start = shown.start
    start.project.setText("Sample Court")
    start.threshold.setText("at most 40 cfm")
    start.units.setPlainText("\n".join(f"Unit {n + 1}" for n in range(40)))
    yield Step("begin a sampling plan", start.begin.click)
    yield Step("draw units", shown.work.draw_button.click)
    folder = furniture.desk.folder.parent
    yield Step("write the sampling log", lambda: shown.write_log(folder / "log.pdf"))
    yield Step("save the sampling plan", lambda: shown.save_file(folder / "plan.ductsample"))
    yield Step("close sampling", shown.reject)


# Help, jobs, photos, files, colors


def helping(furniture: Furniture) -> Iterator[Step]:
    """Help beside the page."""
    bench_of(furniture).show_page("setup")
    yield Step("open help", furniture.help)
    panel = furniture.guide.panel
    assert panel is not None
    yield Step("list the topics of help", furniture.list_topics)
    yield Step("search help", lambda: panel.search.setText("ring"))
    yield Step("close help", panel.close)


def jobs_listed(furniture: Furniture) -> Iterator[Step]:
    """The list of many jobs, and their reports."""
    opened: list[QDialog] = []
    yield from dialog("the list of jobs", furniture.show_jobs, opened)
    shown = opened[0]
    assert isinstance(shown, JobsDialog)
    yield Step("filter jobs by a letter", lambda: shown.search.setText("1"))
    yield Step("filter jobs by another", lambda: shown.search.setText("12"))
    yield Step("filter jobs by status", lambda: shown.status.setCurrentIndex(1))
    yield Step(
        "filter jobs no longer", lambda: (shown.search.clear(), shown.status.setCurrentIndex(0))
    )
    yield from dialog("reports of jobs", shown.reports.click)


def photos(furniture: Furniture) -> Iterator[Step]:
    """Photos dropped on the job, and removed."""
    folder = furniture.desk.folder.parent / "photos"
    files = photo_files(folder)
    found = card(furniture, "leaks", JobPhotosCard)
    assert isinstance(found, JobPhotosCard)
    strip = found.strip
    mime = QMimeData()
    mime.setUrls([QUrl.fromLocalFile(str(file)) for file in files])
    drop = QDropEvent(
        QPointF(5, 5),
        Qt.DropAction.CopyAction,
        mime,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    yield Step("drop photos", partial(strip.dropEvent, drop))
    yield from dialog("a photo", lambda: strip.tiles[0].picture.click())
    bridge = bench_of(furniture).bridge
    yield Step("remove a photo", lambda: bridge.remove_photo("photos.0"))
    yield Step("undo removing a photo", bridge.undo)
    yield Step("undo dropping photos", bridge.undo)


def files(furniture: Furniture) -> Iterator[Step]:
    """Save, a new job, opening it again."""
    editor = bench_of(furniture).bridge.editor
    path = furniture.desk.place_for_jobs() / "bench.ductjob"
    editor.path = path
    bench_of(furniture).show_page("house")
    bench_of(furniture).bridge.enter("comments", "Saved by hand.")
    yield Step("save", furniture.save)
    yield Step("open a new job", furniture.new)
    yield Step("open a job", lambda: furniture.open(path))


def colors(furniture: Furniture) -> Iterator[Step]:
    """Light and dark."""
    window = bench_of(furniture).window()
    assert isinstance(window, MainWindow)
    for appearance in (Appearance.DARK, Appearance.LIGHT):
        yield Step(f"appearance: {appearance.value}", partial(window.theme.choose, appearance))


Part = Callable[[Furniture], Iterator[Step]]

PARTS: tuple[Part, ...] = (
    pages,
    changes,
    setups,
    dialogs,
    instruments,
    sampling,
    helping,
    jobs_listed,
    photos,
    colors,
    files,
)
"""In the order in which they are done; pages come first, since all else is done on them."""


def photo_files(folder: Path) -> list[Path]:
    """Make invented photos as large as those of a phone."""
    folder.mkdir(exist_ok=True)
    made = [folder / f"{n}.jpg" for n in range(PHOTOS)]
    for n, file in enumerate(made):
        if not file.exists():
            picture = QImage(*PHOTO_SIZE, QImage.Format.Format_RGB32)
            picture.fill(QColor(20 * n, 120, 200))
            picture.save(str(file), quality=80)
    return made


def big_jobs_folder(furniture: Furniture) -> None:
    """Put many jobs into the folder for jobs."""
    folder = furniture.desk.place_for_jobs()
    editor = bench_of(furniture).bridge.editor
    furniture.desk.save(editor, folder / "J-0.ductjob")
    data = (folder / "J-0.ductjob").read_bytes()
    for n in range(1, JOBS):
        (folder / f"J-{n}.ductjob").write_bytes(data)
