"""A page that is nothing but its form, and the form pages that hold something more."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.ui.form import Chosen, GridGroup, PlainGroup, RowGroup, fits_a_grid, groups_of
from deskapp.ui.pages.page import PageView
from deskapp.ui.row_grid import RowGrid

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from deskapp.session.pages import Page, Section
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
        grid_kind: type[RowGrid] = RowGrid,
    ) -> None:
        super().__init__(page, legend=True)
        self.groups: list[PlainGroup | RowGroup | GridGroup] = []
        self._bridge = bridge
        self._chosen = chosen
        self._remark = remark
        self._extra = extra
        self._grid_kind = grid_kind

    def build(self) -> Iterator[None]:
        """Make the sections one below the other, and what a page has beside them."""
        yield from self.before()
        for sections in groups_of(self.page.sections):
            group = self._group_of(sections)
            self.hold(group)
            yield from group.build()
            self.groups.append(group)
            self.add(group, to_refresh=group)
            yield
            yield from self.after(sections[0].title)
        yield from self.below()
        self.end()

    def before(self) -> Iterator[None]:
        """Put something above the first section; nothing by default."""
        yield from ()

    def after(self, title: str) -> Iterator[None]:
        """Put something below the section with this title; nothing by default."""
        del title
        yield from ()

    def below(self) -> Iterator[None]:
        """Put something below the last section; nothing by default."""
        yield from ()

    def _group_of(self, sections: list[Section]) -> PlainGroup | RowGroup | GridGroup:
        if not sections[0].list_path:
            return PlainGroup(self._bridge, sections[0])
        if fits_a_grid(sections):
            return GridGroup(self._bridge, sections[0], self._grid_kind)
        return RowGroup(self._bridge, sections, self._chosen, self._remark, self._extra)

    @property
    def fields(self) -> list[Field]:
        """All fields in reading order."""
        return [field for group in self.groups for field in group.fields]

    @property
    def grids(self) -> list[RowGrid]:
        """All grids in reading order."""
        return [
            grid
            for group in self.groups
            if not isinstance(group, PlainGroup)
            for grid in group.grids
        ]
