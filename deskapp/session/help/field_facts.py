"""What there is to know about one field, line by line, from the tables the program itself uses."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.choices import CHOICE_LABELS
from deskapp.domain.field_spec import Form
from deskapp.i18n import N_, _, ngettext
from deskapp.session.help.asking import editions_asking
from deskapp.session.help.printed import papers_with
from deskapp.units.display import example_in_words
from deskapp.units.kinds import Kind
from deskapp.units.spellings import examples_of
from deskapp.units.table import unit_named

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec, Span
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences

_MOST_NAMED = 5
_TYPED_AS = {
    Form.DAY: N_("A day, such as 2026-03-11; the month can be written as a word."),
    Form.CLOCK: N_("A time of the day, such as 14:05."),
}


class FieldFact(NamedTuple):
    """One line: what it is about, and what there is to say."""

    label: str
    text: str


def facts_of(spec: FieldSpec, shelf: Shelf, preferences: Preferences) -> tuple[FieldFact, ...]:
    """Return the lines about a field: range, units, example, answers, who asks, where printed."""
    lines = (
        FieldFact(_("Allowed"), _span(spec.allowed, preferences)),
        FieldFact(_("Usual"), _span(spec.usual, preferences)),
        FieldFact(_("Without a unit"), _unit(spec, preferences)),
        FieldFact(_("Units understood"), _spellings(spec)),
        FieldFact(_("Filled in"), _(_TYPED_AS[spec.form]) if spec.form in _TYPED_AS else ""),
        FieldFact(_("Example"), _example(spec)),
        FieldFact(_("Answers"), _answers(spec)),
        FieldFact(_("Needed"), _needed(spec)),
        FieldFact(_("Rules that look at it"), _asked_by(spec, shelf)),
        FieldFact(_("Printed in"), ", ".join(papers_with(spec.path, shelf.templates))),
    )
    return tuple(fact for fact in lines if fact.text)


def _example(spec: FieldSpec) -> str:
    return example_in_words(spec.example) if spec.form is Form.QUANTITY else spec.example


def _span(span: Span | None, preferences: Preferences) -> str:
    if span is None:
        return ""
    label = unit_named(span.unit).label
    low, high = (_number(edge, preferences) for edge in (span.low, span.high))
    return _("{low} to {high}").format(low=low, high=f"{high} {label}".strip())


def _number(value: float, preferences: Preferences) -> str:
    text = f"{value:.10f}".rstrip("0")
    digits = len(text.partition(".")[2])
    return preferences.formatter.number(value, digits)


def _unit(spec: FieldSpec, preferences: Preferences) -> str:
    if spec.units is None:
        return ""
    system = preferences.formatter.system.value
    label = unit_named(getattr(spec.units, system)).label
    return _("A number alone counts as {unit}.").format(unit=label) if label else ""


def _spellings(spec: FieldSpec) -> str:
    if spec.kind is None or spec.kind in (Kind.NUMBER, Kind.COUNT):
        return ""
    return "; ".join(" = ".join(spellings) for spellings in examples_of(spec.kind))


def _answers(spec: FieldSpec) -> str:
    if spec.choices is None:
        return ""
    return "; ".join(_(words) for words in CHOICE_LABELS[spec.choices].values())


def _needed(spec: FieldSpec) -> str:
    if not spec.needed:
        return ""
    return _('The compliance report states it; left empty, it says "not recorded" there.')


def _asked_by(spec: FieldSpec, shelf: Shelf) -> str:
    titles = editions_asking(spec.path, shelf.offered)
    named, more = titles[:_MOST_NAMED], len(titles) - _MOST_NAMED
    if more <= 0:
        return "; ".join(named)
    words = ngettext("and {n} more edition", "and {n} more editions", more)
    return "; ".join((*named, words.format(n=more)))
