from __future__ import annotations

import pytest

from deskapp.domain.finding import Finding
from deskapp.session.live.rules import FILE, LiveRules, load_house_rules


def test_that_every_figure_says_that_it_is_a_house_rule(rules):
    names = LiveRules.model_fields.keys() - {"notes"}
    assert rules.notes.keys() == names
    assert all(note.startswith("House rule: ") for note in rules.notes.values())


@pytest.mark.parametrize(
    ("change", "word"),
    [
        (("value = 5.0", "value = -5.0"), "look_back"),
        (("value = 5.0", 'value = "five"'), "look_back"),
        (("[look_back]", "[look_forward]"), "look_back"),
        (("value = 5.0", "value = nan"), "look_back"),
        (("[look_back]", "[look_back"), "line"),
    ],
)
def test_that_a_damaged_file_is_told_in_words(resources, tmp_path, change, word):
    text = (resources / FILE).read_text(encoding="utf-8")
    (tmp_path / FILE).parent.mkdir()
    (tmp_path / FILE).write_text(text.replace(*change), encoding="utf-8")
    found = load_house_rules(tmp_path)
    assert isinstance(found, Finding)
    assert word in found.what


def test_that_a_missing_file_is_told_in_words(tmp_path):
    found = load_house_rules(tmp_path)
    assert isinstance(found, Finding)
    assert FILE.name in found.what
