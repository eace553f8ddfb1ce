"""The company's instruments as the window holds them: read once, kept after each change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.i18n import labeled

if TYPE_CHECKING:
    from collections.abc import Callable
    from datetime import date
    from pathlib import Path

    from deskapp.domain.finding import Finding
    from deskapp.domain.register import InstrumentRegister
    from deskapp.session.instruments.register_editor import RegisterEditor
    from deskapp.session.settings import Preferences


class Cabinet:
    """The open register of one folder, read when first asked for.

    `findings` is what there was to say when it was read, such as that a damaged file was set
    aside.
    """

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._editor: RegisterEditor | None = None
        self._findings: tuple[Finding, ...] = ()

    def editor(self, preferences: Preferences) -> RegisterEditor:
        """Return the open register, which reads and shows texts by `preferences`.

        Which files were opened last is no matter here: jobs and window know different ones.
        """
        from deskapp.session.instruments import store
        from deskapp.session.instruments.register_editor import RegisterEditor

        if self._editor is None:
            found = store.load(self._folder)
            self._findings = found.findings
            self._editor = RegisterEditor(found.register, preferences)
        elif self._editor.preferences.without_recent() != preferences.without_recent():
            self._editor.prefer(preferences)
        return self._editor

    def register(self, preferences: Preferences) -> InstrumentRegister:
        """Return the register as it stands."""
        return self.editor(preferences).register

    @property
    def findings(self) -> tuple[Finding, ...]:
        """What there was to say when the register was read."""
        return self._findings

    def keep(self) -> Finding | None:
        """Write changes into the file; return why not if that does not work."""
        if self._editor is None or not self._editor.is_dirty:
            return None
        return self._editor.keep(self._folder)

    def listen(self, preferences: Preferences, then: Callable[[], None]) -> Callable[[], None]:
        """Call `then` after every change of the register; return what ends that."""
        return self.editor(preferences).listen(then)

    def due_words(self, preferences: Preferences, today: date) -> str:
        """Return which instruments are overdue or soon due for calibration; empty if none is."""
        from deskapp.session.instruments.due import due

        found = due(self.register(preferences), today)
        formatter = preferences.formatter
        items = (*found.overdue, *found.soon)
        return "; ".join(labeled(item.name, item.words(formatter)) for item in items)
