"""The shelf: what the program brings along as data, read once and passed in."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from deskapp.limits.catalogue import Catalogue

if TYPE_CHECKING:
    from deskapp.domain.finding import Finding
    from deskapp.domain.limit import Edition
    from deskapp.domain.vocabulary import Caution, LeakLocation


@dataclass(frozen=True, slots=True)
class Shelf:
    """Editions of limits, kinds of leak places, cautions, and the report templates by id.

    `problems` are the findings about data files that could not be read; the rest stays usable.
    """

    catalogue: Catalogue = field(default_factory=Catalogue)
    leak_locations: tuple[LeakLocation, ...] = ()
    cautions: tuple[Caution, ...] = ()
    templates: dict[str, Path] = field(default_factory=dict[str, Path])
    resources: Path = Path()
    problems: tuple[Finding, ...] = ()

    @property
    def editions(self) -> tuple[Edition, ...]:
        """The editions of limits a job can be judged by."""
        return self.catalogue.editions

    def edition(self, edition_id: str) -> Edition | None:
        """Return the edition with this id."""
        return self.catalogue.edition(edition_id)
