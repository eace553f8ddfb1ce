"""The house rules as shipped, and streams of samples made by hand. All figures are invented."""

from __future__ import annotations

import time
from collections.abc import Callable
from pathlib import Path

import pytest

from deskapp.domain.finding import Finding
from deskapp.session.live.rules import LiveRules, load_house_rules
from deskapp.session.live.sources import LineSource, ReceivedLine, SourceState
from deskapp.session.live.training_data import Training, load_training
from deskapp.units.display import Formatter, UnitSystem
from deskapp.units.numbers import NumberStyle

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="session")
def resources() -> Path:
    return ROOT / "resources"


@pytest.fixture(scope="session")
def rules(resources: Path) -> LiveRules:
    found = load_house_rules(resources)
    assert not isinstance(found, Finding), found
    return found


LONGEST_S = 10.0


@pytest.fixture
def fetch() -> Callable[[LineSource, int], list[str]]:
    """Fetches so many lines from a source, in bounded time."""

    def fetched(source: LineSource, count: int) -> list[str]:
        lines: list[str] = []
        deadline = time.monotonic() + LONGEST_S
        while len(lines) < count:
            assert time.monotonic() < deadline, f"{lines}, then {source.notice}"
            lines += [item.text for item in source.pending() if isinstance(item, ReceivedLine)]
            time.sleep(0.002)
        return lines

    return fetched


@pytest.fixture
def reach() -> Callable[[LineSource, SourceState], None]:
    """Waits until a source is in a state, in bounded time."""

    def reached(source: LineSource, state: SourceState) -> None:
        deadline = time.monotonic() + LONGEST_S
        while source.notice.state is not state:
            assert time.monotonic() < deadline, source.notice
            time.sleep(0.002)

    return reached


@pytest.fixture(scope="session")
def training(resources: Path) -> Training:
    found = load_training(resources)
    assert not isinstance(found, Finding), found
    return found


@pytest.fixture(scope="session")
def formatter() -> Formatter:
    return Formatter(UnitSystem.IP, NumberStyle.POINT)
