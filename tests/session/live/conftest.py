"""The house rules as shipped, and streams of samples made by hand. All figures are invented."""

from __future__ import annotations

from pathlib import Path

import pytest

from deskapp.domain.finding import Finding
from deskapp.session.live.rules import LiveRules, load_rules

ROOT = Path(__file__).resolve().parents[3]


@pytest.fixture(scope="session")
def resources() -> Path:
    return ROOT / "resources"


@pytest.fixture(scope="session")
def rules(resources: Path) -> LiveRules:
    found = load_rules(resources)
    assert not isinstance(found, Finding), found
    return found
