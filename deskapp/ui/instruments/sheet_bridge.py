"""The door between form fields and entries that stand outside of any job."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING, Any, Protocol, cast

from deskapp.ui.bridge import Bridge

if TYPE_CHECKING:
    from collections.abc import Callable, Mapping, Sequence

    from PySide6.QtCore import QObject

    from deskapp.domain.finding import Finding
    from deskapp.session.editor import Editor
    from deskapp.session.instruments.check_sheet import CheckSheet
    from deskapp.session.options import Option
    from deskapp.session.settings import Preferences


class Entries(Protocol):
    """What a form needs of the entries behind it; the editor of a job has all of this too."""

    @property
    def preferences(self) -> Preferences:
        """Units and styles that texts are read and shown in."""
        ...

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the entries, stops first."""
        ...

    def finding_at(self, path: str) -> Finding | None:
        """Return the weightiest finding about a field."""
        ...

    def value_at(self, path: str) -> Any:
        """Return what stands at `path`; KeyError where there is no such place."""
        ...

    def entry_text(self, path: str) -> str:
        """Return the text of a field while it is edited."""
        ...

    def shown_text(self, path: str) -> str:
        """Return the text of a field at rest."""
        ...

    def enter(self, path: str, text: str) -> None:
        """Take typed text."""

    def listen(self, callback: Callable[[], None]) -> Callable[[], None]:
        """Call `callback` after every change; return what ends that."""
        ...


class SheetBridge(Bridge):
    """Lets the form fields of a job edit other entries of the same shape.

    Only what forms ask for is there: it has no limits, photos or assessment, which forms of
    instruments never touch.
    """

    keeps_spare = False

    def __init__(self, entries: Entries, parent: QObject | None = None) -> None:
        super().__init__(cast("Editor", entries), parent)
        self._entries = entries

    def enter_block(self, list_path: str, first: int, block: Sequence[Mapping[str, str]]) -> None:
        """Take rows of texts by field name into a list, from its row `first` on."""
        self.settle()
        for row, texts in enumerate(block, first):
            if row >= self.row_count(list_path):
                self.add_row(list_path)
            for field, text in texts.items():
                self._entries.enter(f"{list_path}.{row}.{field}", text)


class CheckEntriesDesk:
    """A field check that tells of its changes, as forms need it."""

    def __init__(self, sheet: CheckSheet) -> None:
        self.sheet = sheet
        self._listeners: list[Callable[[], None]] = []

    @property
    def preferences(self) -> Preferences:
        """Units and styles that texts are read and shown in."""
        return self.sheet.preferences

    @property
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the check, stops first."""
        return self.sheet.findings

    def finding_at(self, path: str) -> Finding | None:
        """Return the weightiest finding about a field."""
        return self.sheet.finding_at(path)

    def value_at(self, path: str) -> Any:
        """Return what stands at `path`."""
        return self.sheet.value_at(path)

    def entry_text(self, path: str) -> str:
        """Return the text of a field while it is edited."""
        return self.sheet.entry_text(path)

    def shown_text(self, path: str) -> str:
        """Return the text of a field at rest."""
        return self.sheet.shown_text(path)

    def options_at(self, path: str) -> tuple[Option, ...]:
        """Return the answers a field offers."""
        return self.sheet.options_at(path)

    def enter(self, path: str, text: str) -> None:
        """Take typed text."""
        self.sheet.enter(path, text)
        self._tell()

    def choose(self, path: str, value: str | None) -> None:
        """Answer a choice."""
        self.sheet.choose(path, value)
        self._tell()

    def listen(self, callback: Callable[[], None]) -> Callable[[], None]:
        """Call `callback` after every change; return what ends that."""
        self._listeners.append(callback)

        def stop() -> None:
            with suppress(ValueError):
                self._listeners.remove(callback)

        return stop

    def _tell(self) -> None:
        for callback in tuple(self._listeners):
            callback()
