"""Templates are checked before they are used, and a fault is named with file, block and remedy."""

from __future__ import annotations

import pytest
from report_jobs import ROOT

from deskapp.report.template import Template, TemplateProblem, read_template
from deskapp.report.toml_lines import lines_of

GOOD = (ROOT / "report_templates" / "homeowner.toml").read_text(encoding="utf-8")


def problem(tmp_path, text: str) -> str:
    path = tmp_path / "own.toml"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(TemplateProblem) as caught:
        read_template(path)
    return caught.value.text


def changed(old: str, new: str) -> str:
    assert old in GOOD
    return GOOD.replace(old, new, 1)


@pytest.mark.parametrize("name", ["homeowner", "compliance", "technical", "retest"])
def test_that_the_shipped_templates_are_good(name):
    template = read_template(ROOT / "report_templates" / f"{name}.toml")
    assert isinstance(template, Template)
    assert template.id == name


def test_that_an_unknown_kind_of_block_is_named_with_the_known_ones(tmp_path):
    text = problem(tmp_path, changed('kind = "answer"', 'kind = "anser"'))
    assert "own.toml" in text
    assert "block 4, anser" in text
    assert "'answer'" in text


def line_with(text: str, part: str) -> int:
    return text[: text.index(part)].count("\n") + 1


def test_that_the_line_is_that_of_the_entry(tmp_path):
    text = changed('kind = "dangers"', 'kind = "dangers"\ncolor = "red"')
    told = problem(tmp_path, text)
    assert f"own.toml, line {line_with(text, 'color =')} (block 2, dangers, color)" in told
    assert "allowed are also, aside, heading, kind, level, new_page, shown, unless, when" in told


def test_that_an_unknown_name_in_a_wording_is_told_with_the_allowed_ones(tmp_path):
    source = changed("Limit {limit}", "Limit {limt}")
    text = problem(tmp_path, source)
    assert f"line {line_with(source, '{limt}')} (block 14, scale, limit)" in text
    assert "{limt} is not known here" in text
    assert "limit" in text.split("allowed are")[1]


def test_that_an_unknown_situation_is_told_with_the_allowed_ones(tmp_path):
    source = changed('when = ["danger"]', 'when = ["dangr"]')
    text = problem(tmp_path, source)
    assert f"line {line_with(source, 'dangr')} (block 15, next_steps, steps.0.when.0)" in text
    assert "'leaks_open'" in text


def test_that_a_lone_brace_is_told(tmp_path):
    text = problem(tmp_path, changed("Before the work: {before}", "Before the work: {before"))
    assert "a brace stands alone" in text


def test_that_a_field_that_is_none_is_told(tmp_path):
    source = (ROOT / "report_templates" / "technical.toml").read_text(encoding="utf-8")
    text = problem(tmp_path, source.replace('"house.volume",', '"house.volum",', 1))
    assert "facts, fields" in text
    assert "house.volum is not a field of the job" in text


def test_that_a_missing_entry_is_told(tmp_path):
    text = problem(tmp_path, changed('language = "en"\naudience = "homeowner"\n', ""))
    assert "own.toml, line 1 (top of the file): audience is needed" in text


def test_that_broken_toml_is_told_with_its_line(tmp_path):
    text = problem(tmp_path, 'id = "x"\ntitle = "unclosed\n')
    assert "own.toml" in text
    assert "line 2" in text


def test_that_a_file_that_is_not_there_is_told(tmp_path):
    with pytest.raises(TemplateProblem, match=r"nowhere\.toml cannot be read"):
        read_template(tmp_path / "nowhere.toml")


def test_that_a_name_cannot_reach_into_objects(tmp_path):
    text = problem(tmp_path, changed("Limit {limit}", "Limit {limit.__class__}"))
    assert "{limit.__class__} is not known here" in text


def test_that_a_fault_in_a_block_inside_a_block_has_its_own_line_and_only_its_own_words(tmp_path):
    source = (ROOT / "report_templates" / "technical.toml").read_text(encoding="utf-8")
    broken = source.replace('bars = "Where', 'barz = "Where', 1)
    text = problem(tmp_path, broken)
    assert f"line {line_with(broken, 'barz')} (block " in text
    assert "each_system, block.3.block.5.barz" in text
    assert "bars_told" in text.split("allowed are")[1]
    assert len(text.splitlines()) == 1


@pytest.mark.parametrize("change", ["shown = false", 'when = ["danger"]\nshown = false'])
def test_that_what_has_to_stay_in_a_report_cannot_be_left_out(tmp_path, change):
    text = problem(tmp_path, changed('kind = "dangers"', f'kind = "dangers"\n{change}'))
    assert "needs a block of each of these kinds, shown: dangers" in text


def test_that_every_line_of_a_template_is_found_where_it_stands():
    lines = lines_of(GOOD)
    rows = GOOD.splitlines()
    assert len(lines) > 200
    for path, line in lines.items():
        name = path[-1] if path and isinstance(path[-1], str) else (path[-2] if path else "#")
        assert name in rows[line - 1]
