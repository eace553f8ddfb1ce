"""One row of a grid: its number, its cells, a word of result, and what is wrong with it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QWidget

from deskapp.ui.fields.cells import cell_for
from deskapp.ui.glyphs import Glyph
from deskapp.ui.levels import level_of
from deskapp.ui.marks import Mark
from deskapp.ui.remove_button import RemoveButton
from deskapp.ui.words import Size, Words

if TYPE_CHECKING:
    from collections.abc import Sequence

    from deskapp.domain.field_spec import FieldSpec
    from deskapp.domain.finding import Finding
    from deskapp.ui.bridge import Bridge


class GridRow:
    """The widgets of one row; they stand in the layout of the grid."""

    def __init__(self, bridge: Bridge, specs: list[FieldSpec], *, is_remarked: bool) -> None:
        self._is_remarked = is_remarked
        self.number = Words("", Size.SMALL, muted=True, wraps=False)
        self.number.setAlignment(Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter)
        self.cells = [cell_for(bridge, spec) for spec in specs]
        self.remark = Words("", Size.SMALL, muted=True, wraps=False)
        self.remove = RemoveButton()
        self.remove.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.mark = Mark(Glyph.NOTE, 16)
        self.mark.hide()
        self.told: tuple[Finding, ...] = ()

    @property
    def widgets(self) -> tuple[QWidget, ...]:
        """All of them but the mark."""
        remarks = (self.remark,) if self._is_remarked else ()
        return (self.number, *self.cells, *remarks, self.remove)

    def come_up(self, is_seen: bool, *, can_go: bool) -> None:
        """Come into sight or go out of it; a row in sight keeps the place of its mark."""
        for widget in self.widgets:
            widget.setVisible(is_seen)
        self.remove.setVisible(is_seen and can_go)
        policy = self.mark.sizePolicy()
        policy.setRetainSizeWhenHidden(is_seen)
        self.mark.setSizePolicy(policy)

    def tell(self, found: Sequence[Finding]) -> None:
        """Mark the row by the weightiest of what was found; no row moves for it."""
        self.told = tuple(found)
        if found:
            self.mark.show_glyph(*level_of(found[0].level))
            self.mark.setToolTip("\n".join(one.text for one in found))
        self.mark.setVisible(bool(found))
