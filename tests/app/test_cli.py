from __future__ import annotations

import json
import os
import subprocess
import sys
import tomllib
from collections.abc import Callable
from datetime import datetime
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from deskapp.archive import job_file
from deskapp.domain.choices import YesNo
from deskapp.domain.data_files import resources_folder, templates_folder
from deskapp.domain.job import Job
from deskapp.session.editor import Editor
from deskapp.session.resources import load_shelf
from deskapp.session.safety_desk import acknowledge
from deskapp.session.settings import Preferences

Run = Callable[..., Any]

PROJECT = Path(__file__).parents[2]


def job_with_first_tests(samples: Path, folder: Path, count: int) -> Path:
    """Write the two-system sample as it stood when only the first tests had been made."""
    read = job_file.read(samples / "larkspur")
    path = folder / f"first-{count}.ductjob"
    job = read.job.model_copy(update={"tests": read.job.tests[:count]})
    job_file.write(path, job, read.photos)
    return path


@pytest.mark.parametrize("word", ["--help", "-h"])
def test_that_help_tells_the_commands_and_every_exit_code(run: Run, word: str) -> None:
    ran = run(word)
    assert ran.code == 0
    for command in ("report", "verdict", "limits", "samples"):
        assert command in ran.out
    for code in range(6):
        assert f"\n  {code}  " in ran.out


@pytest.mark.parametrize("command", ["report", "verdict", "limits", "samples"])
def test_that_each_command_has_help_of_its_own(run: Run, command: str) -> None:
    ran = run(command, "--help")
    assert ran.code == 0
    assert ran.out.startswith(f"usage: ductfolio {command} ")


def test_that_the_version_is_one_line(run: Run) -> None:
    ran = run("--version")
    assert ran.code == 0
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert ran.out == f"Ductfolio {project['version']}\n"


@pytest.mark.parametrize(
    "words",
    [
        ("verdict",),
        ("verdict", "--color", "x"),
        ("report", "--kind", "short"),
        ("one.ductjob", "two.ductjob"),
        ("--units", "si"),
        ("limits", "a", "b"),
    ],
)
def test_that_a_command_not_understood_ends_with_two_and_usage(
    run: Run, words: tuple[str, ...]
) -> None:
    ran = run(*words)
    assert ran.code == 2
    assert "usage: ductfolio" in ran.err


