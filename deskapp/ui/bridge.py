"""The single door between the widgets and the open job."""

from __future__ import annotations

from contextlib import contextmanager, suppress
from functools import partial
from typing import TYPE_CHECKING, Any

from PySide6.QtCore import QObject, QTimer, Signal

from deskapp.domain.field_spec import Form

if TYPE_CHECKING:
    from collections.abc import Callable, Generator, Mapping, Sequence

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.finding import Finding
    from deskapp.domain.issue import Issue
    from deskapp.domain.result import Assessment
    from deskapp.session.editor import Editor
    from deskapp.session.options import Option
    from deskapp.session.photo_intake import Taken
    from deskapp.session.settings import Preferences
    from deskapp.session.turned import Turned
    from deskapp.units.display import Formatter

TYPING_PAUSE = 150


def _stop_all(ears: list[Callable[[], None]], *_gone: object) -> None:
    """End listening; at the end of a door nothing of it may be touched any more."""
    while ears:
        ears.pop()()


def _nothing(_pattern: str) -> Sequence[str]:
    return ()


class Bridge(QObject):
    """Passes what people type and choose to the editor, and says when the job has changed.

    Signals: `changed` after any change, and when another job was opened; `opened` just before
    that, for what was said of the job shown till then; `typing` when a text begins to wait for a
    pause; `rested` when nothing waits any more; `photos_told` with what is to be said of photos
    that were taken in, which may be long after somebody asked for them; empty where all went well.
    """

    keeps_spare = True
    """Whether a row may wait outside of the job until something is typed into it."""

    changed = Signal()
    opened = Signal()
    typing = Signal()
    rested = Signal()
    photos_told = Signal(str)

    def __init__(self, editor: Editor, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._editor = editor
        self._ears = [editor.listen(self.changed.emit)]
        # The editor may outlive this door, as the list of instruments outlives its dialog.
        self.destroyed.connect(partial(_stop_all, self._ears))
        self._pending: tuple[str, str] | None = None
        self._entering = ""
        self.recall: Callable[[str], Sequence[str]] = _nothing
        self._is_pausing = False
        self._told_less = False
        self._pause = QTimer(self)
        self._pause.setSingleShot(True)
        self._pause.setInterval(TYPING_PAUSE)
        self._pause.timeout.connect(self.take_pause)

    @property
    def editor(self) -> Editor:
        """The open job's editor."""
        return self._editor

    def end(self) -> None:
        """Hear no more of the job, and take nothing that is still on its way."""
        self._pause.stop()
        self._pending = None
        _stop_all(self._ears)

    def open(self, editor: Editor) -> None:
        """Turn to another job."""
        self.end()
        self._editor = editor
        self._ears.append(editor.listen(self.changed.emit))
        self.opened.emit()
        self.changed.emit()

    # Reading

    @property
    def preferences(self) -> Preferences:
        """Units and styles in use."""
        return self._editor.preferences

    @property
    def formatter(self) -> Formatter:
        """What writes quantities for the screen."""
        return self._editor.preferences.formatter

    @property
    def assessment(self) -> Assessment:
        """What was worked out from the job as it stands."""
        return self._editor.assessment

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the job, stops first."""
        return self._editor.findings

    def finding_at(self, path: str) -> Finding | None:
        """Return the weightiest finding about a field."""
        return self._editor.finding_at(path)

    def findings_at(self, path: str) -> tuple[Finding, ...]:
        """Return all there is to say about a field, the weightiest first."""
        return tuple(finding for finding in self.findings if finding.path == path)

    def has(self, path: str) -> bool:
        """Say whether the job has this place: the row of a field may have been removed."""
        try:
            self._editor.value_at(path)
        except KeyError:
            return False
        return True

    def value_at(self, path: str) -> Any:
        """Return what the job holds at `path`; None where there is no such place (any more)."""
        with suppress(KeyError):
            return self._editor.value_at(path)
        return None

    def row_count(self, list_path: str) -> int:
        """Return how many rows a list has; 0 where there is no such list (any more)."""
        with suppress(KeyError):
            return self._editor.row_count(list_path)
        return 0

    def entry_text(self, path: str) -> str:
        """Return the text of a field while it is edited; empty where its row is gone."""
        return self._editor.entry_text(path) if self.has(path) else ""

    def shown_text(self, path: str) -> str:
        """Return the text of a field at rest; empty where its row is gone."""
        return self._editor.shown_text(path) if self.has(path) else ""

    def options_at(self, path: str) -> tuple[Option, ...]:
        """Return the answers a choice or reference field offers; none where its row is gone."""
        return self._editor.options_at(path) if self.has(path) else ()

    def unit_label(self, spec: FieldSpec) -> str:
        """Return the symbol of the unit meant where none is typed; empty for other fields."""
        if spec.form is not Form.QUANTITY:
            return ""
        from deskapp.session.typed import default_unit

        return self.formatter.label(default_unit(spec, self.preferences.unit_system))

    def echo(self, spec: FieldSpec, path: str) -> str:
        """Return the value of a quantity field in the other unit system; empty if it is the same.

        A text typed in a third unit is repeated as it was typed.
        """
        value = self.value_at(path)
        if spec.kind is None or value is None or value.si is None:
            return ""
        from deskapp.session.typed import default_unit
        from deskapp.units.display import Formatter, UnitSystem

        here = self.preferences.unit_system
        other = UnitSystem.SI if here is UnitSystem.IP else UnitSystem.IP
        unit, other_unit = default_unit(spec, here), default_unit(spec, other)
        if value.unit not in ("", unit, other_unit):
            return f"= {value.typed}"
        if other_unit == unit:
            return ""
        formatter = Formatter(other, self.preferences.number_style)
        return f"= {formatter.show(spec.kind, value.si, other_unit)}"

    # Changing

    def enter_soon(self, path: str, text: str) -> None:
        """Take text that is still being typed, after a short pause."""
        if self._pending is not None and self._pending[0] != path:
            self.settle()
        self._pending = (path, text)
        self._pause.start()
        self.typing.emit()

    @property
    def entering(self) -> str:
        """The path of the field whose own text is being taken right now; else empty."""
        return self._entering

    @property
    def is_pausing(self) -> bool:
        """Whether what changes now follows from a pause of typing, and typing may go on."""
        return self._is_pausing

    @contextmanager
    def as_in_pause(self, path: str) -> Generator[None]:
        """Let something that follows from a pause of typing in `path` be done a little later."""
        held = self._is_pausing, self._entering
        self._is_pausing, self._entering = True, path
        try:
            yield
        finally:
            self._is_pausing, self._entering = held

    def may_tell(self, path: str) -> bool:
        """Say whether the message about a field may come or go now.

        In a pause of typing only that of the field being typed in may: any other could move the
        field under the cursor. The others follow when the field is left.
        """
        return not self._is_pausing or path == self._entering

    def leave(self) -> None:
        """Take note that a field was left: say what was held back in the pauses of typing."""
        if self._told_less:
            self._told_less = False
            self.changed.emit()

    def take_pause(self) -> None:
        """Take what was typed: whoever typed it has made a pause."""
        self._is_pausing = self._told_less = True
        try:
            self.settle()
        finally:
            self._is_pausing = False

    def settle(self) -> None:
        """Take text that waits for the end of a pause, now."""
        self._pause.stop()
        if self._pending is not None:
            path, text = self._pending
            self._pending = None
            self._take(path, text)
            self.rested.emit()

    def enter(self, path: str, text: str) -> None:
        """Take text typed into a field. Nothing happens where its row is gone."""
        if self._pending is not None and self._pending[0] == path:
            self._pending = None
        self.settle()
        self._take(path, text)

    def enter_block(self, list_path: str, first: int, block: Sequence[Mapping[str, str]]) -> None:
        """Take rows of texts by field name into a list, from its row `first` on."""
        self.settle()
        self._editor.enter_block(list_path, first, block)

    def choose(self, path: str, value: str | None) -> None:
        """Answer a choice; None clears it. Nothing happens where its row is gone."""
        self.settle()
        if self.has(path):
            self._editor.choose(path, value)

    def add_row(self, list_path: str) -> str:
        """Add a row to a list and return its path."""
        self.settle()
        return self._editor.add_row(list_path)

    def remove_row(self, row_path: str) -> None:
        """Take out a row."""
        self.settle()
        self._editor.remove_row(row_path)

    def choose_limit(self, edition_id: str, row_id: str = "") -> None:
        """Judge the job by an edition."""
        self.settle()
        self._editor.choose_limit(edition_id, row_id)

    def drop_limit(self, key: str) -> None:
        """No longer judge the job by a limit."""
        self.settle()
        self._editor.drop_limit(key)

    def add_photos(self, list_path: str, taken: Taken) -> None:
        """Put pictures that were taken in at the end of a list."""
        from deskapp.session import photos

        self.settle()
        photos.add(self._editor, list_path, taken)

    def remove_photo(self, photo_path: str) -> None:
        """Take a picture out of the job."""
        from deskapp.session import photos

        self.settle()
        photos.remove(self._editor, photo_path)

    def move_photo(self, photo_path: str, by: int) -> str:
        """Move a picture within its list and return its new path."""
        from deskapp.session import photos

        self.settle()
        return photos.move(self._editor, photo_path, by)

    def take_issue(self, issue: Issue) -> None:
        """Record a report that was handed out."""
        self._editor.take_issue(issue)

    def prefer(self, preferences: Preferences) -> None:
        """Read and show texts by other preferences."""
        self.settle()
        self._editor.prefer(preferences)

    def undo(self) -> Turned | None:
        """Take back the last step, and return what that changed."""
        self.settle()
        return self._editor.undo()

    def redo(self) -> Turned | None:
        """Bring back the step undone last, and return what that changed."""
        self.settle()
        return self._editor.redo()

    def is_next_row(self, path: str) -> bool:
        """Say whether the field at `path` would be in the row after the last one of a list."""
        row, _dot, _field = path.rpartition(".")
        list_path, _dot, position = row.rpartition(".")
        return self.has(list_path) and position == str(self.row_count(list_path))

    def _take(self, path: str, text: str) -> None:
        is_new = self.keeps_spare and bool(text.strip()) and self.is_next_row(path)
        if is_new:
            self._editor.add_row(path.rpartition(".")[0].rpartition(".")[0], path)
        if not (is_new or self.has(path)):
            return
        self._entering = path
        try:
            self._editor.enter(path, text)
        finally:
            self._entering = ""
