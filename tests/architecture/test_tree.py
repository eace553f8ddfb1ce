"""What may stand in the tree, and what no file may name."""

from __future__ import annotations

import re
import tomllib

import pytest

TOP_LEVEL = {
    "README.md",
    "DEVELOPERS.md",
    "pyproject.toml",
    "deskapp",
    "resources",
    "report_templates",
    "tests",
}
# Written in parts, so that this file does not name what it looks for.
REGISTRY_HOSTS = [
    ".".join(parts)
    for parts in (
        ("py" + "pi", "org"),
        ("python" + "hosted", "org"),
        ("npm" + "js", "org"),
        ("npm" + "js", "com"),
        ("yarn" + "pkg", "com"),
        ("crates", "io"),
        ("deb", "debian", "org"),
        ("archive", "ubuntu", "com"),
    )
]
REGISTRY = re.compile("|".join(re.escape(host) for host in REGISTRY_HOSTS))
# An absolute path into somebody's own folders; not the path part of a web address.
MACHINE_PATH = re.compile(r"(?<![\w.:/])/(?:home|root|Users|work|mnt|srv)/\w|[A-Z]:\\+Users\\+\w")
BINARY = {
    ".ttf",
    ".png",
    ".jpg",
    ".jpeg",
    ".pdf",
    ".icc",
    ".ico",
    ".icns",
    ".mo",
    ".zip",
    ".gif",
    ".ductjob",
}


@pytest.fixture(scope="module")
def texts(root, project_files):
    """Every text file of the project, as pairs of place and text."""
    return {
        path.as_posix(): (root / path).read_text(encoding="utf-8")
        for path in project_files
        if path.suffix.lower() not in BINARY
    }


def found_in(texts, pattern):
    return [
        f"{place}:{number}: {found[0]}"
        for place, text in texts.items()
        for number, line in enumerate(text.splitlines(), 1)
        if (found := pattern.search(line))
    ]


def test_that_the_top_level_holds_only_what_belongs_there(project_files):
    names = {path.parts[0] for path in project_files}
    assert {name for name in names if not name.startswith(".")} - TOP_LEVEL == set()


def test_that_no_file_names_a_package_registry(texts):
    assert found_in(texts, REGISTRY) == []


def test_that_no_file_names_a_folder_of_somebodys_machine(texts):
    assert found_in(texts, MACHINE_PATH) == []


def test_that_the_patterns_find_what_they_look_for():
    assert all(REGISTRY.search(f"https://files.{host}/x") for host in REGISTRY_HOSTS)
    folder = "/".join(("", "home", "ann", "jobs"))
    assert MACHINE_PATH.search(f'open("{folder}")')
    assert MACHINE_PATH.search("\\".join(("C:", "Users", "ann")))
    assert not MACHINE_PATH.search("https://example.org" + folder)


def test_that_every_toml_file_parses(root, project_files):
    files = [path for path in project_files if path.suffix == ".toml"]
    assert any(path.parts[0] == "resources" for path in files)
    for path in files:
        tomllib.loads((root / path).read_text(encoding="utf-8"))
