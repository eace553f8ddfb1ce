"""Every field has a topic, and what help says of a formula is its docstring."""

from __future__ import annotations

import inspect
from fnmatch import fnmatchcase
from importlib import import_module

import pytest

from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.field_spec import Form
from deskapp.domain.fields import FIELDS, field_at
from deskapp.i18n import _, speaking
from deskapp.session.help.data import printed_by_block, subjects, tour_steps
from deskapp.session.help.formulas import formula
from deskapp.session.help.topics import HelpBook
from deskapp.session.pages import PAGES, page_of
from deskapp.session.resources import Shelf, load_shelf
from deskapp.session.samples import open_sample
from deskapp.session.settings import Preferences
from deskapp.units.display import UnitSystem
from deskapp.units.entry import Quantity, parse
from deskapp.units.kinds import Kind
from deskapp.units.numbers import NumberStyle
from deskapp.units.spellings import examples_of, unit_spelled

NAMED = sorted({name for subject in subjects() for name in subject.formulas})


@pytest.fixture(scope="module")
def shelf() -> Shelf:
    return load_shelf(resources_folder(), templates_folder())


@pytest.fixture(scope="module")
def book(shelf: Shelf) -> HelpBook:
    return HelpBook(shelf, Preferences())


def facts(book: HelpBook, path: str) -> dict[str, str]:
    return dict(book.of_spec(field_at(path)).facts)


def test_that_every_field_has_a_topic_that_says_something(book: HelpBook) -> None:
    listed = {entry.id for entry in book.entries()}
    silent = []
    for spec in FIELDS:
        topic = book.topic(f"field:{spec.path}")
        assert topic.title == spec.label
        assert topic.id in listed
        plain = spec.form in (Form.TEXT, Form.PARAGRAPH, Form.REFERENCE)
        if not (topic.texts or topic.facts or topic.near or plain):
            silent.append(spec.path)
    assert silent == []


def test_that_every_topic_of_the_list_opens_and_so_do_those_it_leads_to(book: HelpBook) -> None:
    ids = [entry.id for entry in book.entries()]
    assert len(ids) == len(set(ids))
    assert {f"page:{page.id}" for page in PAGES} < set(ids)
    for one in ids:
        topic = book.topic(one)
        assert topic.id == one
        assert {entry.id for entry in topic.near} <= set(ids)


@pytest.mark.parametrize("name", NAMED)
def test_that_a_formula_says_what_its_docstring_says(name: str) -> None:
    module, _dot, function = name.partition(".")
    documented = getattr(import_module(f"deskapp.physics.{module}"), function)
    text = " ".join((inspect.getdoc(documented) or "").split())
    shown = formula(name)
    assert text.startswith(shown.summary)
    assert [figure.name for figure in shown.arguments] == list(
        inspect.signature(documented).parameters
    )
    for figure in (*shown.arguments, shown.result):
        assert f"{figure.text} [{figure.unit or 1}]." in text
    assert text.endswith(f"Source: {shown.source}")
    assert shown.holds in text


def test_that_an_unknown_formula_is_refused() -> None:
    for name in ("flow_device.none", "nowhere.ring_flow", "flow_device"):
        with pytest.raises(LookupError):
            formula(name)
    with pytest.raises(ValueError, match="does not say"):
        formula("guards.require_finite")


def test_that_every_pattern_of_the_data_meets_a_field() -> None:
    paths = [spec.path for spec in FIELDS]
    wanted = [pattern for subject in subjects() for pattern in subject.fields]
    wanted += [pattern for fields in printed_by_block().values() for pattern in fields]
    idle = [one for one in wanted if not any(fnmatchcase(path, one) for path in paths)]
    assert idle == []
    assert {page for subject in subjects() for page in subject.pages} <= {p.id for p in PAGES}


