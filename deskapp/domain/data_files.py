"""Where the data folders are: beside the package in a clone, inside it once installed."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parents[1]


def resources_folder() -> Path:
    """Return the folder with limits, sample jobs, safety texts, fonts and other resources.

    Errors: FileNotFoundError when the program was copied without its data folders.
    """
    return _data_folder("resources")


def templates_folder() -> Path:
    """Return the folder with the report templates.

    Errors: FileNotFoundError when the program was copied without its data folders.
    """
    return _data_folder("report_templates")


def _data_folder(name: str) -> Path:
    places = (_PACKAGE / "_data" / name, _PACKAGE.parent / name)
    for place in places:
        if place.is_dir():
            return place
    looked = " nor ".join(str(place) for place in places)
    raise FileNotFoundError(
        f"The folder {name} of the program is neither at {looked}. Install Ductfolio anew."
    )
