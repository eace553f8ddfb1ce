"""Rows of a limit of one's own: one more, one less."""

from __future__ import annotations

from typing import TYPE_CHECKING

from deskapp.domain.finding import Finding, Level
from deskapp.i18n import _
from deskapp.limits import own

if TYPE_CHECKING:
    from deskapp.domain.limit import Edition


def with_copy(edition: Edition, row_id: str) -> tuple[Edition, str]:
    """Return the edition with a copy of one of its rows at the end, and the id of the new row.

    Raises KeyError for a row that is not there.
    """
    wider = own.copy_row(edition, row_id)
    return wider, wider.rows[-1].id


def edition_without_row(edition: Edition, row_id: str) -> Edition | Finding:
    """Return the edition without a row, or why it has to stay.

    Raises KeyError for a row that is not there.
    """
    if edition.row(row_id) is None:
        raise KeyError(f"there is no row {row_id} in {edition.id}")
    if len(edition.rows) == 1:
        return Finding(
            level=Level.CHECK,
            code="own-last-row",
            what=_("This is the only row; a limit without rows judges nothing."),
            mend=_("Remove the whole limit instead, or change the numbers of the row."),
        )
    try:
        return own.remove_row(edition, row_id)
    except own.OwnLimitProblem as problem:
        return Finding(
            level=Level.CHECK,
            code="own-row-needed",
            what=_("The row cannot be removed yet. {why}").format(why=problem.text),
            mend=_("Remove what refers to it first."),
        )
