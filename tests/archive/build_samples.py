"""Build the sample jobs from what a tester would type (sample_entries/*.toml).

Run from the project folder: python tests/archive/build_samples.py
It writes resources/sample_jobs/<id>/job.json; a test holds that these files are what is built here.
Every typed text goes through the same reading of units as in the program.
"""

from __future__ import annotations

import tomllib
from datetime import date
from pathlib import Path
from typing import Any

from PIL import Image

from deskapp.archive.envelope import text_of
from deskapp.domain.field_spec import FieldSpec, Form
from deskapp.domain.fields import field_at
from deskapp.domain.job import Job
from deskapp.limits.catalogue import load
from deskapp.units.entry import Quantity, parse
from deskapp.units.numbers import NumberStyle

PROJECT = Path(__file__).parents[2]
ENTRIES = Path(__file__).with_name("sample_entries")
SAMPLES = PROJECT / "resources" / "sample_jobs"
LIMITS = PROJECT / "resources" / "limits"
RECORDS = ("acknowledgments", "leaving")
"""What the program writes down by itself; it stands in the entries as it is kept."""


def sample_ids() -> list[str]:
    """Return the ids of all samples."""
    return sorted(path.stem for path in ENTRIES.glob("*.toml"))


def built(sample_id: str) -> Job:
    """Return the job that the entries of a sample make."""
    entries = tomllib.loads((ENTRIES / f"{sample_id}.toml").read_text(encoding="utf-8"))
    units: str = entries.pop("units")
    chosen: list[dict[str, str]] = entries.pop("limits")
    content = _read(entries, "", units, SAMPLES / sample_id / "photos")
    content["compliance"]["limits"] = _limits(chosen)
    return Job.model_validate(content)


def _read(entry: Any, path: str, units: str, photos: Path) -> Any:
    if isinstance(entry, list) and not path.startswith(RECORDS):
        return [
            _read(row, f"{path}.{position}", units, photos) for position, row in enumerate(entry)
        ]
    if path == "sketch":
        return entry
    if isinstance(entry, dict) and "digest" in entry:
        with Image.open(photos / f"{entry['digest']}.jpg") as picture:
            return {**entry, "width": picture.width, "height": picture.height}
    if isinstance(entry, dict):
        return {
            name: _read(value, f"{path}.{name}".lstrip("."), units, photos)
            for name, value in entry.items()
        }
    if path.endswith((".key", ".note", ".item")) or path.startswith(RECORDS):
        return entry
    return _typed(entry, field_at(path), units)


def _typed(text: str, spec: FieldSpec, units: str) -> Any:
    if spec.form is Form.DAY:
        return {"value": date.fromisoformat(text), "typed": text}
    if spec.form is not Form.QUANTITY:
        return text
    assert spec.kind is not None
    assert spec.units is not None
    default = spec.units.si if units == "si" else spec.units.ip
    quantity = parse(text, spec.kind, default, NumberStyle.POINT)
    assert isinstance(quantity, Quantity), f"{spec.path}: {quantity}"
    return {"si": quantity.si, "unit": quantity.unit, "typed": quantity.typed}


def _limits(chosen: list[dict[str, str]]) -> list[dict[str, Any]]:
    catalogue = load(LIMITS)
    assert catalogue.problems == ()
    limits: list[dict[str, Any]] = []
    for position, choice in enumerate(chosen, start=1):
        edition = catalogue.edition(choice["edition"])
        assert edition is not None, choice
        limits.append(
            {
                "key": f"k{position}",
                "edition": edition.model_dump(),
                "row": choice.get("row", ""),
            }
        )
    return limits


def main() -> None:
    """Write every sample."""
    for sample_id in sample_ids():
        path = SAMPLES / sample_id / "job.json"
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(text_of(built(sample_id)))
        print(path.relative_to(PROJECT))


if __name__ == "__main__":
    main()