def test_that_a_word_that_is_neither_file_nor_command_is_named(run: Run) -> None:
    ran = run("verdikt")
    assert ran.code == 3
    assert "verdikt" in ran.err
    assert "--help" in ran.err


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="a screen is always there")
def test_that_without_a_screen_the_window_is_not_tried(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    for variable in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"):
        monkeypatch.delenv(variable, raising=False)
    ran = run()
    assert ran.code == 2
    assert "no screen" in ran.err


def test_that_the_verdict_of_a_job_that_passes_ends_with_nothing_wrong(
    run: Run, samples: Path
) -> None:
    ran = run("verdict", samples / "larkspur")
    assert ran.code == 0
    assert "54.2 cfm" in ran.out
    assert "29.7 cfm" in ran.out
    assert "Job J-0001: meets the limit" in ran.out


def test_that_a_job_with_a_failing_system_ends_with_one(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    ran = run("verdict", job_with_first_tests(samples, tmp_path, 2))
    assert ran.code == 1
    assert "System 1: meets the limit" in ran.out
    assert "System 2: does not meet the limit" in ran.out


def test_that_a_job_without_a_verdict_ends_with_one(run: Run, tmp_path: Path) -> None:
    path = tmp_path / "new.ductjob"
    job_file.write(path, Job(number="J-9"), {})
    ran = run("verdict", path)
    assert ran.code == 1
    assert "no verdict" in ran.out


def test_that_an_open_safety_stop_ends_with_one_and_is_told(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    job = job_file.read(samples / "larkspur").job
    smelled = job.safety.model_copy(update={"gas_smell": YesNo.YES})
    path = tmp_path / "smelled.ductjob"
    job_file.write(path, job.model_copy(update={"safety": smelled}), {})
    ran = run("verdict", path)
    assert ran.code == 1
    assert "Safety stop: Gas was smelled" in ran.out
    assert "The verdict speaks of duct leakage alone." in ran.out
    (told,) = json.loads((ran := run("verdict", "--json", path)).out)
    assert ran.code == 1
    assert told["verdict"] == "pass"
    assert told["safety"] == {"open": ["Gas was smelled"], "acknowledged": []}
    (plain,) = json.loads((ran := run("verdict", "--json", samples / "larkspur")).out)
    assert (ran.code, plain["safety"]) == (0, {"open": [], "acknowledged": []})
    assert "safety stop is open" in " ".join(run("--help").out.split())


def test_that_a_pass_with_something_to_mend_ends_as_its_report_does(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    ran = run("verdict", samples / "clinic")
    assert "meets the limit" in ran.out
    assert "Must be mended: Test 1 was made on May 20, 2026" in ran.out
    report = run("report", samples / "clinic", "--out", tmp_path, "--kind", "compliance")
    assert (ran.code, report.code) == (4, 4)
    assert run("verdict", samples / "larkspur", samples / "clinic").code == 4
    assert "nothing has to be mended" in " ".join(run("--help").out.split())


def test_that_a_danger_gone_past_ends_with_one_until_it_is_cleared(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    job = job_file.read(samples / "larkspur").job
    shelf = load_shelf(resources_folder(), templates_folder())
    editor = Editor(job, shelf, Preferences())
    editor.choose("safety.gas_smell", "yes")
    now, why = datetime(2026, 3, 11, 8, 40), "Valve shut by the gas company"
    assert acknowledge(editor, "gas_smell", "Kim Example", why, now) == ()
    path = tmp_path / "smelled.ductjob"
    job_file.write(path, editor.job, {})
    ran = run("verdict", path)
    assert ran.code == 1
    assert "Gas was smelled. Acknowledged by Kim Example, not cleared" in ran.out
    assert "gone past that is not cleared" in " ".join(run("--help").out.split())
    editor.choose("safety.gas_smell", "no")
    job_file.write(path, editor.job, {})
    assert run("verdict", path).code == 0


def test_that_one_bad_file_never_stops_the_rest_and_the_worst_code_counts(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    bad = tmp_path / "bad.ductjob"
    bad.write_bytes(b"not a job")
    failing = job_with_first_tests(samples, tmp_path, 2)
    ran = run("verdict", samples / "larkspur", bad, tmp_path / "gone.ductjob", failing)
    assert ran.code == 3
    assert "Job J-0001: meets the limit" in ran.out
    assert "Job J-0001: does not meet the limit" in ran.out
    assert "bad.ductjob is damaged" in ran.err
    assert "There is no file" in ran.err
    assert [line.partition(":")[0] for line in ran.err.splitlines()] == ["ductfolio"] * 2


def test_that_json_tells_the_same_numbers_unrounded(run: Run, samples: Path) -> None:
    ran = run("verdict", "--json", samples / "larkspur", samples / "maple")
    first, second = json.loads(ran.out)
    assert ran.code == 0
    assert (first["verdict"], second["verdict"]) == ("pass", "pass")
    flow = first["systems"][0]["test"]["flow"]
    assert flow["cfm"] == pytest.approx(54.1644, abs=1e-4)
    # 1 cfm = 0.4719474432 L/s from the exact foot (international yard and pound, 1959).
    assert flow["L/s"] == pytest.approx(flow["cfm"] * 0.4719474432, rel=1e-12)
    assert first["systems"][1]["limits"][0]["limit_value"] == pytest.approx(33.6)


def test_that_json_stays_json_when_a_file_cannot_be_read(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    ran = run("verdict", "--json", tmp_path / "gone.ductjob", samples / "larkspur")
    missing, good = json.loads(ran.out)
    assert ran.code == 3
    assert missing["code"] == "no-file"
    assert good["verdict"] == "pass"


def test_that_units_change_what_is_shown_and_never_the_verdict(run: Run, samples: Path) -> None:
    feet = run("verdict", "--units", "ip", samples / "clinic")
    meters = run("verdict", "--units", "si", samples / "clinic")
    assert feet.code == meters.code == 4  # the calibration of its instruments ran out
    assert "Leakage 130.4 cfm (61.5 L/s)" in feet.out
    assert "Leakage 61.5 L/s (130.4 cfm)" in meters.out


def test_that_limits_lists_every_edition_with_its_id(run: Run) -> None:
    ran = run("limits")
    assert ran.code == 0
    ids = [line.split()[0] for line in ran.out.splitlines()]
    assert {"iecc-2021", "florida", "en-16798-3"} <= set(ids)
    assert "invented" not in ran.out.casefold()
    assert len(ids) == len(set(ids))


def test_that_an_edition_is_told_with_clause_rule_and_how_well_it_is_known(run: Run) -> None:
    ran = run("limits", "iecc-2021")
    assert ran.code == 0
    assert "at most 3.0 cfm per 100 ft²" in ran.out
    assert "R403.3.6" in ran.out
    assert "compare it with the text of the code" in ran.out


def test_that_limits_as_json_can_be_read_back(run: Run) -> None:
    one = json.loads(run("limits", "iecc-2021", "--json").out)
    everything = json.loads(run("limits", "--json").out)
    assert one["id"] == "iecc-2021"
    assert one in everything


def test_that_an_unknown_edition_is_answered_with_the_known_ones(run: Run) -> None:
    ran = run("limits", "iecc-1066")
    assert ran.code == 2
    assert "iecc-1066" in ran.err
    assert "iecc-2021" in ran.err


def test_that_limits_of_the_users_own_are_listed_too(run: Run, own_settings: Path) -> None:
    own = own_settings / "limits"
    own.mkdir(parents=True)
    shipped = PROJECT / "resources" / "limits" / "sample_retrofit_program.toml"
    text = shipped.read_text(encoding="utf-8")
    (own / "mine.toml").write_text(text.replace("sample-retrofit-program", "my-own-program"))
    assert "my-own-program" in run("limits").out


def test_that_samples_are_listed_with_the_default_one_first(run: Run) -> None:
    ran = run("samples")
    assert ran.code == 0
    ids = [line.split()[0] for line in ran.out.splitlines()]
    assert ids[0] == "larkspur"
    assert set(ids) == {"larkspur", "maple", "crossover", "clinic"}


def test_that_samples_are_copied_as_job_files_and_never_over_others(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    folder = tmp_path / "deep" / "down"
    ran = run("samples", "--copy-to", folder)
    assert ran.code == 0
    paths = [Path(line) for line in ran.out.splitlines()]
    assert len(paths) == 4
    for path in paths:
        original = job_file.read(samples / path.stem)
        assert job_file.read(path).job == original.job
        assert job_file.read(path).photos == original.photos
    paths[0].write_bytes(b"mine")
    again = run("samples", "--copy-to", folder)
    assert again.code == 5
    assert again.err.count("left alone") == 4
    assert paths[0].read_bytes() == b"mine"


def test_that_a_folder_that_cannot_be_made_is_told(run: Run, tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    ran = run("samples", "--copy-to", tmp_path / "file" / "inside")
    assert ran.code == 5
    assert str(tmp_path / "file") in ran.err


def test_that_damaged_preferences_do_not_keep_a_command_from_running(
    run: Run, own_settings: Path, samples: Path
) -> None:
    own_settings.mkdir(parents=True)
    (own_settings / "preferences.json").write_text("{broken")
    ran = run("verdict", samples / "larkspur")
    assert ran.code == 0
    assert "preferences" in ran.err


def _python(*words: str, **environment: str) -> subprocess.CompletedProcess[bytes]:
    return subprocess.run(
        [sys.executable, *words],
        cwd=PROJECT,
        env={**os.environ, **environment},
        capture_output=True,
        check=False,
        timeout=60,
    )


def test_that_help_loads_none_of_the_heavy_libraries() -> None:
    code = (
        "import sys\nfrom deskapp.app.cli import main\nmain(['report', '--help'])\n"
        "heavy = {'pydantic', 'pint', 'PIL', 'reportlab', 'PySide6', 'numpy', 'scipy'}\n"
        "print('loaded:', sorted(heavy & set(sys.modules)))"
    )
    done = _python("-c", code)
    assert done.stdout.decode().splitlines()[-1] == "loaded: []"


def test_that_no_command_without_a_window_loads_qt() -> None:
    code = (
        "import sys\nfrom deskapp.app.cli import main\n"
        "main(['verdict', 'resources/sample_jobs/larkspur'])\nmain(['limits'])\n"
        "main(['samples'])\nprint('loaded:', sorted({'PySide6', 'reportlab'} & set(sys.modules)))"
    )
    done = _python("-c", code)
    assert done.stdout.decode().splitlines()[-1] == "loaded: []"


def test_that_a_terminal_with_few_signs_still_gets_every_line() -> None:
    done = _python(
        "-m", "deskapp", "verdict", "resources/sample_jobs/larkspur", PYTHONIOENCODING="ascii"
    )
    assert done.returncode == 0
    assert b"54.2 ? 60.8" in done.stdout


@pytest.mark.skipif(sys.platform == "win32", reason="pipes of Unix")
def test_that_a_reader_who_leaves_early_causes_no_noise() -> None:
    command = f'"{sys.executable}" -m deskapp limits --json | head -1; echo "${{PIPESTATUS[0]}}"'
    done = subprocess.run(
        ["bash", "-c", command], cwd=PROJECT, capture_output=True, check=False, timeout=60
    )
    assert b"Traceback" not in done.stderr
    assert b"Broken" not in done.stderr


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="a device that is always full")
def test_that_a_full_disk_under_the_output_is_told_in_words() -> None:
    with Path("/dev/full").open("w") as full:
        done = subprocess.run(
            [sys.executable, "-m", "deskapp", "limits"],
            cwd=PROJECT,
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
            timeout=60,
        )
    assert done.returncode == 5
    assert b"Traceback" not in done.stderr


@pytest.mark.parametrize("words", [(), ("larkspur",), ("--", "-odd name.ductjob")])
def test_that_without_a_command_the_window_opens_with_the_file_named(
    run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, words: tuple[str, ...]
) -> None:
    opened: list[Path | None] = []
    window = ModuleType("deskapp.app.window")

    def run_window(file: Path | None) -> int:
        opened.append(file)
        return 0

    window.__dict__["run_window"] = run_window
    monkeypatch.setitem(sys.modules, "deskapp.app.window", window)
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    monkeypatch.chdir(tmp_path)
    for name in ("larkspur", "-odd name.ductjob"):
        Path(name).touch()
    assert run(*words).code == 0
    assert opened == [Path(words[-1]) if words else None]


def test_that_a_window_that_cannot_load_is_told_in_words(
    run: Run, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "deskapp.app.window", None)
    monkeypatch.setenv("QT_QPA_PLATFORM", "offscreen")
    ran = run()
    assert ran.code == 2
    assert "window" in ran.err


def test_that_photos_of_a_job_are_exported_with_their_list(
    run: Run, samples: Path, tmp_path: Path
) -> None:
    job = samples / "larkspur"
    ran = run("photos", job, "--out", tmp_path / "new")
    assert ran.code == 0
    paths = [Path(line) for line in ran.out.splitlines()]
    assert sorted(tmp_path.joinpath("new").iterdir()) == sorted(paths)
    assert paths[-1].name == "J-0001 photos.csv"
    assert {path.read_bytes()[:2] for path in paths[:-1]} == {b"\xff\xd8"}
    again = run("photos", job, "--out", tmp_path / "new")
    assert again.code == 5
    assert "--replace" in again.err
    assert run("photos", job, "--out", tmp_path / "new", "--replace").code == 0
