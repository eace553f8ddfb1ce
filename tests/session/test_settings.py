from __future__ import annotations

import json
from pathlib import Path

import pytest

from deskapp.session.first_look import FILE_NAME, FirstLook, first_look, recent_files
from deskapp.session.habits import guess, system_locale_name
from deskapp.session.preference_form import with_value
from deskapp.session.settings import Paper, Preferences, load, save
from deskapp.units.display import UnitSystem
from deskapp.units.numbers import NumberStyle

FIRST = Preferences(unit_system=UnitSystem.SI, paper=Paper.A4)


def write(folder: Path, text: str) -> None:
    (folder / FILE_NAME).write_text(text, encoding="utf-8")


def test_that_preferences_come_back_as_they_were_kept(tmp_path: Path):
    preferences = Preferences(
        unit_system=UnitSystem.SI,
        number_style=NumberStyle.COMMA,
        paper=Paper.A4,
        language="es",
        recent=("a.ductjob", "b.ductjob"),
    )
    folder = tmp_path / "new" / "folder"
    assert save(folder, preferences) is None
    assert load(folder, Preferences()) == (preferences, ())


def test_that_a_first_start_uses_what_was_guessed_and_says_nothing(tmp_path: Path):
    assert load(tmp_path, FIRST) == (FIRST, ())


@pytest.mark.parametrize("text", ["", "{", "[1]", "null", "\x00", "[" * 100_000, '"text"'])
def test_that_a_damaged_file_gives_defaults_and_one_finding(tmp_path: Path, text: str):
    write(tmp_path, text)
    preferences, findings = load(tmp_path, FIRST)
    assert preferences == FIRST
    (finding,) = findings
    assert FILE_NAME in finding.what
    assert finding.mend


def test_that_a_file_in_another_encoding_is_a_damaged_file(tmp_path: Path):
    (tmp_path / FILE_NAME).write_bytes(b"\xff\xfe{")
    assert len(load(tmp_path, FIRST)[1]) == 1


def test_that_entries_of_a_later_version_are_passed_over_in_silence(tmp_path: Path):
    write(tmp_path, json.dumps({"paper": "letter", "later_invention": {"a": 1}}))
    preferences, findings = load(tmp_path, FIRST)
    assert preferences == FIRST.model_copy(update={"paper": Paper.LETTER})
    assert findings == ()


def test_that_one_unknown_value_spoils_only_its_own_entry(tmp_path: Path):
    write(tmp_path, json.dumps({"paper": "parchment", "number_style": "comma"}))
    preferences, findings = load(tmp_path, FIRST)
    assert preferences == FIRST.model_copy(update={"number_style": NumberStyle.COMMA})
    (finding,) = findings
    assert "parchment" in finding.what


def test_that_preferences_that_cannot_be_kept_are_said_to_hold_for_now(tmp_path: Path):
    blocked = tmp_path / "file"
    blocked.write_text("in the way")
    finding = save(blocked / "folder", Preferences())
    assert finding is not None
    assert "hold for now" in finding.what


def test_that_a_folder_in_the_place_of_the_file_is_no_crash(tmp_path: Path):
    (tmp_path / FILE_NAME).mkdir()
    assert len(load(tmp_path, FIRST)[1]) == 1
    assert save(tmp_path, Preferences()) is not None


def test_that_every_preference_explains_itself():
    for name, entry in Preferences.model_fields.items():
        assert entry.description, name
        assert entry.description.endswith(".")


def test_that_the_file_used_last_comes_first_and_at_most_six_are_kept():
    preferences = Preferences()
    for number in range(8):
        preferences = preferences.with_recent(Path(f"{number}.ductjob"))
    preferences = preferences.with_recent(Path("4.ductjob"))

    def named(*numbers: int) -> tuple[str, ...]:
        return tuple(str(Path(f"{n}.ductjob").absolute()) for n in numbers)

    assert preferences.recent == named(4, 7, 6, 5, 3, 2)
    assert preferences.without_recent(Path("6.ductjob")).recent == named(4, 7, 5, 3, 2)
    assert preferences.without_recent().recent == ()


