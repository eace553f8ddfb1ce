"""Make the builders of this folder importable, and read templates and shelf once."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

sys.path.insert(0, str(Path(__file__).parent))

from report_jobs import ROOT, shelf_parts
from report_validator import Validator, validator_in

from deskapp.report.template import Template, read_template


@pytest.fixture(scope="session")
def homeowner() -> Template:
    return read_template(ROOT / "report_templates" / "homeowner.toml")


@pytest.fixture(scope="session")
def compliance() -> Template:
    return read_template(ROOT / "report_templates" / "compliance.toml")


@pytest.fixture(scope="session")
def technical() -> Template:
    return read_template(ROOT / "report_templates" / "technical.toml")


@pytest.fixture(scope="session")
def retest() -> Template:
    return read_template(ROOT / "report_templates" / "retest.toml")


@pytest.fixture(scope="session")
def parts() -> dict[str, object]:
    """Leak places and cautions as the program ships them."""
    return shelf_parts()


@pytest.fixture(scope="session")
def validator(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Validator]:
    """The validator of PDF/A and PDF/UA, started once."""
    with validator_in(tmp_path_factory.mktemp("conformity")) as started:
        yield started
