"""The shipped limits, read once, and the builders of this folder."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

from deskapp.limits.catalogue import Catalogue, load

sys.path.insert(0, str(Path(__file__).parent))

SHIPPED = Path(__file__).parents[2] / "resources" / "limits"


@pytest.fixture(scope="session")
def shipped() -> Catalogue:
    return load(SHIPPED)


@pytest.fixture(scope="session")
def shipped_folder() -> Path:
    return SHIPPED
