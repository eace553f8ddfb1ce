"""A topic as rich text: headings, a table of facts, formulas with their units, links."""

from __future__ import annotations

from html import escape
from itertools import groupby
from typing import TYPE_CHECKING

from deskapp.i18n import _, ngettext

if TYPE_CHECKING:
    from deskapp.session.colors import Colors
    from deskapp.session.help.formulas import Formula, FormulaTerm
    from deskapp.session.help.topics import Topic, TopicEntry


MORE = "more:"
"""Begins the link that unfolds the rest of a group of topics."""
_FEW = 6
_SPARE = 2
"""A group is cut after a few, unless it has only so many more."""


def topic_text(topic: Topic, colors: Colors, unfolded: frozenset[str] = frozenset()) -> str:
    """Return the rich text of a topic; groups of near topics are short unless `unfolded`.

    Muted words take the muted color of `colors`.
    """
    parts = [f"<h2>{escape(topic.title)}</h2>"]
    if topic.group:
        parts.append(_muted(topic.group, colors))
    parts += [f"<p>{escape(text.strip())}</p>" for text in topic.texts]
    if topic.facts:
        rows = "".join(
            f"<p><b>{escape(fact.label)}</b><br>{escape(fact.text)}</p>" for fact in topic.facts
        )
        parts.append(rows)
    if topic.formulas:
        parts.append(_heading(_("Formulas")))
        parts.append(_muted(_("As they stand in the program, with their sources."), colors))
        parts += [_formula(formula, colors) for formula in topic.formulas]
    if topic.near:
        parts.append(_heading(_("See also")))
        for group, entries in groupby(topic.near, key=lambda entry: entry.group):
            parts.append(_near(topic, group, list(entries), unfolded))
    return "".join(parts)


def _near(topic: Topic, group: str, entries: list[TopicEntry], unfolded: frozenset[str]) -> str:
    """Return the links of one group, under its name; of a long one only the first few."""
    name = group.removeprefix(f"{topic.title} › ")
    shown = entries
    if group not in unfolded and len(entries) > _FEW + _SPARE:
        shown = entries[:_FEW]
    links = [_link(entry.id, entry.title) for entry in shown]
    left = len(entries) - len(shown)
    if left:
        words = ngettext("{n} more", "{n} more", left).format(n=left)
        links.append(_link(MORE + group, words))
    head = f"<b>{escape(name)}</b><br>" if name else ""
    return f"<p>{head}{' · '.join(links)}</p>"


def _link(target: str, words: str) -> str:
    return f'<a href="{escape(target)}">{escape(words)}</a>'


def _heading(text: str) -> str:
    return f"<h3>{escape(text)}</h3>"


def _formula(formula: Formula, colors: Colors) -> str:
    figures = "".join(f"<li>{_figure(figure)}</li>" for figure in formula.arguments)
    result = _("Gives: {what}").format(what=_figure(formula.result))
    holds = _("Holds: {range}").format(range=escape(formula.holds)) if formula.holds else ""
    source = _("Source: {source}").format(source=escape(formula.source))
    return (
        f"<p><b>{escape(formula.summary)}</b></p><ul>{figures}</ul>"
        f"<p>{result}<br>{holds}</p>{_muted(source, colors, is_rich=True)}"
    )


def _figure(figure: FormulaTerm) -> str:
    name = f"<i>{escape(figure.name)}</i>: " if figure.name else ""
    unit = f" [{escape(figure.unit)}]" if figure.unit else ""
    return f"{name}{escape(figure.text)}{unit}"


def _muted(text: str, colors: Colors, *, is_rich: bool = False) -> str:
    shown = text if is_rich else escape(text)
    return f'<p style="color:{colors.muted}">{shown}</p>'
