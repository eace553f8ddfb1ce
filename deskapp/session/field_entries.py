"""What every form talks to: entries by path, as texts and answers, and whoever hears of changes."""

from __future__ import annotations

from abc import ABC, abstractmethod
from contextlib import suppress
from typing import TYPE_CHECKING, Any

from deskapp.domain.field_spec import Form
from deskapp.session.typed import problem_in, read, text_to_edit, text_to_show

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.finding import Finding
    from deskapp.session.options import Option
    from deskapp.session.settings import Preferences


class FieldEntries(ABC):
    """The entries behind a form: those of a job, of the register, or of one field check.

    Methods that take a path raise KeyError for a place that is not there.
    """

    def __init__(self, preferences: Preferences) -> None:
        self._preferences = preferences
        self._listeners: list[Callable[[], None]] = []

    @property
    def preferences(self) -> Preferences:
        """Units and styles that texts are read and shown in."""
        return self._preferences

    @property
    @abstractmethod
    def findings(self) -> tuple[Finding, ...]:
        """All there is to say about the entries, stops first."""

    @abstractmethod
    def spec_at(self, path: str) -> FieldSpec:
        """Return what the program knows about the field at `path`."""

    @abstractmethod
    def value_at(self, path: str) -> Any:
        """Return what stands at `path`."""

    @abstractmethod
    def options_at(self, path: str) -> tuple[Option, ...]:
        """Return the answers a choice or reference field offers; ValueError for one typed."""

    @abstractmethod
    def _put(self, path: str, value: object) -> None:
        """Let `value` stand at `path`, and tell of it where it is another one."""

    def finding_at(self, path: str) -> Finding | None:
        """Return the weightiest finding about the field at `path`."""
        return next((finding for finding in self.findings if finding.path == path), None)

    def entry_text(self, path: str) -> str:
        """Return the text a field shows while it is edited: as typed."""
        return text_to_edit(self.spec_at(path), self.value_at(path), self._preferences)

    def shown_text(self, path: str) -> str:
        """Return the text a field shows at rest, in the preferred units."""
        spec, value = self.spec_at(path), self.value_at(path)
        if spec.form is Form.REFERENCE:
            return next((o.label for o in self.options_at(path) if o.value == value), str(value))
        return text_to_show(spec, value, self._preferences)

    def enter(self, path: str, text: str) -> None:
        """Take `text` typed into the field at `path`; blank text clears the field.

        Text that cannot be read is kept and earns a finding; nothing else changes. A text that is
        the one shown changes nothing. Raises ValueError for another text of a field that is chosen.
        """
        spec, value = self.spec_at(path), self.value_at(path)
        untouched = text == text_to_edit(spec, value, self._preferences)
        if not untouched or problem_in(spec, value, self._preferences) is not None:
            self._put(path, read(spec, text, self._preferences))

    def choose(self, path: str, value: str | None) -> None:
        """Answer the choice or reference field at `path`; None clears it.

        Raises ValueError for an answer the field does not offer, and for a field that is typed.
        """
        spec = self.spec_at(path)
        if value is not None and value not in {o.value for o in self.options_at(path)}:
            raise ValueError(f"{value!r} is no answer to {path}")
        if spec.choices is not None:
            self._put(path, None if value is None else spec.choices(value))
        elif spec.form is Form.REFERENCE:
            self._put(path, value or "")
        else:
            raise ValueError(f"{path} is typed, not chosen")

    def prefer(self, preferences: Preferences) -> None:
        """Read and show texts by other preferences from now on; no stored value changes."""
        self._preferences = preferences
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