def test_that_a_topic_states_range_units_example_answers_rules_and_papers(book: HelpBook) -> None:
    area = facts(book, "systems.0.area_served")
    assert area["Allowed"] == "1 to 1,000,000 ft²"
    assert area["Without a unit"] == "A number alone counts as ft²."
    assert "sq ft" in area["Units understood"]
    assert area["Example"] == "1,520 ft2"
    assert "more edition" in area["Rules that look at it"]
    assert area["Printed in"] == "Compliance report, Technical record"
    assert "After construction" in facts(book, "tests.0.setup.stage")["Answers"]
    coefficient = book.of_spec(field_at("fans.0.rings.0.coefficient"))
    assert "flow_device.ring_flow" in [one.name for one in coefficient.formulas]


@pytest.mark.parametrize("language", ["en", "fr_CA"])
@pytest.mark.parametrize("style", NumberStyle)
def test_that_all_numbers_of_a_topic_are_written_as_preferred(
    shelf: Shelf, language: str, style: NumberStyle
) -> None:
    other = NumberStyle.COMMA if style is NumberStyle.POINT else NumberStyle.POINT
    book = HelpBook(shelf, Preferences(number_style=style))
    with speaking(language):
        topic = book.of_spec(field_at("tests.0.setup.exponent"))
        said = " ".join((*topic.texts, *(f"{fact.label} {fact.text}" for fact in topic.facts[:3])))
        assert f"0{style.decimal_mark}60" in said
        assert f"0{other.decimal_mark}60" not in said
        (example,) = [one.text for one in topic.facts if one.label == _("Example")]
        assert example == f"0{style.decimal_mark}60"
        about = " ".join(book.topic("about:target").texts)
        assert f"0{style.decimal_mark}60" in about
        area = dict(book.of_spec(field_at("systems.0.area_served")).facts)[_("Example")]
        read = parse(area, Kind.AREA, "ft2", style)
    assert isinstance(read, Quantity)
    # One foot is 0.3048 m exactly (NIST SP 811, appendix B).
    assert read.si == pytest.approx(1520.0 * 0.3048**2)


def test_that_ranges_keep_all_their_digits(book: HelpBook) -> None:
    assert facts(book, "fans.0.rings.0.coefficient")["Allowed"] == "0.000001 to 100,000 cfm"


def test_that_the_reader_of_metric_units_is_told_those(shelf: Shelf) -> None:
    metric = HelpBook(shelf, Preferences(unit_system=UnitSystem.SI))
    assert facts(metric, "systems.0.area_served")["Without a unit"].endswith("m².")


def test_that_spellings_told_are_understood() -> None:
    kinds = {spec.kind for spec in FIELDS if spec.kind is not None}
    for kind in kinds:
        for spellings in examples_of(kind):
            assert len({unit_spelled(one, kind) for one in spellings}) == 1
            assert unit_spelled(spellings[0], kind) is not None


def test_that_rules_by_fan_flow_are_not_said_to_look_at_the_duct_surface(book: HelpBook) -> None:
    assert "Rules that look at it" in facts(book, "systems.0.fan_flow")
    assert "Rules that look at it" not in facts(book, "house.stories")


@pytest.mark.parametrize(
    ("words", "wanted"),
    [
        ("exponent", "field:fans.*.rings.*.exponent"),
        ("too close", "about:close"),
        ("tab mouse", "about:keys"),
        ("before you start", "page:safety"),
    ],
)
def test_that_a_search_finds_topics(book: HelpBook, words: str, wanted: str) -> None:
    assert wanted in [entry.id for entry in book.search(words)]


def test_that_titles_come_before_texts_and_nonsense_finds_nothing(book: HelpBook) -> None:
    assert "baseline" in book.search("baseline")[0].title.casefold()
    assert book.search("zzyzx") == ()
    assert book.search("  ") == book.entries()


def test_that_the_way_around_is_short_and_leads_to_places_of_the_sample(shelf: Shelf) -> None:
    steps = tour_steps()
    assert 6 <= len(steps) <= 8
    sample = open_sample("", shelf, Preferences())
    order = [page.id for page in PAGES]
    assert [step.page for step in steps] == sorted((s.page for s in steps), key=order.index)
    for step in steps:
        assert step.text.endswith(".")
        if step.field:
            assert field_at(step.field)
            sample.value_at(step.field)
            assert page_of(step.field) == step.page
