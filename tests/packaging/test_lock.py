"""The lock files: complete, hashed, in step with pyproject.toml and free of places."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[2]
LOCKS = ("run.txt", "check.txt", "check_source.txt")
PIN = re.compile(
    r"^([A-Za-z0-9_.-]+)==(\S+)((?:.*\\\n)(?:    --hash=sha256:[0-9a-f]{64}.*\n)+)", re.M
)


def canonical(name: str) -> str:
    return re.sub(r"[-_.]+", "-", name).lower()


def read(lock: str) -> str:
    return (ROOT / ".lock" / lock).read_text(encoding="utf-8")


def pins(lock: str) -> dict[str, str]:
    """Package -> version, of every line that also carries at least one hash."""
    return {canonical(name): version for name, version, _ in PIN.findall(read(lock))}


def wanted(requirements: list[str]) -> set[str]:
    """Canonical names of requirements such as ``pint>=0.24``."""
    return {canonical(re.split(r"[<>=!~\[; ]", text)[0]) for text in requirements}


@pytest.fixture(scope="module")
def project():
    return tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))


@pytest.mark.parametrize("lock", LOCKS)
def test_that_every_package_has_a_version_and_hashes(lock):
    lines = [line for line in read(lock).splitlines() if line and line[0] not in " #"]
    assert len(lines) == len(pins(lock)) > 0


@pytest.mark.parametrize("lock", LOCKS)
def test_that_a_lock_names_no_host_no_path_and_no_option(lock):
    packages = re.sub(r" {4}(--hash=sha256:[0-9a-f]{64}| *#.*)", "", read(lock))
    assert not re.search(r"^\s*-", packages, re.M)
    assert "://" not in read(lock)
    assert not re.search(r"\s/\w|[A-Z]:\\", read(lock))


def test_that_the_locks_hold_what_the_project_asks_for(project):
    groups = project["dependency-groups"]
    assert wanted(project["project"]["dependencies"]) <= pins("run.txt").keys()
    assert wanted(groups["check"]) <= pins("check.txt").keys()
    assert wanted(groups["check-source"]) == pins("check_source.txt").keys()


def test_that_checks_run_with_the_very_versions_the_user_gets():
    assert pins("run.txt").items() <= pins("check.txt").items()
