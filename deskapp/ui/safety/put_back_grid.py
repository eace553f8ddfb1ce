"""What was changed on arrival, row by row, to be ticked off when it is put back."""

from __future__ import annotations

from deskapp.i18n import N_, _
from deskapp.session.safety_desk import arrival_title, changed_unlisted
from deskapp.ui.row_grid import RowGrid


class PutBackGrid(RowGrid):
    """The changed rows of the list, named by what was changed; none is added or removed here."""

    takes_rows = False
    none_words = N_("Nothing is noted as changed. The list begins on the page “Before you start”.")

    _led_to = ""

    def reveal(self, path: str) -> bool:
        """Put the cursor into the cell at `path`, also of a row that is not ticked as changed."""
        self._led_to = path.rpartition(".")[0]
        self.refresh()
        return super().reveal(path)

    def title(self, path: str) -> str:
        """Return what the row is about and how it was found."""
        return arrival_title(self._bridge.value_at(path))

    def words_for_none(self) -> str:
        """Return that nothing is listed, and what the tests tell of all the same."""
        told = changed_unlisted(self._bridge.editor)
        if not told:
            return super().words_for_none()
        return _("Nothing is listed yet, but the tests tell of: {told}. Begin the list.").format(
            told=told
        )

    def is_shown(self, path: str) -> bool:
        """Show what was changed; nothing that holds an answer is out of sight."""
        item = self._bridge.value_at(path)
        if path == self._led_to:
            return True
        return item.is_changed or bool(item.undone or item.seals_off or item.explained)
