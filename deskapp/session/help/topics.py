"""The topics of help: one for each field, each page, and each subject kept as data."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, field_at, pattern_of
from deskapp.i18n import _
from deskapp.session.help.data import subjects
from deskapp.session.help.field_facts import FieldFact, facts_of
from deskapp.session.help.formulas import formula, formula_in_words
from deskapp.session.pages import PAGES, page_of
from deskapp.units.display import prose, writing

if TYPE_CHECKING:
    from deskapp.domain.field_spec import FieldSpec
    from deskapp.session.help.data import Subject
    from deskapp.session.help.formulas import Formula
    from deskapp.session.pages import Page
    from deskapp.session.resources import Shelf
    from deskapp.session.settings import Preferences


class TopicEntry(NamedTuple):
    """A topic in the list: its id, its title, and where it belongs."""

    id: str
    title: str
    group: str


@dataclass(frozen=True, slots=True)
class Topic:
    """One topic: `texts` in words, `facts` line by line, formulas, and topics close to it."""

    id: str
    title: str
    group: str
    texts: tuple[str, ...] = ()
    facts: tuple[FieldFact, ...] = ()
    formulas: tuple[Formula, ...] = ()
    near: tuple[TopicEntry, ...] = ()


class HelpBook:
    """Makes topics for one reader: in the units preferred, with the rules on the shelf.

    Ids are ``field:`` and a pattern, ``page:`` and a page, ``about:`` and a subject.
    """

    def __init__(self, shelf: Shelf, preferences: Preferences) -> None:
        self._shelf = shelf
        self._preferences = preferences

    def entries(self) -> tuple[TopicEntry, ...]:
        """Return all topics: subjects first, then the pages, then all fields page by page."""
        listed = [_about(subject) for subject in subjects()]
        listed += [_page_entry(page) for page in PAGES]
        for page in PAGES:
            for section in page.sections:
                listed.extend(_field_entry(field_at(path)) for path in section.fields)
        return tuple(dict.fromkeys(listed))

    def search(self, words: str) -> tuple[TopicEntry, ...]:
        """Return the topics that have all `words`, those with one in the title first."""
        wanted = words.casefold().split()
        if not wanted:
            return self.entries()
        found: list[tuple[bool, TopicEntry]] = []
        for entry in self.entries():
            title = entry.title.casefold()
            text = f"{title} {entry.group.casefold()} {_words_of(entry.id).casefold()}"
            if all(word in text for word in wanted):
                found.append((not all(word in title for word in wanted), entry))
        return tuple(entry for _rank, entry in sorted(found, key=lambda pair: pair[0]))

    def topic(self, topic_id: str) -> Topic:
        """Return a topic by its id. Raises KeyError for an unknown one."""
        with writing(self._preferences.number_style):
            return self._topic(topic_id)

    def _topic(self, topic_id: str) -> Topic:
        kind, _colon, name = topic_id.partition(":")
        if kind == "field":
            return self._of_spec(field_at(name))
        if kind == "page":
            return self._of_page(next(page for page in PAGES if page.id == name))
        return self._of_subject(next(one for one in subjects() if one.id == name))

    def of_spec(self, spec: FieldSpec) -> Topic:
        """Return the topic of a field, also of one that is not part of a job."""
        with writing(self._preferences.number_style):
            return self._of_spec(spec)

    def _of_spec(self, spec: FieldSpec) -> Topic:
        entry = _field_entry(spec)
        near = [subject for subject in subjects() if subject.covers(spec.path)]
        texts = (prose(_(spec.help)),) if spec.help else ()
        return Topic(
            entry.id,
            entry.title,
            entry.group,
            texts,
            facts_of(spec, self._shelf, self._preferences),
            _formulas(near),
            tuple(_about(subject) for subject in near),
        )

    def _of_page(self, page: Page) -> Topic:
        about = tuple(_about(subject) for subject in subjects() if page.id in subject.pages)
        fields = tuple(
            _field_entry(field_at(path)) for section in page.sections for path in section.fields
        )
        title, _group = _page_entry(page)[1:]
        return Topic(f"page:{page.id}", title, "", (_(page.purpose),), near=(*about, *fields))

    def _of_subject(self, subject: Subject) -> Topic:
        fields = tuple(_field_entry(spec) for spec in FIELDS if subject.covers(spec.path))
        texts = tuple(prose(_(subject.text)).split("\n\n"))
        return Topic(*_about(subject), texts, formulas=_formulas([subject]), near=fields)


def _formulas(some: list[Subject]) -> tuple[Formula, ...]:
    names = dict.fromkeys(name for subject in some for name in subject.formulas)
    return tuple(formula_in_words(formula(name)) for name in names)


def _about(subject: Subject) -> TopicEntry:
    return TopicEntry(f"about:{subject.id}", _(subject.title), _("What is behind it"))


def _page_entry(page: Page) -> TopicEntry:
    return TopicEntry(f"page:{page.id}", _(page.title), _("Pages"))


def _field_entry(spec: FieldSpec) -> TopicEntry:
    pattern = pattern_of(spec.path)
    home = page_of(pattern)
    page = next((page for page in PAGES if page.id == home), None)
    if page is None:
        return TopicEntry(f"field:{pattern}", _(spec.label), "")
    section = next(section for section in page.sections if pattern in section.fields)
    return TopicEntry(f"field:{pattern}", _(spec.label), f"{_(page.title)} › {_(section.title)}")


def _words_of(topic_id: str) -> str:
    """Return further words a topic is found by."""
    kind, _colon, name = topic_id.partition(":")
    if kind == "field":
        spec = field_at(name)
        typed = spec.example if spec.form is Form.QUANTITY else ""
        return f"{_(spec.help)} {typed}" if spec.help else typed
    if kind == "page":
        return _(next(page for page in PAGES if page.id == name).purpose)
    return _(next(subject for subject in subjects() if subject.id == name).text)