def test_that_missing_recent_files_are_marked(tmp_path: Path):
    here = tmp_path / "here.ductjob"
    here.touch()
    names = (str(tmp_path / "gone.ductjob"), str(here), "\0", "x" * 5000)
    assert [file.is_missing for file in recent_files(names)] == [True, False, True, True]


def test_that_the_first_look_agrees_with_the_full_preferences(tmp_path: Path):
    preferences = Preferences(language="es").with_recent(tmp_path / "a").with_recent(tmp_path / "b")
    save(tmp_path, preferences)
    look = first_look(tmp_path)
    assert look.language == "es"
    assert tuple(str(file.path) for file in look.recent) == preferences.recent


@pytest.mark.parametrize("text", [None, "", "{", "[]", '{"language": 3, "recent": 4}'])
def test_that_a_first_look_never_stumbles(tmp_path: Path, text: str | None):
    if text is not None:
        write(tmp_path, text)
    assert first_look(tmp_path) == FirstLook()


@pytest.mark.parametrize(
    ("name", "mark", "system", "style", "paper"),
    [
        ("en_US", ".", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
        ("en_US.UTF-8", "", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
        ("es_PR", "", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
        ("en-CA", ".", UnitSystem.SI, NumberStyle.POINT, Paper.LETTER),
        ("fr_CA", ",", UnitSystem.SI, NumberStyle.COMMA, Paper.LETTER),
        ("en_GB", "", UnitSystem.SI, NumberStyle.POINT, Paper.A4),
        ("de_DE@euro", "", UnitSystem.SI, NumberStyle.COMMA, Paper.A4),
        ("de_CH", ".", UnitSystem.SI, NumberStyle.POINT, Paper.A4),
        ("es_MX", "", UnitSystem.SI, NumberStyle.POINT, Paper.LETTER),
        ("zh-Hans-CN", ".", UnitSystem.SI, NumberStyle.POINT, Paper.A4),
        ("C", "", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
        ("", "", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
        ("!?", "", UnitSystem.IP, NumberStyle.POINT, Paper.LETTER),
    ],
)
def test_that_units_style_and_paper_are_guessed_from_the_locale(name, mark, system, style, paper):
    guessed = guess(name, mark)
    assert (guessed.unit_system, guessed.number_style, guessed.paper) == (system, style, paper)


def test_that_the_locale_name_comes_from_the_environment(monkeypatch: pytest.MonkeyPatch):
    for variable in ("LC_ALL", "LC_MEASUREMENT", "LC_NUMERIC", "LANG"):
        monkeypatch.delenv(variable, raising=False)
    assert system_locale_name() == ""
    monkeypatch.setenv("LANG", "es_ES.UTF-8")
    assert system_locale_name() == "es_ES"
    monkeypatch.setenv("LC_ALL", "C.UTF-8")
    assert system_locale_name() == "es_ES"


def test_that_what_nobody_chose_follows_the_system(tmp_path: Path):
    at_home = guess("en_US").with_recent(tmp_path / "a.ductjob")
    save(tmp_path, at_home)
    abroad = guess("de_DE")
    found, findings = load(tmp_path, abroad)
    assert findings == ()
    assert (found.unit_system, found.number_style, found.paper) == (
        abroad.unit_system,
        abroad.number_style,
        abroad.paper,
    )
    assert found.recent == at_home.recent
    chosen = with_value(at_home, "paper", "letter")
    assert isinstance(chosen, Preferences)
    save(tmp_path, chosen)
    kept, _none = load(tmp_path, abroad)
    assert (kept.paper, kept.unit_system) == (Paper.LETTER, UnitSystem.SI)
    save(tmp_path, kept)
    assert load(tmp_path, guess("en_US"))[0] == guess("en_US").with_choice(
        "paper", Paper.LETTER
    ).model_copy(update={"recent": at_home.recent, "guessed": ("unit_system", "number_style")})


def test_that_a_job_used_last_is_found_from_any_folder(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
):
    monkeypatch.chdir(tmp_path)
    (tmp_path / "here.ductjob").touch()
    recent = Preferences().with_recent(Path("here.ductjob")).recent
    monkeypatch.chdir(tmp_path.parent)
    assert [file.is_missing for file in recent_files(recent)] == [False]
