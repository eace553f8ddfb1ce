"""The step of building a wheel that compiles the catalogs, so that users need not."""

from __future__ import annotations

import sys
from pathlib import Path

from setuptools.command.build_py import build_py

ROOT = Path(__file__).resolve().parents[2]


class BuildWithCatalogs(build_py):
    """Copies packages and data, the compiled catalogs among them."""

    def run(self) -> None:
        """Compile the catalogs, then go on as usual."""
        sys.path.insert(0, str(ROOT))  # a build does not see the packages it is building
        from deskapp.catalog.gather import compile_all

        compile_all()
        super().run()
