"""What the validator of archival and accessible PDF needs besides its Python package: Java."""

import os
import shutil
from pathlib import Path

from deskapp.bootstrap import system_packages
from deskapp.bootstrap.speech import SetupError, say

# The validator's own file lacks the XML binding that Java itself no longer carries.
XML_BINDING = (
    Path("/usr/share/java/jaxb-api.jar"),
    Path("/usr/share/java/jaxb-runtime.jar"),
)
_JAVA = ("default-jdk-headless",)
_BINDING_PACKAGE = ("libjaxb-java",)


def absent() -> list[str]:
    """Return the names of what is not here: the Java compiler, files of the XML binding."""
    return [*_absent_java(), *_absent_binding()]


def is_required() -> bool:
    """Return whether conformity must be proved: in continuous integration, which sets ``CI``."""
    return os.environ.get("CI", "").lower() not in ("", "0", "false")


def ensure() -> None:
    """Install what is absent where that is allowed; else say loudly what is not proved.

    It stops nothing: the tests of the reports fail by themselves where proof is required.
    """
    missing = absent()
    if not missing:
        return
    wanted = [
        *([_JAVA] if _absent_java() else []),
        *([_BINDING_PACKAGE] if _absent_binding() else []),
    ]
    try:
        system_packages.install(
            wanted, [], f"The PDF validator needs what is not here: {', '.join(missing)}."
        )
    except SetupError as problem:
        say(f"{problem}\nNOT PROVED without it: that reports keep to PDF/A and PDF/UA.")


def _absent_java() -> list[str]:
    return [] if shutil.which("javac") else ["javac"]


def _absent_binding() -> list[str]:
    return [file.name for file in XML_BINDING if not file.is_file()]
