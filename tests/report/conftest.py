"""Make the builders of this folder importable, and read templates and shelf once."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from report_jobs import ROOT, shelf_parts

from deskapp.report.template import Template, read_template


@pytest.fixture(scope="session")
def homeowner() -> Template:
    return read_template(ROOT / "report_templates" / "homeowner.toml")


@pytest.fixture(scope="session")
def compliance() -> Template:
    return read_template(ROOT / "report_templates" / "compliance.toml")


@pytest.fixture(scope="session")
def parts() -> dict[str, object]:
    """Leak places and cautions as the program ships them."""
    return shelf_parts()
