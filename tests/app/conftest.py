"""The command line run inside the test, away from the settings of whoever runs it."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path

import pytest

from deskapp.app import cli, cli_start
from deskapp.i18n import ENGLISH, use_language

SAMPLES = Path(__file__).parents[2] / "resources" / "sample_jobs"


@dataclass(frozen=True)
class Ran:
    """What a command printed and how it ended."""

    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture(autouse=True)
def own_settings(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Give every test an empty settings folder, and an American locale."""
    folder = tmp_path / "settings"
    monkeypatch.setattr(cli_start, "settings_folder", lambda: folder)
    for variable in ("LC_ALL", "LC_MEASUREMENT", "LC_NUMERIC"):
        monkeypatch.delenv(variable, raising=False)
    monkeypatch.setenv("LANG", "en_US.UTF-8")
    return folder


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str]) -> Iterator[Run]:
    """Give what runs the command line with the words given, in whatever language that takes up."""

    def run_words(*words: object) -> Ran:
        code = cli.main([str(word) for word in words])
        printed = capsys.readouterr()
        assert "Traceback" not in printed.out + printed.err
        return Ran(code, printed.out, printed.err)

    yield run_words
    use_language(ENGLISH)


@pytest.fixture
def samples() -> Path:
    return SAMPLES
