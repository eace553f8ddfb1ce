"""A page that is nothing but its form, and the form pages that hold something more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.form import Chosen, GridGroup, PlainGroup, RowGroup, fits_a_grid, groups_of
from deskapp.ui.pages.page import PageView
from deskapp.ui.reading_grid import ReadingGrid

if TYPE_CHECKING:
    from collections.abc import Callable

    from deskapp.session.pages import Page
    from deskapp.ui.bridge import Bridge
    from deskapp.ui.fields.field import Field
    from deskapp.ui.form import RowExtra


class FormPage(PageView):
    """All sections of a page, built from the tables."""

    def __init__(
        self,
        page: Page,
        bridge: Bridge,
        chosen: Chosen,
        *,
        remark: Callable[[str], str] | None = None,
        extra: Callable[[], RowExtra] | None = None,
        grid_kind: type[ReadingGrid] = ReadingGrid,
    ) -> None:
        super().__init__(page, legend=True)
        self.groups: list[PlainGroup | RowGroup | GridGroup] = []
        for sections in groups_of(page.sections):
            if sections[0].list_path and fits_a_grid(sections):
                group = GridGroup(bridge, sections[0], grid_kind)
            elif sections[0].list_path:
                group = RowGroup(bridge, sections, chosen, remark, extra)
            else:
                group = PlainGroup(bridge, sections[0])
            self.groups.append(group)
            self.add(group, to_refresh=group)
            self.after(sections[0].title)
        self.end()

    def after(self, title: str) -> None:
        """Put something below the section with this title; nothing by default."""

    @property
    def fields(self) -> list[Field]:
        """All fields in reading order."""
        return [field for group in self.groups for field in group.fields]

    @property
    def grids(self) -> list[ReadingGrid]:
        """All grids in reading order."""
        return [
            grid
            for group in self.groups
            if not isinstance(group, PlainGroup)
            for grid in group.grids
        ]
