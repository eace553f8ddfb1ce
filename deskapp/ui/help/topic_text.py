"""A topic as rich text: headings, a table of facts, formulas with their units, links."""

from __future__ import annotations

from html import escape
from typing import TYPE_CHECKING

from deskapp.i18n import _

if TYPE_CHECKING:
    from deskapp.session.colors import Colors
    from deskapp.session.help.formulas import Figure, Formula
    from deskapp.session.help.topics import Topic


def topic_text(topic: Topic, colors: Colors) -> str:
    """Return the rich text of a topic. Muted words take the muted color of `colors`."""
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
        links = "<br>".join(
            f'<a href="{escape(entry.id)}">{escape(entry.title)}</a>' for entry in topic.near
        )
        parts += [_heading(_("See also")), f"<p>{links}</p>"]
    return "".join(parts)


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


def _figure(figure: Figure) -> str:
    name = f"<i>{escape(figure.name)}</i>: " if figure.name else ""
    unit = f" [{escape(figure.unit)}]" if figure.unit else ""
    return f"{name}{escape(figure.text)}{unit}"


def _muted(text: str, colors: Colors, *, is_rich: bool = False) -> str:
    shown = text if is_rich else escape(text)
    return f'<p style="color:{colors.muted}">{shown}</p>'
