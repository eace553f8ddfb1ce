"""The shipped limits in words, for lists in the window and in a terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.limit import Verification
from deskapp.i18n import N_, _
from deskapp.units.display import style_of_sentences, writing

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from deskapp.domain.limit import Edition, LimitRow
    from deskapp.units.numbers import NumberStyle

STATUS_WORDS = {
    Verification.CODE_TEXT: N_("Compared with the text of the code."),
    Verification.SECONDARY: N_(
        "Known from a secondary source; compare it with the text of the code."
    ),
    Verification.MEMORY: N_("Written from memory; compare it with the text of the code."),
    Verification.USER: N_("Added by the user."),
    Verification.INVENTED: N_("An invented example that binds nobody."),
}


class RowWords(NamedTuple):
    """One row of an edition for a list: its id, and what it says."""

    id: str
    title: str
    rule: str
    clause: str
    status: str


def row_words(row: LimitRow, style: NumberStyle | None = None) -> RowWords:
    """Return what a row says, in words; numbers in `style`, or as usual in the language."""
    from deskapp.limits.digits import written
    from deskapp.limits.words import rule_text

    with writing(style or style_of_sentences()):
        rule = rule_text(row.rule)
        if row.pressure_pa is not None:
            pressure = written(row.pressure_pa)
            rule = _("{rule}, at {pressure} Pa").format(rule=rule, pressure=pressure)
    return RowWords(row.id, _(row.title), rule, row.clause, _(STATUS_WORDS[row.status]))


def editions_text(editions: Iterable[Edition]) -> str:
    """Return one line for each edition: its id, its name, where it holds, how many rows it has."""
    listed = list(editions)
    width = max((len(edition.id) for edition in listed), default=0)
    return "\n".join(_edition_line(edition, width) for edition in listed)


def _edition_line(edition: Edition, width: int) -> str:
    place = " ".join(part for part in (edition.region, edition.country) if part)
    line = f"{edition.id:<{width}}  {edition.name}"
    return f"{line} ({place})" if place else line


def edition_text(edition: Edition) -> str:
    """Return an edition with all its rows, as lines of text."""
    return "\n".join(_edition_lines(edition))


def _edition_lines(edition: Edition) -> Iterator[str]:
    yield edition.name
    yield edition.body
    if edition.note:
        yield _(edition.note)
    for row in edition.rows:
        words = row_words(row)
        yield ""
        yield f"{words.id}: {words.title}"
        yield f"  {words.rule}"
        yield f"  {words.clause}. {words.status}"
        yield f"  {_('Source')}: {_(row.source)}"
        for more in (row.exceptions, row.note):
            if more:
                yield f"  {_(more)}"
