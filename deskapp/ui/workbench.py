"""The open job on screen: steps, page, result and findings."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, Qt, Signal
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtWidgets import QStackedWidget, QWidget
from shiboken6 import isValid

from deskapp.i18n import _, labeled
from deskapp.session.pages import PAGES
from deskapp.ui.bench_layout import BenchLayout
from deskapp.ui.bridge import Bridge
from deskapp.ui.dressing import Dressing
from deskapp.ui.findings_strip import FindingsStrip
from deskapp.ui.form import Chosen
from deskapp.ui.notice_bar import NoticeBar
from deskapp.ui.page_builder import PageBuilder
from deskapp.ui.page_maker import make_page
from deskapp.ui.pages.report_page import ReportPage
from deskapp.ui.panes import go_to_next_part
from deskapp.ui.places import home_of, list_of, path_of
from deskapp.ui.preview import PreviewPane
from deskapp.ui.result_pane import ResultPane
from deskapp.ui.slices import Slices
from deskapp.ui.standing import PageState, let_stand, standing_of
from deskapp.ui.steps import PageSteps

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.session.editor import Editor
    from deskapp.session.report_kinds import ReportKind
    from deskapp.session.turned import Turned
    from deskapp.ui.desk import Desk
    from deskapp.ui.pages.page import PageView

_TURNED, _PHOTOS = "turned", "photos"


class Workbench(QWidget):
    """Everything about one job. In a wide window the result stands beside the page.

    Signals: `save_wanted` where something was done that the job file should hold at once;
    `refreshed` when everything shows the job as it stands.

    In a pause of typing the verdict comes first, in the same turn of the event loop; all the rest
    follows in turns of its own, and waits as soon as typing goes on. Any other change shows at once
    on the page, since rows may have come or gone, and beside it in the turns after.
    """

    save_wanted = Signal()
    refreshed = Signal()

    def __init__(self, desk: Desk, editor: Editor, before: Workbench | None = None) -> None:
        """Show the job of `editor`; at the page and the rows that `before` shows, if given."""
        super().__init__()
        self._desk = desk
        self.bridge = Bridge(editor, self)
        self._chosen = Chosen() if before is None else before._chosen
        self._standing: dict[str, PageState] = {} if before is None else before.standing()
        self._pages: dict[str, PageView] = {}
        self._page_id = PAGES[0].id if before is None else before._page_id
        self.steps = PageSteps(self.bridge)
        self.pages = QStackedWidget()
        self.result = ResultPane(self.bridge)
        self.strip = FindingsStrip(self.bridge)
        self.notice = NoticeBar()
        self._dressing = Dressing(self, self._to_dress)
        for part in (self.steps, self.result, self.strip):
            self._dressing.keep(part)
        self._pane: PreviewPane | None = None
        self._wants_pane = False
        parts = self.notice, self.steps, self.pages, self.result, self.strip
        self._places = BenchLayout(self, *parts, self._fit)
        self.steps.picked.connect(self._pick)
        self.strip.led_to.connect(self.go_to)
        self.strip.new_found.connect(self.announce)
        self.result.verdict_changed.connect(self.announce)
        self._rest = Slices(self)
        self._builder = PageBuilder(self, self._on_screen, self._to_come)
        self.bridge.changed.connect(self._follow)
        self.bridge.photos_told.connect(self._tell_of_photos)
        self.bridge.typing.connect(self._rest.wait)
        self.bridge.typing.connect(self._builder.wait)
        self.bridge.rested.connect(self._rest.go_on)
        self.bridge.rested.connect(self._builder.go_on)
        self.show_page(self._page_id)
        self.refresh()

    @property
    def page(self) -> PageView:
        """The page on screen, whole."""
        return self.page_view(self._page_id)

    def waits(self) -> bool:
        """Say whether something of the window does not show the job as it stands yet."""
        return self._rest.is_due

    def standing(self) -> dict[str, PageState]:
        """Return how the pages stand, by id; those that were not looked at are left out."""
        seen = {one: view for one, view in self._pages.items() if view.is_whole}
        return self._standing | {one: standing_of(view) for one, view in seen.items()}

    def hand_over(self, other: Workbench) -> list[tuple[QWidget, QWidget]]:
        """Let `other`, made after this one, tell the same; return the parts that answer each other.

        This one listens no more.
        """
        other.strip.unfold(self.strip.is_open)
        if self.notice.told is not None:
            other.notice.tell(*self.notice.told)
        if self._pane is not None and other._pane is not None:
            other._pane.card.pick_like(self._pane.card)
        self.bridge.end()
        names = ("notice", "steps", "page", "result", "strip")
        return [(getattr(self, name), getattr(other, name)) for name in names]

    def builds(self) -> bool:
        """Say whether something of the page on screen is still to be built."""
        return not self._on_screen().is_whole

    def focusNextPrevChild(self, forward: bool, /) -> bool:
        """Go on with the Tab key only on a whole page, so that no field is passed over."""
        assert self.page.is_whole
        return super().focusNextPrevChild(forward)

    def open(self, editor: Editor) -> None:
        """Turn to another job, at its first page."""
        self._standing.clear()
        self._chosen.forget()
        self.notice.withdraw()
        self.strip.remark("")
        self.bridge.end()
        for view in self._pages.values():
            view.to_top()
        self.show_page(PAGES[0].id, is_current=False)
        self.bridge.open(editor)

    def page_view(self, page_id: str) -> PageView:
        """Return a page, whole: what of it is not built yet is built now."""
        view = self._frame_of(page_id)
        if not view.is_whole:
            view.complete()
            view.round_off()
        return view

    def _frame_of(self, page_id: str) -> PageView:
        """Return a page, whether or not it is built."""
        if page_id not in self._pages:
            page = next(page for page in PAGES if page.id == page_id)
            view = make_page(page, self.bridge, self._chosen, self._desk, self.go_to)
            self._pages[page_id] = view
            self._dressing.keep(view)
            if isinstance(view, ReportPage):
                view.ready.connect(partial(self._tie, view))
            self.pages.addWidget(view)
        return self._pages[page_id]

    def _to_dress(self) -> Iterator[QWidget]:
        """Yield what is given new colors in a turn of its own, what is on screen first."""
        yield from (self._on_screen(), self.result, self.steps, self.strip)
        yield from (view for one, view in self._pages.items() if one != self._page_id)

    def _on_screen(self) -> PageView:
        return self._frame_of(self._page_id)

    def _to_come(self) -> Iterator[PageView]:
        """Yield the other pages, those that follow the one on screen first."""
        ids = [page.id for page in PAGES]
        here = ids.index(self._page_id)
        return (self._frame_of(page_id) for page_id in (*ids[here + 1 :], *ids[:here]))

    def _tie(self, report: ReportPage) -> None:
        report.papers.was_issued.connect(self.save_wanted)
        report.preview.setVisible(self.pane is None)
        report.preview.placed.connect(report.show_preview_at)
        report.shown_kind = self._shown_kind

    def undo(self) -> None:
        """Take back the last step, and show where that was."""
        self._show_turned(self.bridge.undo())

    def redo(self) -> None:
        """Bring back the step undone last, and show where that was."""
        self._show_turned(self.bridge.redo())

    def _show_turned(self, turned: Turned | None) -> None:
        """Turn to what undo or redo changed and say so; what is about safety is said above."""
        if turned is None:
            return
        was_in_view = turned.page == self._page_id
        if turned.path:
            self.go_to(turned.path if self.bridge.has(turned.path) else list_of(turned.path))
        shelf = self.bridge.editor.shelf
        grave = turned.is_about_names or (turned.is_about_safety and not was_in_view)
        if grave and self.notice.topic in ("", _TURNED):
            again = self.redo if turned.is_back else self.undo
            self.notice.tell(
                _TURNED,
                lambda: turned.text(shelf),
                lambda: {_("Redo") if turned.is_back else _("Undo"): again},
            )
        else:
            self.strip.remark(turned.text(shelf))
        self.announce(turned.text(shelf))

    def _tell_of_photos(self, text: str) -> None:
        """Say above the page what became of photos: their place may be out of sight by now."""
        if not text:
            self.notice.withdraw(_PHOTOS)
            return
        said = labeled(_("Photos"), text)
        if self.notice.topic in ("", _TURNED, _PHOTOS):
            self.notice.tell(_PHOTOS, said, lambda: {})
        self.announce(said)

    def show_page(self, page_id: str, *, is_current: bool = True) -> None:
        """Turn to a page: at once to its head, and to all of it as soon as it is built.

        Without `is_current` another job is shown right after, so the page shows nothing anew.
        """
        self.bridge.settle()
        held = _focus_in(self.window())
        if page_id != self._page_id and held is not None and self.pages.isAncestorOf(held):
            self.steps.setFocus()
        self._page_id = page_id
        view = self._frame_of(page_id)
        self._dressing.keep(view)
        if self._rest.is_due:
            self.refresh()
        view.expect()
        stood = self._standing.pop(page_id, None)
        if stood is not None:
            view.complete()
        if view.is_whole and is_current:
            view.refresh()
        if stood is not None:
            let_stand(view, stood)
        self.pages.setCurrentWidget(view)
        self.steps.show_page(page_id)
        self._builder.wait()
        self._builder.go_on()

    def _pick(self, page_id: str) -> None:
        """Turn to the page of a step, unless the step was marked because its page is shown."""
        if page_id != self._page_id:
            self.show_page(page_id)

    def go_to(self, path: str) -> None:
        """Turn to the page of a field and put the cursor into it."""
        page_id = home_of(path)
        if page_id:
            self.show_page(page_id)
            self.page.reveal(path)

    def go_to_place(self, page_id: str, path: str) -> None:
        """Turn to a page, and to a field of it where one is named."""
        if path:
            self.go_to(path)
        else:
            self.show_page(page_id)
            self.page.to_top()

    def go_to_part(self, step: int) -> None:
        """Put the cursor into the next part of the window, in the order it is read; -1: before."""
        pane = () if self.pane is None else (self.pane,)
        page = self.page
        parts = (self.notice, self.steps, page, self.result, *pane, self.strip)
        stop = go_to_next_part(parts, step)
        if stop is not None and page.isAncestorOf(stop):
            page.show_focus()

    def put_on_top(self, bar: QWidget) -> None:
        """Put something across the page, below a notice."""
        self._places.put_on_top(bar)

    def choose_limit(self) -> None:
        """Turn to the limits of the job and let one be chosen."""
        from deskapp.ui.pages.house_page import HousePage

        self.go_to("compliance.limits")
        if isinstance(self.page, HousePage):
            self.page.limits.open_dialog()

    def refresh(self) -> None:
        """Show the job as it stands, all at once."""
        self._rest.drop()
        self._refresh_page()
        self._refresh_result()
        self._refresh_rest()

    def show_rest(self) -> None:
        """Show now what still waits for a turn of its own."""
        self._rest.complete()

    def _refresh_page(self) -> None:
        view = self._on_screen()
        view.expect()
        if view.is_whole or not view.is_rebuilt:
            view.refresh()

    def _follow(self) -> None:
        """Show the job after a change: while somebody types, first the verdict, else the page."""
        self.notice.withdraw(_TURNED)
        if not self.bridge.is_pausing:
            self._refresh_page()
            self._rest.begin((self._refresh_result, self._refresh_rest))
            return
        self.result.refresh()
        self.result.show_now()
        typed = self.bridge.entering
        pieces = (*self._on_screen().pieces(), self.result.warn, self._refresh_rest)
        self._rest.begin(partial(self._do, typed, piece) for piece in pieces)

    def _do(self, typed: str, piece: Callable[[], None]) -> None:
        with self.bridge.as_in_pause(typed):
            piece()

    def _refresh_result(self) -> None:
        self.result.refresh()
        self.result.warn()

    def _refresh_rest(self) -> None:
        self.steps.refresh()
        self.strip.refresh()
        if self._pane is not None:
            self._pane.card.refresh()
        self._builder.go_on()
        self.refreshed.emit()

    @property
    def pane(self) -> PreviewPane | None:
        """The preview beside the page; None where it is not wished or has no room."""
        return None if self._pane is None or self._pane.isHidden() else self._pane

    def show_preview(self, on: bool) -> None:
        """Show the preview beside every page, as long as the window is wide enough."""
        self._wants_pane = on
        if on and self._pane is None:
            self._pane = PreviewPane(self.bridge, self._desk)
            self._places.add_pane(self._pane)
        self._place()
        if on and self.pane is None and self.isVisible():
            words = _("The preview comes up beside the page once the window is wider.")
            self.strip.remark(words)

    def _shown_kind(self) -> ReportKind:
        pane = self.pane
        return (self.report_page.preview if pane is None else pane.card).kind

    def find_in_preview(self) -> None:
        """Bring the page that shows the field with the cursor into sight."""
        path = path_of(_focus_in(self.window()))
        if self.pane is not None and path:
            self.pane.card.show_field(path)
        elif path:
            self.show_page("report")
            self.report_page.preview.show_field(path)
        else:
            self.strip.remark(_("Put the cursor into a field to find it in the preview."))

    def save_report(self, kind: str) -> None:
        """Turn to the page of the report and ask where to save a report."""
        self.turn_to_report().ask_where(kind)

    def issue_report(self, kind: str) -> None:
        """Turn to the page of the report and ask what is needed to issue a report."""
        self.turn_to_report().ask_to_issue(kind)

    def save_all_reports(self) -> None:
        """Turn to the page of the report and ask for a folder to save all reports in."""
        self.turn_to_report().papers.ask_folder_for_all()

    def print_report(self) -> None:
        """Turn to the page of the report and ask which paper to print; go back if none is."""
        here = self._page_id, _focus_in(self.window())
        self.turn_to_report().ask_how_to_print(partial(self._go_back, *here))

    def _go_back(self, page_id: str, held: QWidget | None) -> None:
        """Turn to the page that was left, with the cursor where it was."""
        self.show_page(page_id)
        if held is not None and isValid(held) and self.isAncestorOf(held):
            held.setFocus(Qt.FocusReason.OtherFocusReason)

    def mail_reports(self) -> None:
        """Turn to the page of the report and let reports be handed over by mail."""
        self.turn_to_report().papers.mail()

    def turn_to_report(self) -> ReportPage:
        """Turn to the page of the report."""
        self.show_page("report")
        return self.report_page

    def refresh_reports(self) -> None:
        """Draw the preview of the reports anew."""
        report = self._made_report()
        if report is not None:
            report.preview.forget()
        if self._pane is not None:
            self._pane.card.forget()

    def _made_report(self) -> ReportPage | None:
        """Return the page of the report if its papers and its preview stand there."""
        view = self._pages.get("report")
        return view if isinstance(view, ReportPage) and view.is_whole else None

    @property
    def report_page(self) -> ReportPage:
        """The page of the report."""
        view = self.page_view("report")
        assert isinstance(view, ReportPage)
        return view

    def announce(self, text: str) -> None:
        """Have a screen reader say `text`."""
        if text and QAccessible.isActive():
            QAccessible.updateAccessibility(QAccessibleAnnouncementEvent(self, text))

    def changeEvent(self, event: QEvent) -> None:
        """Give new colors to one part after the other."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._dressing.begin()

    def _fit(self) -> None:
        """Let the steps take their share of the width, and the result its place."""
        self.steps.fit(self.width())
        self._place()

    def _place(self) -> None:
        """Let everything stand where there is room; the preview is shown at one place at most."""
        self._places.place(wants_pane=self._wants_pane)
        report = self._made_report()
        if self._pane is not None and report is not None:
            report.preview.setVisible(self.pane is None)


def _focus_in(window: QWidget) -> QWidget | None:
    """Return what has the focus in a window, or would have it if the window were in front."""
    return window.focusWidget()
